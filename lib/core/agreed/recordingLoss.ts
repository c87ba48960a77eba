import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import { same } from '../edit/canonical.ts';
import { playsWhole } from '../edit/edit.ts';
import type { Gesture } from './gesture.ts';
import { placedWords } from './placedWords.ts';

/** What another recording does to all that was set in the one before. Lists are in words, for people. */
export type RecordingLoss =
  | Taken
  /** Taking back the change of recordings leaves these, which somebody set in between. */
  | { kind: 'left behind'; things: string[] };

interface Taken {
  kind: 'recording';
  /** Is at the same music in the new one. */
  along: string[];
  /** Has no place in it. */
  gone: string[];
  /** Is heard in the new one, or made for it. */
  anew: string[];
  /** Stays at its second, whatever is played there, for others to look at. */
  left: string[];
  /** What named the one before. */
  names: string[];
}

/** Going back to a mark says itself what that changes. */
export function recordingLoss(before: Board, after: Board, way: Gesture['way']): RecordingLoss | null {
  const [was, is] = [before.plan, after.plan];
  if (way === 'mark' || !was.recording || was.recording.id === is.recording?.id) return null;
  if (way === 'undo') {
    // At the same beats the same seconds are the same music.
    const all = same(was.grid, is.grid) ? [] : [...danceThings(was, is), momentsOf(before, after)];
    const left = said(all.map(({ stays, words }) => words(stays, true)));
    return left.length > 0 ? { kind: 'left behind', things: left } : null;
  }
  const moments = momentsOf(before, after);
  // Who may not write them leaves them where they are.
  const stay = before.show === after.show;
  return {
    kind: 'recording',
    ...songLoss(was, is, [...danceThings(was, is), ...(stay ? [] : [moments])]),
    left: stay ? said([moments.words(moments.stays, true)]) : [],
    names: namesGone(was, is),
  };
}

const said = (words: string[]): string[] => words.filter((one) => one !== '');

function songLoss(was: Plan, is: Plan, things: readonly Things[]): Pick<Taken, 'along' | 'gone' | 'anew'> {
  const beats = 'beats, bars and sections';
  const sections = (plan: Plan) => plan.sections.map(({ id }) => id);
  const anew = was.grid?.beats.length !== is.grid?.beats.length || !same(sections(was), sections(is));
  const edited = was.edit !== null && !playsWhole(was.edit);
  const editStays = is.edit !== null && !playsWhole(is.edit);
  return {
    along: said([
      was.grid && !anew ? (edited && editStays ? 'beats, bars, sections and the edit' : beats) : '',
      ...things.map(({ along, words }) => words(along)),
    ]),
    gone: said(things.map(({ gone, words }) => words(gone, true))),
    anew: said([
      anew && is.grid ? `${beats}, which nobody has confirmed yet` : '',
      was.grid && !is.grid ? `${beats}: none, since no steady beat was heard in it` : '',
      edited && !editStays ? 'the edit, which begins as the whole song' : '',
    ]),
  };
}

/** Things of one kind that hang on moments of the music, by what becomes of them, and how they are named. */
interface Things {
  along: string[];
  gone: string[];
  /** At the very second at which they were. */
  stays: string[];
  /** @param named also says which */
  words(which: readonly string[], named?: boolean): string;
}

const danceThings = (was: Plan, is: Plan): Things[] => [
  entries(was.cues, is.cues, ({ word }) => `“${word}”`, ['cue word', 'cue words']),
  entries(was.placed, is.placed, (one) => placedWords(was, one), ['move', 'moves']),
  single('the first step', was.walkOn?.firstStep, is.walkOn?.firstStep),
  single(endingWords(was), was.ending?.target.at, is.ending?.target.at),
  freeWords([
    ...(['from', 'signal', 'lastWords'] as const).map((field): [string?, string?] => [
      was.walkOn?.[field],
      is.walkOn?.[field],
    ]),
    // With the ending it goes as a part of it.
    ...(is.ending ? [[was.ending?.facing, is.ending.facing] as [string?, string?]] : []),
  ]),
];

const momentsOf = ({ show: was }: Board, { show: is }: Board): Things =>
  entries(was?.moments ?? [], is?.moments ?? [], ({ who, what }) => `${who} ${what}`, [
    'moment for others',
    'moments for others',
  ]);

function entries<E extends { id: string; at: number }>(
  was: readonly E[],
  is: readonly E[],
  named: (one: E) => string,
  [one, many]: readonly [string, string],
): Things {
  const now = new Map(is.map((each) => [each.id, each]));
  const names = (which: E[]) => which.sort((a, b) => a.at - b.at).map(named);
  return {
    along: names(was.filter(({ id }) => now.has(id))),
    gone: names(was.filter(({ id }) => !now.has(id))),
    stays: names(was.filter((each) => same(each, now.get(each.id) ?? null))),
    words: (which, withNames = false) =>
      which.length === 0
        ? ''
        : `${which.length} ${which.length === 1 ? one : many}${withNames ? `: ${fewOf(which)}` : ''}`,
  };
}

function single(name: string, was: number | null | undefined, is: number | null | undefined): Things {
  const [had, has] = [was ?? null, is ?? null];
  return {
    along: had !== null && has !== null ? [name] : [],
    gone: had !== null && has === null ? [name] : [],
    stays: had !== null && had === has ? [name] : [],
    words: (which) => which.join(''),
  };
}

/** Words that name a time, and go where it is another: each before and after. */
const freeWords = (words: [string?, string?][]): Things => ({
  along: [],
  gone: words.flatMap(([was, is]) => (was && !is ? [`“${was}”`] : [])),
  stays: [],
  words: (which) => (which.length === 0 ? '' : `words that name a time: ${fewOf(which)}`),
});

function endingWords({ ending, moves }: Plan): string {
  const pose = moves.find(({ id }) => id === ending?.moves.at(-1))?.name;
  return pose === undefined ? 'the ending' : `the ending with its closing pose, ${pose}`;
}

const NAMED = 3;
function fewOf(names: readonly string[]): string {
  const more = names.length - NAMED;
  return more > 0 ? `${names.slice(0, NAMED).join(', ')} and ${more} more` : names.join(', ');
}

function namesGone({ recordingWords: was }: Plan, { recordingWords: is }: Plan): string[] {
  return (['title', 'artist', 'version', 'source'] as const).flatMap((name) => {
    const [had, has] = [was?.[name] ?? '', is?.[name] ?? ''];
    if (had === '' || had === has) return [];
    return [`${name}: ${has === '' ? `“${had}” goes` : `“${has}” instead of “${had}”`}`];
  });
}
