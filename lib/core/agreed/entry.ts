import type { Board } from '../areas/board.ts';
import { dayWords, nightWords, timeWords } from '../areas/days.ts';
import type { Plan } from '../areas/plan.ts';
import { boardScore } from '../areas/score.ts';
import { type Day, dayAfter, type Instant, isTimeOfDay, type TimeOfDay, type WallTime } from '../calendar.ts';
import { floorOf } from '../dance/clock.ts';
import { solveEnding } from '../dance/ending.ts';
import { planWalkOn } from '../dance/walkOn.ts';
import { hashOf } from '../edit/canonical.ts';
import type { FloorScore } from '../edit/score.ts';
import { clock, type FloorTime } from '../units.ts';
import { asPlayed } from './copy.ts';

/** Seconds that are left for applause unless the planner says otherwise; common practice, no source. */
export const APPLAUSE = 20;

export interface EntryMoment {
  floor: FloorTime;
  /** Whole seconds from the entry's beginning: those before the music, and those in it as they are printed. */
  after: number;
  who: string;
  what: string;
}

/** The run-of-show entry as it reads: what the board says, and what the planner wrote. */
export interface EntryFacts {
  title: string;
  /** On which the entry begins: the party's, or after midnight the one after it. */
  day: Day | null;
  /** On the wall where the party is, as the planner wrote it; null while nobody did. */
  time: TimeOfDay | null;
  /** In the night that follows the day of the party. */
  afterMidnight: boolean;
  /** Both together; what its moments are on the clock, lib/zone says. */
  startsAt: WallTime | null;
  zone: string | null;
  /** Seconds before the music, of music, and for applause, and all of them: whole ones but for the music, as papers print them. */
  lead: number;
  musicLength: number | null;
  applause: number;
  total: number | null;
  /** Moments for camera, lights, MC and others, in order. */
  moments: EntryMoment[];
  /** Printed facts by their label, in the order in which they are printed. */
  facts: Record<string, string>;
  /** Of the printed facts. */
  digest: string;
  /** The planner's word that it is final, and what has changed since. */
  final: { at: Instant; by: string; outdated: boolean; differs: string[] } | null;
  /** What is not known yet, in words. */
  missing: string[];
}

/** What is missing of the closing pose: it was never chosen, or the edit leaves out its moment. */
export const POSE_MISSING = 'the closing pose';
export const POSE_LEFT_OUT = 'the closing pose, left out by the present edit';

/** What is missing of the length where the DJ's own copy is not known to hold the same music. */
export const LENGTH_OPEN = 'the length: the DJ’s own copy does not fit';

/** Whether an ending that was chosen lands on a moment that the edit leaves out. */
export const poseLeftOut = (solved: ReturnType<typeof solveEnding> | null): boolean =>
  solved?.ok === false && solved.problem.code === 'target-left-out';

/** @param score the board's, where it is at hand */
export function entryFacts(board: Board, score: FloorScore | null = boardScore(board.plan)): EntryFacts {
  const { plan, show } = board;
  const walk = score ? planWalkOn(plan, score) : null;
  const solved = score ? solveEnding(plan, score) : null;
  const { day, time, afterMidnight } = danceTime(board);
  // Each is rounded as it is printed, so that what stands on a paper adds up, and two papers never differ by a second.
  const lead = Math.round(show?.lead ?? 0);
  const applause = Math.round(show?.applause ?? APPLAUSE);
  const musicLength = score ? asPlayed(board, score.musicLength) : null;
  const total = musicLength === null ? null : lead + Math.round(musicLength) + applause;

  const moments: EntryMoment[] = [];
  const add = (at: FloorTime, who: string, what: string) => {
    const floor = asPlayed(board, at) ?? at;
    moments.push({ floor, after: lead + Math.round(floor), who, what });
  };
  if (walk?.ok) {
    if (plan.walkOn) add(walk.value.comeOnAt, coupleWords(plan), walkWords(plan));
    add(walk.value.firstStepAt, coupleWords(plan), 'first step');
  }
  if (solved?.ok) {
    const { landing, kept, led, signal } = solved.value;
    add(
      signal ? signal.floor : led.floor,
      'camera and lights',
      `the ending begins${signal ? `, on “${signal.cue.word}”` : ''}`,
    );
    const facing = plan.ending?.facing ? `, facing ${plan.ending.facing}` : '';
    add(landing.floor, coupleWords(plan), `closing pose, kept ${kept.seconds} s${facing}`);
  }
  for (const { at, who, what } of show?.moments ?? []) {
    const floor = floorOf(plan, at);
    if (floor !== null) add(floor, who, what);
  }
  moments.sort((a, b) => a.floor - b.floor);

  const length = score === null ? 'no song' : musicLength === null ? 'open' : 'known';
  const missing = missingOf(board, length, solved);
  const entry = { day, time, afterMidnight, lead, musicLength, applause, total, moments, missing };
  const facts = factsOf(board, entry);
  const digest = hashOf(facts);
  return {
    ...entry,
    title: `First dance: ${coupleWords(plan)}`,
    startsAt: day && time ? `${day}T${time}` : null,
    zone: show?.zone ?? null,
    facts,
    digest,
    final: show?.final
      ? {
          at: show.final.at,
          by: show.final.by,
          outdated: show.final.digest !== digest,
          differs: show.final.digest === digest ? [] : factsThatDiffer(show.final.facts, keptFacts(facts)),
        }
      : null,
  };
}

/** When the dance begins: its time is the planner's, its day that of the party or, after midnight, the one after it. */
export function danceTime({
  plan: { date },
  show,
}: Board): Pick<EntryFacts, 'day' | 'time' | 'afterMidnight'> {
  const time = show?.time ?? null;
  const afterMidnight = time !== null && show?.afterMidnight === true;
  return { day: date && afterMidnight ? dayAfter(date, 1) : date, time, afterMidnight };
}

/** `20:45`, and `00:30, after midnight`; empty while nobody said. */
export const announcedWords = ({ time, afterMidnight }: Pick<EntryFacts, 'time' | 'afterMidnight'>): string =>
  [timeWords(time), afterMidnight ? 'after midnight' : ''].filter(Boolean).join(', ');

/** `Noor and Elias`. */
export const coupleWords = ({ couple }: Plan): string =>
  [couple?.one.name, couple?.other.name].filter(Boolean).join(' and ') || 'the couple';

function walkWords({ walkOn }: Plan): string {
  if (!walkOn || walkOn.how === 'in place') return 'in place, take hold';
  return `walk on${walkOn.from ? ` from ${walkOn.from}` : ''}, take hold`;
}

/** Who plays the music, and who runs the evening, in words. */
export const PLAYED = { dj: 'the DJ', band: 'the band', friend: 'a friend', venue: 'the venue' } as const;
export const RUN = { planner: 'the planner', venue: 'the venue', mc: 'the MC', nobody: 'nobody' } as const;

function factsOf(
  { plan, show }: Board,
  known: Omit<EntryFacts, 'title' | 'startsAt' | 'zone' | 'facts' | 'digest' | 'final'>,
): Record<string, string> {
  const { day, time, musicLength, total } = known;
  const words = plan.recordingWords;
  const song = words
    ? [words.title, words.artist, words.version].filter(Boolean).join(', ')
    : (plan.title ?? '');
  const facts: [string, string][] = [
    ['couple', coupleWords(plan)],
    ['place', plan.venue ?? ''],
    ['starts', [day, time].filter(Boolean).join(' ')],
    ['after midnight', known.afterMidnight ? nightWords(plan.date) : ''],
    ['time zone', show?.zone ?? ''],
    ['song', song],
    ['before the music', `${known.lead} s`],
    ['music', musicLength === null ? '' : clock(musicLength)],
    ['applause', `${known.applause} s`],
    ['in all', total === null ? '' : clock(total)],
    ['music by', plan.musicBy ? PLAYED[plan.musicBy] : ''],
    ['evening run by', plan.eveningBy ? RUN[plan.eveningBy] : ''],
    ['announced by', show?.announcedBy ?? ''],
    ['last words', plan.walkOn?.lastWords ?? ''],
    ['start signal', plan.walkOn?.signal ?? ''],
    ['afterwards', show?.after ?? ''],
    ...known.moments.map(({ floor, who, what }, i): [string, string] => [
      `moment ${i + 1}`,
      `${clock(floor)} ${who}: ${what}`,
    ]),
    ['notes', show?.notes ?? ''],
    ['still open', known.missing.join(', ')],
  ];
  return Object.fromEntries(facts.filter(([, value]) => value !== ''));
}

/** Letters of a fact that are kept with the planner's "final", to say later what differs. */
const KEPT = 400;

export const keptFacts = (facts: Record<string, string>): Record<string, string> =>
  Object.fromEntries(Object.entries(facts).map(([label, value]) => [label, value.slice(0, KEPT)]));

/** A fact as people read it: the beginning is kept as an ISO date, and a time of the day. */
export function factWords(label: string, value: string): string {
  if (label !== 'starts') return value;
  const [first = '', second = ''] = value.split(' ');
  const time = [first, second].find(isTimeOfDay) ?? null;
  return [first.includes('-') ? dayWords(first) : '', timeWords(time)].filter(Boolean).join(', ');
}

const isMoment = (label: string): boolean => label.startsWith('moment ');

/** What is not as it was, with both: facts by their label, moments by what they are, since one more or less gives all that follow another number. */
export function factsThatDiffer(before: Record<string, string>, now: Record<string, string>): string[] {
  const words = (label: string, value: string | undefined) =>
    value === undefined ? 'nothing' : factWords(label, value);
  const facts = [...new Set([...Object.keys(before), ...Object.keys(now)])]
    .filter((label) => !isMoment(label) && before[label] !== now[label])
    .map((label) => `${label}: was ${words(label, before[label])}, is ${words(label, now[label])}`);
  const differs = [...facts, ...momentsThatDiffer(momentsIn(before), momentsIn(now))];
  // Only the beginnings of long ones are kept.
  return differs.length > 0 ? differs : ['the end of something long'];
}

const momentsIn = (facts: Record<string, string>): string[] =>
  Object.entries(facts).flatMap(([label, value]) => (isMoment(label) ? [value] : []));

/** `1:30` and `lights: dim` of `1:30 lights: dim`. */
const partsOf = (moment: string): [at: string, what: string] => {
  const space = moment.indexOf(' ');
  return [moment.slice(0, space), moment.slice(space + 1)];
};

/** One that is as it was is that; of the others, what has the same words has moved, and what has the same time is said otherwise. */
function momentsThatDiffer(before: readonly string[], now: readonly string[]): string[] {
  const [gone, added] = [[...before], [...now]];
  /** Takes those out of both lists that agree in something, in order. */
  const take = (alike: (moment: string) => string): [was: string, is: string][] => {
    const pairs: [string, string][] = [];
    for (const was of [...gone]) {
      const at = added.findIndex((is) => alike(is) === alike(was));
      if (at === -1) continue;
      gone.splice(gone.indexOf(was), 1);
      pairs.push([was, added.splice(at, 1)[0]!]);
    }
    return pairs;
  };
  take((moment) => moment);
  const moved = take((moment) => partsOf(moment)[1]);
  const reworded = take((moment) => partsOf(moment)[0]);
  return [
    ...moved.map(([was, is]) => `${partsOf(is)[1]}: was at ${partsOf(was)[0]}, is at ${partsOf(is)[0]}`),
    ...reworded.map(([was, is]) => `at ${partsOf(is)[0]}: was ${partsOf(was)[1]}, is ${partsOf(is)[1]}`),
    ...added.map((is) => `new: ${is}`),
    ...gone.map((was) => `no longer: ${was}`),
  ];
}

function missingOf(
  { plan, show }: Board,
  length: 'no song' | 'open' | 'known',
  solved: ReturnType<typeof solveEnding> | null,
): string[] {
  const missing: string[] = [];
  if (!plan.date) missing.push('the date');
  if (!show?.time) missing.push('the time');
  if (show?.time && !show.zone) missing.push('the time zone');
  if (length === 'no song') missing.push('the song');
  if (length === 'open') missing.push(LENGTH_OPEN);
  if (!solved?.ok) missing.push(poseLeftOut(solved) ? POSE_LEFT_OUT : POSE_MISSING);
  if (show && !show.announcedBy) missing.push('who announces it');
  return missing;
}
