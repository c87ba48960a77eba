import type { Board } from '../areas/board.ts';
import { dayWords } from '../areas/days.ts';
import type { Plan } from '../areas/plan.ts';
import { boardScore } from '../areas/score.ts';
import { rightsCaution } from '../dance/cautions.ts';
import { floorOf, songDuration } from '../dance/clock.ts';
import { solveEnding } from '../dance/ending.ts';
import { compileEdit } from '../edit/compile.ts';
import { SILENT_END } from '../edit/render.ts';
import { clock, type FloorTime, floorTime, type RecordTime, recordTime } from '../units.ts';
import { type PlayClock, playClock } from './clocks.ts';
import { asPlayed } from './copy.ts';
import { announcedWords, coupleWords, danceTime, PLAYED, poseLeftOut } from './entry.ts';
import { type DjJoin, joinsOf } from './joins.ts';
import { planB } from './planB.ts';
import { type Plays, playedEdit } from './played.ts';
import { versionWords } from './version.ts';

type FiveLines = [string, string, string, string, string];

/**
 * A moment as the DJ reads it, everywhere alike: to a tenth of a second in an own copy, where they act by hand, to the second in the
 * finished file.
 */
export const momentWords = ({ plays }: Pick<DjFacts, 'plays'>, seconds: number): string =>
  clock(seconds, plays === 'own copy' ? 1 : 0);

/** What the DJ plays, all times on one clock, which is named. */
export interface DjFacts {
  plays: Plays;
  clockOf: PlayClock['name'];
  /** Of the song; empty while it has no name. */
  title: string;
  couple: string;
  /** Who plays the music: as long as nobody has said, it is the DJ. */
  musicBy: string;
  date: string;
  venue: string;
  /** When the dance is announced, where the party is: `20:45`, or `00:30, after midnight`; empty while it is open. */
  announced: string;
  /** As people count them; null for a draft that nobody has spoken of. */
  version: number | null;
  /** Artist, title, version, and full length of the recording. */
  song: string;
  /** On the clock of the DJ's own copy where that is played. */
  fullLength: number;
  source: string;
  fileName: string;
  /** The finished file with its silent second, and the music in it. */
  fileLength: number;
  musicLength: number;
  start: { at: number; signal: string; lastWords: string; where: string };
  joins: DjJoin[];
  fade: { from: number; gone: number; byHand: boolean } | null;
  lastHeard: string;
  /** The song is left before its last sound, and nothing fades. */
  stopsInside: boolean;
  closingPose: { at: number; on: string; kept: number } | null;
  /** One was chosen, and the edit leaves out its moment. */
  poseLeftOut: boolean;
  /** Nothing is stopped before this. */
  ringTo: number;
  /** What follows; empty while nobody has said. */
  after: string;
  /** Integrated loudness of the recording, LUFS; null when it was not heard. */
  loudness: number | null;
  speed: number;
  /** Three words with their times, to check by ear that it is the right version. */
  byEar: { word: string; at: number }[];
  planB: string;
  lines: FiveLines;
  cautions: string[];
}

/**
 * @param version number of the version as people count them
 * @param plays overrides what the DJ said they play
 */
export function djFacts(board: Board, version: number | null, plays: Plays | null = null): DjFacts {
  const { plan, show } = board;
  const edit = playedEdit(plan);
  const clocks = playClock(board, plays);
  const score = boardScore(plan);
  const duration = songDuration(plan);
  const compiled = compileEdit(edit, { duration });
  const solved = score ? solveEnding(plan, score) : null;
  const musicLength = score?.musicLength ?? compiled.length;
  const start = compiled.spans[0]?.from ?? edit.start;
  const cue = plan.cues.find(({ id }) => id === plan.ending?.target.cue);
  const leaves = compiled.spans.at(-1)?.to ?? 0;
  // A tenth of a second is the song's own last breath.
  const stopsInside = edit.end.kind === 'own' && leaves < (plan.heard?.lastSound ?? duration) - 0.1;
  const byHand = edit.end.kind === 'fade' && edit.end.byHand;
  const facts: Omit<DjFacts, 'lines'> = {
    plays: clocks.plays,
    clockOf: clocks.name,
    title: plan.title || plan.recordingWords?.title || '',
    couple: coupleWords(plan),
    musicBy: PLAYED[plan.musicBy ?? 'dj'],
    date: dayWords(plan.date),
    venue: plan.venue ?? '',
    announced: announcedWords(danceTime(board)),
    version,
    song: songWords(plan),
    fullLength: clocks.plays === 'own copy' ? (clocks.ofRecord(recordTime(duration)) ?? duration) : duration,
    source: plan.recordingWords?.source ?? '',
    fileName: fileName(plan, version, compiled.length + SILENT_END),
    fileLength: compiled.length + SILENT_END,
    musicLength: asPlayed(board, musicLength, clocks.plays) ?? musicLength,
    start: {
      at: clocks.ofRecord(start) ?? 0,
      signal: plan.walkOn?.signal ?? '',
      lastWords: plan.walkOn?.lastWords ?? '',
      where: plan.walkOn?.from ?? '',
    },
    joins: joinsOf(plan, clocks),
    fade: compiledFade(board, clocks, compiled.length, score?.fade?.from ?? null, byHand),
    lastHeard: lastHeard(plan, musicLength, stopsInside),
    stopsInside,
    closingPose: solved?.ok
      ? {
          at: clocks.ofFloor(solved.value.landing.floor),
          on: cue?.word ?? '',
          kept: solved.value.kept.seconds,
        }
      : null,
    poseLeftOut: poseLeftOut(solved),
    ringTo: clocks.ofFloor(musicLength),
    after: show?.after ?? '',
    loudness: plan.heard?.loudness ?? null,
    speed: edit.speed,
    byEar: byEar(plan, clocks),
    planB: planB(plan, 'DJ'),
    cautions: [rightsCaution],
  };
  return { ...facts, lines: fiveLines(facts) };
}

function songWords(plan: Plan): string {
  const words = plan.recordingWords;
  const named = words
    ? [words.artist, words.title, words.version].filter(Boolean).join(', ')
    : (plan.title ?? '');
  return named || 'the song';
}

/** `First dance Noor Elias v3 3.09.mp3`: couple, version (or `draft`) and length as a player shows it; only what every file system takes. */
export function fileName(plan: Plan, version: number | null, fileLength: number): string {
  const names = [plan.couple?.one.name, plan.couple?.other.name].filter(Boolean).join(' ');
  const safe = names.replace(/[\\/:*?"<>|\p{Cc}]/gu, '').trim();
  return `First dance${safe ? ` ${safe}` : ''} ${version === null ? 'draft' : `v${version}`} ${clock(fileLength).replace(':', '.')}.mp3`;
}

function compiledFade(
  board: Board,
  clocks: PlayClock,
  length: FloorTime,
  from: FloorTime | null,
  byHand: boolean,
): DjFacts['fade'] {
  const { end } = playedEdit(board.plan);
  if (end.kind !== 'fade') return null;
  const begins = from ?? floorOf(board.plan, end.from) ?? floorTime(Math.max(0, length - end.length));
  return { from: clocks.ofFloor(begins), gone: clocks.ofFloor(length), byHand };
}

/** What is heard last: the last cue word within twelve seconds of the end, else the kind of ending. */
function lastHeard(plan: Plan, musicLength: number, stopsInside: boolean): string {
  const heard = plan.cues
    .flatMap(({ at, word }) => {
      const floor = floorOf(plan, at);
      return floor === null ? [] : [{ floor, word }];
    })
    .sort((a, b) => b.floor - a.floor)[0];
  const near = heard && musicLength - heard.floor <= 12 ? `“${heard.word}”` : '';
  if (playedEdit(plan).end.kind === 'fade') return near ? `${near}, fading` : 'the fade';
  if (stopsInside) return near || 'the music in full';
  return near ? `${near}, then the last chord` : 'the last chord';
}

/** The first, the middle and the last of the words that are played. */
function byEar(plan: Plan, clocks: PlayClock): { word: string; at: number }[] {
  const played = plan.cues
    .filter(({ at }) => floorOf(plan, at) !== null)
    .sort((a, b) => a.at - b.at)
    .map(({ word, at }) => ({ word, at: clocks.ofRecord(at as RecordTime) ?? 0 }));
  if (played.length <= 3) return played;
  return [played[0]!, played[Math.floor(played.length / 2)]!, played.at(-1)!];
}

/** What somebody wrote may run over several lines. */
const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim();

/** Everything as five lines, for a chat or a note on the desk. */
export function fiveLines(facts: Omit<DjFacts, 'lines'>): FiveLines {
  const { start, fade, closingPose, after } = facts;
  const own = facts.plays === 'own copy';
  const at = (seconds: number) => momentWords(facts, seconds);
  const announced = facts.announced ? `announced at ${facts.announced}` : '';
  const who = [`First dance of ${facts.couple}`, facts.date, announced, facts.venue]
    .filter(Boolean)
    .join(', ');
  const signal = start.signal || 'on their sign';
  const lastWords = start.lastWords ? `, after “${start.lastWords}”` : '';
  const where = start.where ? `; the couple come from ${start.where}` : '';
  const joins = facts.joins.map(
    (join) =>
      `leave at ${at(join.leave)}${join.lastWord ? ` (after “${join.lastWord}”)` : ''}, go on at ${at(join.goOn)}${join.firstWord ? ` (“${join.firstWord}”)` : ''}`,
  );
  const inside = own && joins.length > 0 ? `Join: ${joins.join('; ')}.` : '';
  const ends = facts.stopsInside
    ? own
      ? `Stop it at ${at(facts.ringTo)}: the song itself goes on.`
      : 'No fade: the file stops inside the song.'
    : 'No fade: it ends by itself.';
  const fading =
    fade && (own || fade.byHand)
      ? `Start fading at ${at(fade.from)}, gone by ${at(fade.gone)}${own ? '' : '; the file fades there too'}.`
      : fade
        ? 'The fade is in the file.'
        : ends;
  const noPose = facts.poseLeftOut ? 'The closing pose is left out by the present edit; ' : '';
  const pose = closingPose
    ? `Closing pose at ${at(closingPose.at)}${closingPose.on ? ` on “${closingPose.on}”` : ''}; `
    : noPose;
  return [
    `${who}: ${facts.song}, ${versionWords(facts.version)}.`,
    own
      ? `Play your own copy, ${clock(facts.fullLength)} in full; times are of ${facts.clockOf}.`
      : `Play the finished file “${facts.fileName}”: ${clock(facts.musicLength)} of music, ${clock(facts.fileLength)} on the player; times are of ${facts.clockOf}.`,
    `Start: ${signal}${lastWords}, from ${at(start.at)}${where}.`,
    own ? [inside, fading].filter(Boolean).join(' ') : `Nothing to cut. ${fading}`,
    `${pose}${pose ? 'let' : 'Let'} it ring to ${at(facts.ringTo)}; last heard is ${facts.lastHeard}.${after ? ` Afterwards: ${after}.` : ''} ${facts.planB}`,
  ].map(oneLine) as FiveLines;
}
