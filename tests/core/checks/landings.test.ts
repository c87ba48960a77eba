import { describe, expect, test } from 'vitest';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { heardOf } from '../../../lib/core/checks/heard.ts';
import { lastStrong } from '../../../lib/core/checks/landings.ts';
import { sightOf } from '../../../lib/core/checks/sight.ts';
import { isStruck } from '../../../lib/core/song/attacks.ts';
import { gridFrom } from '../../../lib/core/song/correct.ts';
import { decodeFeatures } from '../../../lib/core/song/features.ts';
import { listen } from '../../../lib/core/song/listen.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { barAt, boardOf, fadeAt } from '../../kit/board.ts';
import { plainForm, synth } from '../../kit/synth.ts';
import { playedUntil } from './table.ts';

const strongIn = (board: ReturnType<typeof boardOf>) => {
  const { danced } = sightOf(board, boardScore(board.plan), heardOf(board.plan), '2027-01-10');
  return lastStrong(board.plan, danced!)?.record ?? null;
};

describe('the last strong count', () => {
  test.each([
    { bpm: 112, beats: 4, ring: 6 },
    { bpm: 132, beats: 3, ring: 5 },
    { bpm: 72, beats: 4, ring: 9 },
  ] as const)(
    'is that of the last chord, however long it rings: $bpm beats a minute, $beats a bar',
    (song) => {
      const { samples, beats, bars } = synth({ ...song, subdivision: 2, sections: plainForm.slice(0, 5) });
      const heard = listen(samples);
      if (!heard.ok) throw new Error(heard.problem.sentence);
      const { value } = heard;
      const board = boardOf({}, { grid: gridFrom(value), features: value.features, sections: [] });
      const { plan } = board;
      board.plan = {
        ...plan,
        recording: { ...plan.recording!, duration: value.duration },
        heard: { ...plan.heard!, loudness: value.loudness, lastSound: value.lastSound },
      };
      // The last chord is struck a beat after the last beat of the last bar.
      const chord = beats.at(-1)! + (beats.at(-1)! - beats.at(-2)!);
      expect(bars.at(-1)!).toBeLessThan(chord);
      expect(strongIn(board)!).toBeGreaterThan(chord - 0.07);
      expect(strongIn(board)!).toBeLessThan(chord + 0.07);
    },
  );

  test('is not in a tail, is before a fade has taken most away, and without features is no count that was made up', () => {
    expect(strongIn(boardOf({}, playedUntil(100)))).toBe(barAt(100));
    expect(strongIn(boardOf({}, { ...playedUntil(100), edit: fadeAt(barAt(60), 8) }))).toBeLessThan(
      barAt(60) + 8,
    );
    expect(strongIn(boardOf())).toBe(barAt(111));
  });
});

test('a stretch is struck where it gets louder or another chord sounds, not where it stays, dies away, or is but noise', () => {
  const table = decodeFeatures(playedUntil(100).features);
  const struck = (from: number, to: number, loudness: number | null = null) =>
    isStruck(table, recordTime(from), recordTime(to), loudness);
  const end = barAt(100);
  expect(struck(end - 10, end - 8)).toBe(true);
  expect(struck(end + 1, end + 20)).toBe(false);
  expect(struck(end + 500, end + 600)).toBe(false);
  expect(struck(end - 10, end - 8, 10)).toBe(false);
  const chord = Math.round((end + 6) / 0.25);
  for (let i = chord; i < chord + 8; i++) table.chroma[12 * i + 7] = 1;
  for (let i = chord - 8; i < chord; i++) table.chroma[12 * i] = 1;
  expect(struck(end + 5, end + 7)).toBe(true);
});
