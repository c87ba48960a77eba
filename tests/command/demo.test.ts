import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { answerState } from '../../lib/core/areas/answerState.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import { boardScore } from '../../lib/core/areas/score.ts';
import { checkBoard } from '../../lib/core/checks/checkBoard.ts';
import { solveEnding } from '../../lib/core/dance/ending.ts';
import { beatF, downbeatF, keyOk } from '../../lib/core/song/metrics.ts';
import { demoBoard, type HeardSong } from '../../server/demo/board.ts';
import { heardSong } from '../../server/demo/seed.ts';
import { layOut, truthOf } from '../../server/demo/timeline.ts';

/** The demonstration's file as it is committed, listened to as any other. */
const path = (ending: string) => new URL(`../../public/demo/tarnlight-stair.${ending}`, import.meta.url);
let song: HeardSong;
let board: Board;
beforeAll(async () => {
  song = await heardSong(await readFile(path('mp3')));
  board = demoBoard(song);
}, 120_000);

describe('the song', () => {
  it('is the one that the score in this project describes', async () => {
    const truth = truthOf(layOut());
    expect(JSON.parse(await readFile(path('truth.json'), 'utf8'))).toEqual(truth);
    expect(song.recording.duration).toBeCloseTo(truth.duration, 2);
  });

  it('is heard well enough to stand on a board', () => {
    const truth = truthOf(layOut());
    expect(beatF(truth.beats, song.listening.beats)).toBeGreaterThan(0.9);
    expect(downbeatF(truth.downbeats, song.listening.bars)).toBeGreaterThan(0.9);
    expect(keyOk(`${truth.key.tonic} ${truth.key.mode}`, song.listening.key)).toBe(true);
  });
});

describe('the board', () => {
  it('plays an edit within the couple’s wish, over one clean join, to the song’s own end', () => {
    const { target, edit } = board.plan;
    const score = boardScore(board.plan)!;
    expect(Math.abs(score.length - target!.length)).toBeLessThanOrEqual(target!.within);
    expect(score.seams.map(({ clean }) => clean)).toEqual([true]);
    expect(edit!.end.kind).toBe('own');
  });

  it('lands its closing pose on the last bells, on a signal', () => {
    const solved = solveEnding(board.plan, boardScore(board.plan)!);
    expect(solved.ok && Math.abs(solved.value.landing.secondsOff)).toBeLessThan(0.2);
    expect(solved.ok && solved.value.signal?.cue.word).toBe('bells again');
  });

  it('shows a yes to an older version', () => {
    expect(answerState(board).kind).toBe('yes to an older version');
  });

  it('gives the checks something to say, and a fix to offer, and nothing that blocks', () => {
    const findings = checkBoard(board, '2027-04-28');
    expect(findings.map(({ rule }) => rule)).toContain('runs-over');
    expect(findings.some(({ fix }) => fix !== null)).toBe(true);
    expect(findings.filter(({ severity }) => severity === 'blocks')).toEqual([]);
  });
});
