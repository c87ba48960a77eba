import type { Plan } from '../areas/plan.ts';
import { boardScore } from '../areas/score.ts';
import { songDuration } from '../dance/clock.ts';
import { solveEnding } from '../dance/ending.ts';
import { laidOut } from '../dance/place.ts';
import { planWalkOn } from '../dance/walkOn.ts';
import { compileEdit } from '../edit/compile.ts';
import { wholeSong } from '../edit/edit.ts';
import type { FloorScore } from '../edit/score.ts';
import { inOrder, sectionNames } from '../edit/sectionNames.ts';
import { clock, type FloorTime, floorTime, type RecordTime, recordTime } from '../units.ts';
import type { DanceStrip } from './danceStripShape.ts';
import { cuesInRow, heardCues } from './openingCue.ts';

/** @param score the plan's, where it is at hand. null while the song's counts are not known */
export function danceStripOf(plan: Plan, score: FloorScore | null = boardScore(plan)): DanceStrip | null {
  if (!score || score.counts.length === 0) return null;
  const { length, musicLength, fade } = score;
  const cues = heardCues(plan, score);
  const solved = solveEnding(plan, score);
  const walk = planWalkOn(plan, score);
  const starts = walk.ok && plan.walkOn && plan.walkOn.how !== 'in place';
  return {
    ...{ length, musicLength, fade },
    parts: partsOf(score),
    phrases: score.phrases.map((phrase) => ({
      ...{ from: phrase.floor, to: phrase.end, part: phrase.section },
      word: cuesInRow(cues, score, { ...phrase, kind: 'phrase' }).cue?.word ?? '',
    })),
    leftOut: leftOutParts(plan, score).map(({ at, from, to, words, joined }) => ({
      ...{ at, words, joined },
      seconds: to - from,
    })),
    moves: movesOf(plan, score, solved.ok ? solved.value.moves : []),
    walk: starts ? { from: walk.value.comeOnAt, to: walk.value.firstStepAt } : null,
    firstStep: walk.ok ? walk.value.firstStepAt : null,
    pose: solved.ok ? { from: solved.value.landing.floor, to: solved.value.kept.until } : null,
  };
}

function partsOf({ sections }: FloorScore): DanceStrip['parts'] {
  const letters = [...new Set(sections.map(({ like }) => like).filter((like) => like !== ''))].sort();
  return sections.map(({ floor, end, name, like }) => ({
    ...{ from: floor, to: end, name },
    like: letters.indexOf(like) + 1,
  }));
}

type Laid = ReturnType<typeof laidOut>[number];

function movesOf(plan: Plan, score: FloorScore, ending: readonly Laid[]): DanceStrip['moves'] {
  const laid = laidOut(plan, score).filter(({ removedByEdit }) => !removedByEdit);
  return [...laid, ...ending]
    .map(({ id, part, move, at, end, lands }) => ({
      ...{ id, name: move.name, ending: part === 'ending' },
      from: floorAt(score, at),
      // A pose is danced until it lands; what is kept after that is the pose's own.
      to: floorAt(score, part === 'ending' && lands !== null ? Math.max(at, lands) : end),
    }))
    .sort((a, b) => a.from - b.from);
}

/** Of a count, also past the last one. */
function floorAt({ counts, interval, length }: FloorScore, index: number): FloorTime {
  const last = counts.at(-1)!;
  const floor = counts[index]?.floor ?? last.floor + (index - last.index) * interval;
  return floorTime(Math.min(length, floor));
}

/** A stretch of the recording that is not played. */
export interface LeftOutPart {
  from: RecordTime;
  to: RecordTime;
  /** When it would come. */
  at: FloorTime;
  /** "verse 2 and chorus 2, 1:26" */
  words: string;
  /** Music is joined over it; else it lies before the beginning or after the end. */
  joined: boolean;
  /** The same while its ends are moved: 0 before the music, 1 at its first join, and so on. */
  gap: number;
}

/** Less than this, in seconds, is a trim that nobody asks about. */
const LEAST = 0.5;

/** What the edit leaves out, in the order of the recording. */
export function leftOutParts(plan: Plan, score: FloorScore): LeftOutPart[] {
  const duration = songDuration(plan);
  const { spans, length } = compileEdit(plan.edit ?? wholeSong, { duration });
  const edges = [0, ...spans.flatMap(({ from, to }) => [from, to]), duration];
  const parts: LeftOutPart[] = [];
  for (let i = 0; i < edges.length; i += 2) {
    const from = recordTime(edges[i]!);
    const to = recordTime(edges[i + 1]!);
    if (to - from < LEAST) continue;
    const gap = i / 2;
    parts.push({
      ...{ from, to, gap },
      at: gap === 0 ? floorTime(0) : (spans[gap]?.floor ?? length),
      words: `${namesOf(plan, from, to, duration)}${clock(to - from)}`,
      joined: gap > 0 && gap < spans.length && score.seams[gap - 1] !== undefined,
    });
  }
  return parts;
}

/** "verse 2, pre-chorus 2 and part of chorus 2, "; empty where no section is known. */
function namesOf(plan: Plan, from: number, to: number, duration: number): string {
  const sections = inOrder(plan.sections);
  const names = sectionNames(sections);
  const parts = sections.flatMap(({ id, start }, i) => {
    const end = sections[i + 1]?.start ?? duration;
    const share = (Math.min(end, to) - Math.max(start, from)) / (end - start);
    if (share < 0.1) return [];
    return [share < 0.9 ? `part of ${names.get(id)}` : names.get(id)!];
  });
  if (parts.length === 0) return '';
  const last = parts.at(-1)!;
  return `${parts.length > 1 ? `${parts.slice(0, -1).join(', ')} and ${last}` : last}, `;
}
