import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answerState } from '../../lib/core/agreed/answerState.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import { boardScore } from '../../lib/core/areas/score.ts';
import { checkBoard } from '../../lib/core/checks/checkBoard.ts';
import { solveEnding } from '../../lib/core/dance/ending.ts';
import { beatF, downbeatF, keyOk } from '../../lib/core/song/metrics.ts';
import { dayIn } from '../../lib/zone/dayIn.ts';
import { seedDemo } from '../../server/demo/seed.ts';
import { layOut, truthOf } from '../../server/demo/timeline.ts';
import { type House, openHouse } from '../server/house.ts';

/** The demonstration as a first start makes it: its file listened to as any other, its board through the server's own door. */
let house: House;
let id: string;
let board: Board;
beforeAll(async () => {
  house = await openHouse();
  id = await seedDemo(house.running.services);
  const read = await house.running.services.boards.read(id, 'instructor');
  if (!read.ok) throw new Error(read.problem.sentence);
  board = read.value;
}, 120_000);
afterAll(() => house.end());

describe('the song', () => {
  it('is the one that the score in this project describes', async () => {
    const truth = truthOf(layOut());
    expect(JSON.parse(await readFile('public/demo/tarnlight-stair.truth.json', 'utf8'))).toEqual(truth);
    expect(board.plan.recording!.duration).toBeCloseTo(truth.duration, 2);
  });

  it('is heard well enough to stand on a board', () => {
    const truth = truthOf(layOut());
    const { grid, heard } = board.plan;
    const bars = grid!.bars.map((i) => grid!.beats[i]!);
    expect(beatF(truth.beats, grid!.beats)).toBeGreaterThan(0.9);
    expect(downbeatF(truth.downbeats, bars)).toBeGreaterThan(0.9);
    expect(keyOk(`${truth.key.tonic} ${truth.key.mode}`, heard!.key)).toBe(true);
  });
});

describe('the board', () => {
  it('has its recording, for whoever may open it', async () => {
    const { services } = house.running;
    const file = await services.audio.of(id, board.plan.recording!.id);
    expect(file.ok && file.value.bytes).toBe(board.plan.recording!.bytes);
  });

  it('plays an edit within the couple’s wish, over one clean join, to the song’s own end', () => {
    const { target, edit } = board.plan;
    const score = boardScore(board.plan)!;
    expect(Math.abs(score.length - target!.length)).toBeLessThanOrEqual(target!.within);
    expect(score.seams.map(({ clean }) => clean)).toEqual([true]);
    expect(edit!.end.kind).toBe('own');
  });

  it('lands its closing pose on the last bells, on a signal', () => {
    const solved = solveEnding(board.plan, boardScore(board.plan)!);
    expect(solved.ok && Math.abs(solved.value.landing.secondsOff)).toBeLessThan(0.02);
    expect(solved.ok && solved.value.signal?.cue.word).toBe('bells again');
  });

  it('shows a yes to an older version', () => {
    expect(answerState(board).kind).toBe('yes to an older version');
  });

  it('gives the checks something to say, and a fix to offer, and nothing that blocks', () => {
    const findings = checkBoard(board, dayIn(board.show!.zone));
    expect(findings.map(({ rule }) => rule)).toContain('runs-over');
    expect(findings.some(({ fix }) => fix !== null)).toBe(true);
    expect(findings.filter(({ severity }) => severity === 'blocks')).toEqual([]);
  });
});
