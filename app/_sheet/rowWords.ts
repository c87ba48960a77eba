import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { RowInk } from '@/lib/core/handover/sheetInk.ts';
import type { SheetRow } from '@/lib/core/handover/sheetRows.ts';
import { clock } from '@/lib/core/units.ts';
import { said } from './said.ts';

interface Happening {
  at: number;
  words: string;
}

/**
 * A row as it is read aloud, in the order in which it is danced: "8 bars. At the start: balance steps, twice. After 4 bars: the
 * basic." Its time and its word stand before it on the page.
 */
export function rowWords(score: FloorScore, row: SheetRow, ink: RowInk): string {
  const whens = new Map<number, string[]>();
  for (const { at, words } of happenings(row, ink).sort((a, b) => a.at - b.at))
    whens.set(at, [...(whens.get(at) ?? []), words]);
  const parts = [...whens].map(([at, words]) => `${when(score, row, at)}: ${words.join(', and ')}.`);
  return [`${lengthOf(score, row)}.`, ...parts].join(' ');
}

/** How a row is called where its parts are read aloud one by one. */
export const rowName = ({ floor }: Pick<SheetRow, 'floor'>, { cue }: Pick<RowInk, 'cue'>): string =>
  cue ? `the row of “${cue.word}”` : `the row from ${clock(floor)}`;

function happenings(row: SheetRow, ink: RowInk): Happening[] {
  const { walkWords, walk, firstStep, landing, hold } = ink;
  return [
    ...ink.seams.map(({ at, clean }) => ({
      at,
      words: clean ? 'a join, on the beat' : 'a join, off the beat',
    })),
    ...(walkWords ? [walkWords] : walk ? [{ at: walk.from, words: 'coming on' }] : []),
    ...(firstStep === null ? [] : [{ at: firstStep, words: 'the first step' }]),
    ...ink.basics.map(({ from }) => ({ at: from, words: 'the basic' })),
    ...ink.ribbons.map(({ from, label, begins, outline }) => ({
      at: from,
      words: `${label}${begins ? '' : ' goes on'}${outline && begins ? ', which does not fit' : ''}`,
    })),
    ...ink.words.map(({ at, word }) => ({
      at: Math.max(row.first, Math.round(at)),
      words: `“${word}” is heard`,
    })),
    ...(landing ? [landing] : hold ? [{ at: hold.from, words: 'the pose is kept' }] : []),
  ];
}

function lengthOf(score: FloorScore, { counts }: SheetRow): string {
  const bars = Math.floor(counts / score.countsPerBar);
  const rest = counts % score.countsPerBar;
  const left = rest > 0 ? plural(rest, 'count') : '';
  return [bars > 0 ? plural(bars, 'bar') : '', left].filter((part) => part).join(' and ');
}

function when(score: FloorScore, row: SheetRow, at: number): string {
  const offset = Math.floor(at) - row.first;
  if (offset <= 0) return 'At the start';
  const bars = Math.floor(offset / score.countsPerBar);
  const count = score.counts[Math.floor(at)];
  const onCount = offset % score.countsPerBar === 0 || !count ? '' : `on count ${said(score, count)}`;
  if (bars === 0) return onCount ? `O${onCount.slice(1)}` : 'At the start';
  return `After ${plural(bars, 'bar')}${onCount ? `, ${onCount}` : ''}`;
}

const plural = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`;
