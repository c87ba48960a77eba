import type { Lessons } from '../areas/lessons.ts';
import type { Plan } from '../areas/plan.ts';
import { floorOf } from '../dance/clock.ts';
import { hashOf } from '../edit/canonical.ts';
import type { FloorScore } from '../edit/score.ts';
import { type FloorTime, floorTime } from '../units.ts';
import { type Danced, dancedOf } from './danced.ts';
import { phraseStretch, type Stretch, stretchAt } from './stretch.ts';

/** Id of what somebody chose for a line of homework: of its words, so that it stays with them wherever they stand. */
export const drillId = (words: string): string => hashOf(['drill', plain(words)]).slice(0, 24);

/**
 * Where a line of homework is danced: as somebody chose it, else what its words name: a cue word, a section, a move, the walk-on
 * or the ending; of a word or move that comes more than once, the first. Null where they name nothing of the dance.
 */
export function homeworkStretch(
  words: string,
  { plan, drills }: { plan: Plan; drills: Lessons['drills'] },
  score: FloorScore,
): Stretch | null {
  const id = drillId(words);
  const chosen = drills.find((drill) => drill.id === id);
  return (chosen && chosenStretch(score, chosen)) ?? namedStretch(words, plan, score);
}

/** Null where the section is no longer danced. */
function chosenStretch(
  score: FloorScore,
  { section: id, phrase }: Pick<Lessons['drills'][number], 'section' | 'phrase'>,
): Stretch | null {
  const section = score.sections.find((one) => one.id === id);
  if (!section) return null;
  const own = score.phrases.filter((one) => one.section === section.index);
  const one = phrase === null ? undefined : own[Math.min(phrase, own.length - 1)];
  return one ? phraseStretch(score, one) : stretchAt(score, section.floor, 'section');
}

function namedStretch(words: string, plan: Plan, score: FloorScore): Stretch | null {
  const text = plain(words);
  const danced = dancedOf(plan, score);
  const phraseAt = (at: FloorTime | null | undefined) => (at == null ? null : stretchAt(score, at, 'phrase'));
  const cue = longestNamed(text, plan.cues, ({ word }) => word);
  const heard = cue && firstHeard(plan, cue.word);
  if (heard != null) return phraseFrom(score, heard);
  const section = longestNamed(text, score.sections, ({ name }) => name);
  if (section) return stretchAt(score, section.floor, 'section');
  const move = longestNamed(
    text,
    danced.filter(({ kind }) => kind === 'move'),
    ({ name }) => name,
  );
  if (move) return phraseAt(move.from);
  if (/\b(walk|walks|walking) ?-?on\b|\bcome on\b|\bfirst step\b/.test(text))
    return untilFirstStep(danced, score);
  if (/\b(closing pose|ending|last pose|the pose|landing)\b/.test(text)) return phraseAt(landing(danced));
  const kind = longestNamed(text, score.sections, ({ kind }) => kind);
  return kind ? stretchAt(score, kind.floor, 'section') : null;
}

/** Bars before a phrase in which a word still tells that it comes: what is danced on it begins with the phrase. */
const LEADING_BARS = 2;

function phraseFrom(score: FloorScore, at: FloorTime): Stretch | null {
  const phrase = stretchAt(score, at, 'phrase');
  const isLeading = phrase && phrase.to - at <= LEADING_BARS * score.countsPerBar * score.interval + 1e-3;
  return isLeading ? (stretchAt(score, phrase.to, 'phrase') ?? phrase) : phrase;
}

/** From the music's first sound through the phrase of the first step. */
function untilFirstStep(danced: readonly Danced[], score: FloorScore): Stretch | null {
  const first = danced.find(({ kind }) => kind === 'basic' || kind === 'move');
  const phrase = first && stretchAt(score, first.from, 'phrase');
  return phrase ? { name: 'walk-on', from: floorTime(0), to: phrase.to, scope: 'own' } : null;
}

const landing = (danced: readonly Danced[]): FloorTime | null => {
  const pose = danced.find(({ kind }) => kind === 'pose');
  return pose ? floorTime(pose.from - 1e-3) : null;
};

const firstHeard = (plan: Plan, word: string): FloorTime | null =>
  plan.cues
    .filter((cue) => plain(cue.word) === plain(word))
    .map(({ at }) => floorOf(plan, at))
    .filter((at) => at !== null)
    .sort((a, b) => a - b)[0] ?? null;

/** The one with the longest name that the text holds as whole words; the first of several so named. */
function longestNamed<T>(text: string, all: readonly T[], nameOf: (one: T) => string): T | null {
  let best: { one: T; length: number } | null = null;
  for (const one of all) {
    const name = plain(nameOf(one));
    if (name === '' || name.length <= (best?.length ?? 0)) continue;
    if (` ${text} `.includes(` ${name} `)) best = { one, length: name.length };
  }
  return best?.one ?? null;
}

/** Letters and figures only, in small letters, one space between words: so that quotation marks and capitals part nothing. */
const plain = (words: string): string =>
  words
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{Letter}\p{Mark}\p{Number}]+/gu, ' ')
    .trim();
