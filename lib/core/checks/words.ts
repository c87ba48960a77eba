import type { Plan } from '../areas/plan.ts';
import { floorOf } from '../dance/clock.ts';
import type { LaidMove } from '../dance/place.ts';
import type { FloorScore } from '../edit/score.ts';
import { sectionWords } from '../edit/sectionNames.ts';
import { clock, type RecordTime } from '../units.ts';
import { cueAt } from './cues.ts';
import type { Danced, Place } from './finding.ts';

export const nowhere: Place = { recordTime: null, floorTime: null, section: null, phrase: null, count: null };

/** The place of a count of the floor score. */
export function placeOfCount(score: FloorScore, at: number): Place {
  const here = score.counts[Math.max(0, Math.min(at, score.counts.length - 1))];
  if (!here) return nowhere;
  const phrase = score.phrases[here.phrase];
  return {
    recordTime: here.record,
    floorTime: here.floor,
    section: phrase ? (score.sections[phrase.section]?.name ?? null) : null,
    phrase: phrase ? phrase.index : null,
    count: here.index,
  };
}

/** The place of a moment of the recording, which the edit may leave out; then it has no floor time. */
export function placeOfRecord(plan: Plan, score: FloorScore | null, at: RecordTime): Place {
  const floor = floorOf(plan, at);
  const here = floor === null ? null : score?.counts.findLast((c) => c.floor <= floor + 1e-6);
  if (!score || !here) return { ...nowhere, recordTime: at, floorTime: floor };
  return { ...placeOfCount(score, here.index), recordTime: at, floorTime: floor };
}

const numbers = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];
/** `two`, up to twelve; then figures. */
export const inWords = (n: number): string => numbers[n] ?? String(n);
/** `one count`, `three bars`. */
export const many = (n: number, noun: string): string => `${inWords(n)} ${noun}${n === 1 ? '' : 's'}`;
export const seconds = (s: number): string => `${Math.round(Math.abs(s) * 10) / 10} s`;
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
export const quoted = (word: string): string => `“${word}”`;

/** Where a count is, as a couple would say it: on its cue word, else by section, else by the clock. */
export function whereabouts(plan: Plan, { score }: Danced, at: number): string {
  const here = score.counts[Math.min(at, score.counts.length - 1)];
  if (!here) return 'at the end';
  const cue = cueAt(plan.cues, here.record, score.interval / 2);
  if (cue) return `on ${quoted(cue.word)}`;
  const section = score.sections.find((s) => s.counts > 0 && s.first === here.index);
  return section ? `where ${sectionWords(section)} begins` : `at ${clock(here.floor)}`;
}

export const nameOf = (laid: LaidMove): string => quoted(laid.move.name);

/** The names of who leads and who follows; plain words where nobody wrote them down. */
export function partners(plan: Plan): { lead: string; follow: string } {
  const two = plan.couple ? [plan.couple.one, plan.couple.other] : [];
  const name = (part: 'lead' | 'follow') => two.find((person) => person.part === part)?.name || `the ${part}`;
  return { lead: name('lead'), follow: name('follow') };
}
