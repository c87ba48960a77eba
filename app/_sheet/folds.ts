import type { Plan } from '@/lib/core/areas/plan.ts';
import { boardScore } from '@/lib/core/areas/score.ts';
import type { Danced } from '@/lib/core/checks/finding.ts';
import { joinFigures } from '@/lib/core/checks/seams.ts';
import type { FloorScore, FloorSeam } from '@/lib/core/edit/score.ts';
import { leftOutParts } from '@/lib/core/handover/danceStrip.ts';
import { rowOf, type SheetRow } from '@/lib/core/handover/sheetRows.ts';
import type { FeatureTable } from '@/lib/core/song/features.ts';
import type { RecordTime } from '@/lib/core/units.ts';

/** A part of the recording that is not played, folded away between two rows. */
export interface Fold {
  /** The same while its ends are moved. */
  id: string;
  from: RecordTime;
  to: RecordTime;
  /** Index of the row after which it lies; -1 before the first. */
  after: number;
  /** "left out: verse 2 and chorus 2, 1:26" */
  words: string;
  /** What the join is like; null at the beginning and the end, where nothing is joined. */
  join: { words: string; clean: boolean } | null;
}

/** @param heard the decoded features; null without */
export function foldsOf(
  plan: Plan,
  score: FloorScore,
  rows: readonly SheetRow[],
  danced: Danced | null,
  heard: FeatureTable | null,
): Fold[] {
  return leftOutParts(plan, score).map(({ from, to, words, gap, joined }) => {
    const seam = joined ? score.seams[gap - 1]! : null;
    return {
      id: `left out ${gap}`,
      ...{ from, to },
      after: gap === 0 ? -1 : seam ? rowBefore(rows, seam.next) : rows.length - 1,
      words: `left out: ${words}`,
      join: seam ? joinWords(plan, seam, danced, heard) : null,
    };
  });
}

/** The row that the join closes or runs through. */
function rowBefore(rows: readonly SheetRow[], next: number): number {
  const row = rowOf(rows, next);
  if (row < 0) return rows.length - 1;
  return rows[row]!.first === next ? row - 1 : row;
}

/** A step that is just noticed, LU (second-hand: about 1 dB). */
const SAME_LEVEL = 1;

/** "join: on the beat, the harmony goes on, same level", as it is measured; without the music's features only the beat. */
function joinWords(
  plan: Plan,
  seam: FloorSeam,
  danced: Danced | null,
  heard: FeatureTable | null,
): Fold['join'] {
  const cut = plan.edit?.cuts.find(({ to }) => to === seam.to);
  const parts = [beatWords(seam, cut?.beatErrorMs)];
  let clean = seam.clean;
  if (cut && danced && heard) {
    const { figures, usual } = joinFigures(danced, heard, cut);
    const step = figures.levelStepLu;
    const goesOn = figures.harmony <= usual.most.harmony;
    const level = Math.abs(step) < SAME_LEVEL;
    parts.push(goesOn ? 'the harmony goes on' : 'the harmony jumps');
    parts.push(level ? 'same level' : `${Math.abs(step).toFixed(1)} LU ${step > 0 ? 'louder' : 'softer'}`);
    clean &&= goesOn;
  }
  return { words: `join: ${parts.join(', ')}`, clean };
}

function beatWords({ clean, countsOff, off }: FloorSeam, measuredMs: number | undefined): string {
  if (clean)
    return measuredMs === undefined ? 'on the beat' : `on the beat (${Math.abs(measuredMs).toFixed(0)} ms)`;
  if (countsOff === 0) return `${Math.round(Math.abs(off) * 1000)} ms off the beat`;
  const counts = Math.abs(countsOff);
  return `${counts} ${counts === 1 ? 'count' : 'counts'} ${countsOff < 0 ? 'missing' : 'too many'} in the bar`;
}

/** A phrase of what is left out, as the opened fold shows it; times are of the recording. */
export interface LeftOutRow {
  id: string;
  section: string;
  opens: boolean;
  at: RecordTime;
  word: string;
  bars: number;
}

export function leftOutRows(plan: Plan, { from, to }: Pick<Fold, 'from' | 'to'>): LeftOutRow[] {
  const whole = boardScore({ ...plan, edit: null });
  if (!whole) return [];
  const half = whole.interval / 2;
  return whole.phrases
    .filter(({ record }) => record >= from - half && record < to - half)
    .map(({ index, section, first, record, counts }) => ({
      id: `out-${index}`,
      section: whole.sections[section]?.name ?? '',
      opens: whole.sections[section]?.first === first,
      at: record,
      word: plan.cues.find((cue) => Math.abs(cue.at - record) < 2 * whole.interval)?.word ?? '',
      bars: Math.round(counts / whole.countsPerBar),
    }));
}
