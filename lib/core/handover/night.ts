import { coupleWords, poseLeftOut } from '../agreed/entry.ts';
import { planB } from '../agreed/planB.ts';
import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import { boardScore } from '../areas/score.ts';
import { generalCaution } from '../dance/cautions.ts';
import { floorOf } from '../dance/clock.ts';
import { solveEnding } from '../dance/ending.ts';
import { laidOut } from '../dance/place.ts';
import { planWalkOn } from '../dance/walkOn.ts';
import type { FloorScore } from '../edit/score.ts';
import { sectionWords } from '../edit/sectionNames.ts';
import type { FloorTime } from '../units.ts';
import { moveWords, walkOnWords } from './moveWords.ts';

interface NightRow {
  floor: FloorTime;
  /** What they listen for; empty where nothing is marked. */
  word: string;
  /** A sound and not a sung word: the screens put it in brackets or plain. */
  isSung: boolean;
  does: string;
  /** What is left of the dance once the ending has begun. */
  ending: boolean;
  /** The closing pose itself. */
  landing?: true;
}

/** One phone screen for the night: what to listen for, and what to do then. */
export interface NightCard {
  title: string;
  couple: string;
  musicLength: FloorTime;
  rows: NightRow[];
  /** Said where the edit leaves out the moment of the closing pose; empty else. */
  poseLost: string;
  lost: string;
  planB: string;
  caution: string;
}

/** null until the song's counts are known. */
export function nightCard(board: Board): NightCard | null {
  const { plan } = board;
  const score = boardScore(plan);
  if (!score || score.counts.length === 0) return null;
  const rows: NightRow[] = [];
  const add = (floor: FloorTime, does: string, ending = false) =>
    rows.push({ floor, ...heardAt(plan, score, floor), does, ending });
  const walk = planWalkOn(plan, score);
  if (walk.ok) {
    const { walkOn } = plan;
    if (walkOn && walkOn.how !== 'in place') add(walk.value.comeOnAt, walkOnWords(walkOn));
    add(walk.value.firstStepAt, 'first step');
  }
  for (const laid of laidOut(plan, score).filter((one) => !one.removedByEdit)) {
    add(score.counts[laid.at]!.floor, moveWords(laid));
  }
  const solved = solveEnding(plan, score);
  if (solved.ok) {
    const { signal, led, moves } = solved.value;
    const names = moves.map(moveWords);
    const order = names.length > 1 ? `${names.slice(0, -1).join(', ')}, then the ${names.at(-1)}` : names[0]!;
    const row = { does: order, ending: true };
    if (signal) rows.push({ floor: signal.floor, word: signal.cue.word, isSung: true, ...row });
    else add(led.floor, row.does, true);
    const { landing, kept } = solved.value;
    const facing = plan.ending?.facing ? `, facing ${plan.ending.facing}` : '';
    const word = plan.cues.find(({ id }) => id === plan.ending?.target.cue)?.word ?? '';
    const pose = { does: `closing pose, kept ${kept.seconds} s${facing}`, ending: true };
    rows.push({ floor: landing.floor, word, isSung: word !== '', ...pose, landing: true });
  }
  rows.sort((a, b) => a.floor - b.floor);
  const last = solved.ok ? solved.value.moves.at(-1)!.move : null;
  const safe = last?.saferForm ? ` The ${last.name.toLowerCase()} is fine as a lean.` : '';
  return {
    title: plan.title || 'First dance',
    couple: coupleWords(plan),
    musicLength: score.musicLength,
    rows,
    poseLost: poseLeftOut(solved) ? 'The closing pose is left out by the present edit.' : '',
    lost: `Lost? Basic step until the next word above.${safe}`,
    planB: planB(plan, 'couple'),
    caution: generalCaution,
  };
}

/**
 * The cue word of a moment, within half a count; else the section that begins then, or how far into one it is: its bare name
 * would send them off at its beginning.
 */
function heardAt(plan: Plan, score: FloorScore, at: FloorTime): { word: string; isSung: boolean } {
  const half = score.interval / 2;
  const cue = plan.cues.find((c) => Math.abs((floorOf(plan, c.at) ?? Number.POSITIVE_INFINITY) - at) <= half);
  if (cue) return { word: cue.word, isSung: true };
  const section = score.sections.findLast((s) => s.floor <= at + half);
  if (!section) return { word: '', isSung: false };
  if (at - section.floor <= half) return { word: section.name, isSung: false };
  const into = (at - section.floor) / (section.end - section.floor);
  const part = into < 1 / 3 ? 'early' : into < 2 / 3 ? 'midway' : 'late';
  return { word: `${part} in ${sectionWords(section)}`, isSung: false };
}
