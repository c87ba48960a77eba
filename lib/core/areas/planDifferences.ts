import { floorOf } from '../dance/clock.ts';
import { solveEnding } from '../dance/ending.ts';
import { beginningWords } from '../dance/floorWords.ts';
import { usualWalkOn } from '../dance/walkOn.ts';
import { same } from '../edit/canonical.ts';
import { editDifferences } from '../edit/differences.ts';
import { wholeSong } from '../edit/edit.ts';
import { sectionNames } from '../edit/sectionNames.ts';
import { clock, type RecordTime } from '../units.ts';
import { facts, fieldsWith } from './field.ts';
import { type Plan, planShape } from './plan.ts';
import { boardScore } from './score.ts';

/** What has changed from one state of a plan to another, song first, each in a sentence that a couple understands. */
export function planDifferences(before: Plan, now: Plan): string[] {
  return [
    ...songDifferences(before, now),
    ...wordDifferences(before, now),
    ...knownDifferences(before, now),
    ...placedDifferences(before, now),
    ...walkDifferences(before, now),
    ...endingDifferences(before, now),
    ...floorDifferences(before, now),
    ...otherDifferences(before, now),
  ];
}

/** Fields that have words of their own above, or go with one that has. */
const TOLD: readonly (keyof Plan)[] = [
  ...(['recording', 'heard', 'grid', 'phraseBars', 'sections', 'edit', 'target', 'cues'] as const),
  ...(['moves', 'placed', 'walkOn', 'ending', 'beginsAt', 'stride'] as const),
];

/** Of every other field of song and dance, that it was changed: so none is changed without a word. */
function otherDifferences(before: Plan, now: Plan): string[] {
  const fields = { ...planShape.registers, ...planShape.collections };
  const names = (['song', 'dance'] as const).flatMap((of) => fieldsWith(fields, { of }));
  return names
    .filter((name) => !TOLD.includes(name) && !same(before[name], now[name]))
    .map((name) => `Changed: ${fields[name][facts].called}.`);
}

/** Times of the song as it is played. */
function at(plan: Plan, time: RecordTime): string {
  const floor = floorOf(plan, time);
  return floor === null ? `a place that is left out (${clock(time)} of the recording)` : clock(floor);
}

function songDifferences(before: Plan, now: Plan): string[] {
  const words: string[] = [];
  if (before.recording?.id !== now.recording?.id) words.push('The recording is another file.');
  if (!same(counted(before), counted(now))) words.push('Beats and bars were corrected.');
  if (before.phraseBars !== now.phraseBars && now.phraseBars)
    words.push(`A phrase now has ${barWords(now.phraseBars)}.`);
  if (!same(before.sections, now.sections)) words.push(...sectionDifferences(before, now));
  words.push(...editDifferences(before.edit ?? wholeSong, now.edit ?? wholeSong));
  const [was, is] = [boardScore(before)?.length, boardScore(now)?.length];
  if (was !== undefined && is !== undefined && clock(was) !== clock(is))
    words.push(`As played it takes ${clock(is)}; it was ${clock(was)}.`);
  const wanted = now.target && `The wanted length is ${clock(now.target.length)}.`;
  if (!same(before.target, now.target)) words.push(wanted ?? 'No length is wanted any more.');
  return words;
}

/** Its counts, whoever has confirmed them. */
const counted = ({ grid }: Plan) => grid && { ...grid, confirmedBy: null };

function sectionDifferences(before: Plan, now: Plan): string[] {
  const was = sectionNames(before.sections);
  const is = sectionNames(now.sections);
  const sections = new Map(before.sections.map((section) => [section.id, section]));
  const words = now.sections.flatMap(({ id, start, phraseBars }) => {
    const [then, name] = [sections.get(id), is.get(id)!];
    if (then === undefined) return [`A section was added: ${name}.`];
    const changed: string[] = [];
    if (then.start !== start)
      changed.push(`${capital(name)} begins at ${at(now, start)}; it was ${at(before, then.start)}.`);
    else if (was.get(id) !== name) changed.push(`${capital(was.get(id)!)} is now called ${name}.`);
    if (then.phraseBars !== phraseBars)
      changed.push(
        `In ${name} a phrase has ${phraseBars === null ? 'as many bars as in the song' : barWords(phraseBars)}.`,
      );
    return changed;
  });
  const gone = before.sections.filter(({ id }) => !is.has(id)).map(({ id }) => was.get(id)!);
  return [...words, ...gone.map((name) => `A section was taken away: ${name}.`)];
}

const barWords = (bars: number): string => `${bars} ${bars === 1 ? 'bar' : 'bars'}`;

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

function wordDifferences(before: Plan, now: Plan): string[] {
  const was = new Map(before.cues.map((cue) => [cue.id, cue]));
  const is = new Set(now.cues.map(({ id }) => id));
  const words = now.cues.flatMap(({ id, at: time, word }) => {
    const then = was.get(id);
    if (!then) return [`A word to listen for: “${word}” at ${at(now, time)}.`];
    if (then.word !== word) return [`The word at ${at(now, time)} is “${word}”; it was “${then.word}”.`];
    return then.at === time ? [] : [`“${word}” is heard at ${at(now, time)}; it was ${at(before, then.at)}.`];
  });
  const gone = before.cues.filter(({ id }) => !is.has(id));
  return [...words, ...gone.map(({ word }) => `No longer a word to listen for: “${word}”.`)];
}

/** Moves that the couple know. */
function knownDifferences(before: Plan, now: Plan): string[] {
  const was = new Map(before.moves.map((move) => [move.id, move]));
  const is = new Set(now.moves.map(({ id }) => id));
  const words = now.moves.flatMap((move) => {
    const then = was.get(move.id);
    if (!then) return [`New among the moves: ${move.name}.`];
    return same(then, move) ? [] : [`${move.name} is described differently.`];
  });
  const gone = before.moves.filter(({ id }) => !is.has(id));
  return [...words, ...gone.map(({ name }) => `No longer among the moves: ${name}.`)];
}

function placedDifferences(before: Plan, now: Plan): string[] {
  const names = new Map([...before.moves, ...now.moves].map(({ id, name }) => [id, name]));
  const nameOf = (move: string) => names.get(move) ?? 'A move';
  const was = new Map(before.placed.map((one) => [one.id, one]));
  const is = new Set(now.placed.map(({ id }) => id));
  const inTime = [...now.placed].sort((a, b) => a.at - b.at);
  const words = inTime.flatMap((one) => {
    const then = was.get(one.id);
    const name = nameOf(one.move);
    if (!then) return [`${name} was put at ${at(now, one.at)}.`];
    const changed: string[] = [];
    if (then.move !== one.move)
      changed.push(`At ${at(now, one.at)} it is ${name}; it was ${nameOf(then.move)}.`);
    if (then.at !== one.at) changed.push(`${name} moved from ${at(before, then.at)} to ${at(now, one.at)}.`);
    if (then.times !== one.times)
      changed.push(
        `${name} at ${at(now, one.at)} is danced ${often(one.times)}; it was ${often(then.times)}.`,
      );
    return changed;
  });
  const gone = before.placed.filter(({ id }) => !is.has(id)).sort((a, b) => a.at - b.at);
  return [...words, ...gone.map((one) => `${nameOf(one.move)} at ${at(before, one.at)} was taken away.`)];
}

const often = (times: number): string => (times === 1 ? 'once' : times === 2 ? 'twice' : `${times} times`);

function walkDifferences(before: Plan, now: Plan): string[] {
  if (same(before.walkOn, now.walkOn)) return [];
  const [was, is] = [before.walkOn ?? usualWalkOn, now.walkOn ?? usualWalkOn];
  const words: string[] = [];
  if (was.firstStep !== is.firstStep)
    words.push(
      is.firstStep === null
        ? 'No first step is chosen any more.'
        : `The first step is at ${at(now, is.firstStep)}${was.firstStep === null ? '' : `; it was ${at(before, was.firstStep)}`}.`,
    );
  if (!same({ ...was, firstStep: null }, { ...is, firstStep: null }))
    words.push('How the couple come on was changed.');
  return words;
}

function endingDifferences(before: Plan, now: Plan): string[] {
  if (same(before.ending, now.ending)) return [];
  if (!now.ending) return ['The ending was taken away.'];
  const [was, is] = [before, now].map((plan) => {
    const score = boardScore(plan);
    const solved = score && solveEnding(plan, score);
    return solved?.ok ? clock(solved.value.landing.floor) : null;
  });
  const words: string[] = [];
  if (is && is !== was) words.push(`The closing pose lands at ${is}${was ? `; it was ${was}` : ''}.`);
  const moves = (plan: Plan) => plan.ending?.moves ?? [];
  if (!same(moves(before), moves(now))) {
    const names = moves(now).map((id) => now.moves.find((move) => move.id === id)?.name ?? 'a move');
    words.push(names.length > 0 ? `The ending is now ${names.join(', ')}.` : 'The ending has no moves.');
  }
  return words.length > 0 ? words : ['The ending was changed in its details.'];
}

function floorDifferences(before: Plan, now: Plan): string[] {
  const words: string[] = [];
  if (!same(before.beginsAt, now.beginsAt))
    words.push(
      now.beginsAt
        ? `The dance begins ${beginningWords(now.beginsAt)}.`
        : 'Nobody has said any more where on the floor the dance begins.',
    );
  if (before.stride !== now.stride)
    words.push(
      now.stride ? `A step is ${Math.round(now.stride * 100)} cm.` : 'The length of a step is open again.',
    );
  return words;
}
