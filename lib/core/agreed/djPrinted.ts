import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import type { Show } from '../areas/show.ts';
import { hashOf } from '../edit/canonical.ts';
import { clock, signed } from '../units.ts';
import { type DjFacts, djFacts, momentWords } from './dj.ts';
import type { Plays } from './played.ts';

/** Facts that were read, by plain labels in the order in which they are read, and their digest. */
export interface Printed {
  facts: Record<string, string>;
  digest: string;
}

/**
 * All that the DJ's page and paper print for one way of playing: what a yes is given for. Not the version's number and the file's
 * name, which say of the same what the yes itself says. Of an own copy the times are the recording's, so that a new check of it
 * changes nothing here.
 *
 * Answers hold these words: to change a label or how a fact is put makes every yes that was given before one to other facts.
 */
export function djPrinted(board: Board, plays: Plays): Printed {
  const { plan, show } = board;
  const known = kept.get(plan);
  const same = known?.show === show ? known : { show };
  kept.set(plan, same);
  same[plays] ??= printed(
    djFacts({ ...board, answer: board.answer && { ...board.answer, copy: null } }, null, plays),
  );
  return same[plays];
}

/** What was printed last of each plan, kept no longer than the plan: it is asked for often while the board stays the same. */
const kept = new WeakMap<Plan, { show: Show | null } & Partial<Record<Plays, Printed>>>();

/** The same of facts that are at hand, on whatever clock they are. */
export function printed(facts: DjFacts): Printed {
  const words = Object.fromEntries(
    factsOf(facts)
      .filter(([, words]) => words !== '')
      .map(([label, words]) => [label, compact(words)]),
  );
  return { facts: words, digest: hashOf(words) };
}

/** Letters of a fact that an answer keeps. */
const MOST = 400;

/** A longer text is cut; a few digits of its hash tell that its end has changed. */
const compact = (words: string): string =>
  words.length <= MOST ? words : `${words.slice(0, MOST - 14)}… (${hashOf(words).slice(0, 10)})`;

function factsOf(facts: DjFacts): [label: string, words: string][] {
  const { start, fade, closingPose } = facts;
  const own = facts.plays === 'own copy';
  const at = (seconds: number) => momentWords(facts, seconds);
  return [
    ['played from', own ? 'an own copy' : 'the finished file'],
    ['couple', facts.couple],
    // A yes is theirs alone who gave it.
    ['music by', facts.musicBy],
    ['day', facts.date],
    ['announced at', facts.announced],
    ['venue', facts.venue],
    ['name of the dance', facts.title],
    ['song', facts.song],
    ['source', facts.source],
    ['recording in full', clock(facts.fullLength)],
    ['level', facts.loudness === null ? '' : `${signed(facts.loudness, 1)} LUFS`],
    ['speed', facts.speed === 1 ? '' : `${Math.round(facts.speed * 1000) / 10} %`],
    ['music', clock(facts.musicLength)],
    ['file', own ? '' : clock(facts.fileLength)],
    ['start signal', start.signal],
    ['last words before it', start.lastWords],
    ['the couple come from', start.where],
    ['start at', at(start.at)],
    ...facts.joins.map((join, i): [string, string] => [`join ${i + 1}`, joinWords(join, at, own)]),
    ['fade', fade ? `from ${at(fade.from)}, gone by ${at(fade.gone)}${fade.byHand ? ', by hand' : ''}` : ''],
    ['stopped inside the song', facts.stopsInside ? 'yes' : ''],
    [
      'closing pose',
      closingPose
        ? `${at(closingPose.at)}${closingPose.on ? ` on “${closingPose.on}”` : ''}, kept ${closingPose.kept} s`
        : facts.poseLeftOut
          ? 'left out by the edit'
          : '',
    ],
    ['let it ring to', at(facts.ringTo)],
    ['last heard', facts.lastHeard],
    ['afterwards', facts.after],
    ['to check by ear', facts.byEar.map(({ word, at: when }) => `“${word}” at ${at(when)}`).join(', ')],
    ['if the wrong one plays', facts.planB],
  ];
}

function joinWords(
  { leave, goOn, lastWord, firstWord, leftOut }: DjFacts['joins'][number],
  at: (seconds: number) => string,
  own: boolean,
): string {
  const last = lastWord ? ` after “${lastWord}”` : '';
  const first = firstWord ? ` with “${firstWord}”` : '';
  return `${own ? `leave at ${at(leave)}${last}, go on at ${at(goOn)}` : `${at(goOn)}${last}, goes on`}${first}; ${clock(leftOut)} left out`;
}
