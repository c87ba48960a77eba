import { type Move, move } from '../../lib/core/dance/move.ts';
import { issueWords } from '../../lib/core/refusal.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';

/** What a new move of the studio's starts from: an easy figure of four counts. */
export const newMove: Omit<Move, 'id'> = {
  name: '',
  dance: 'own',
  metre: 0,
  counts: 4,
  level: 'beat',
  basic: false,
  rhythm: '',
  startsOn: 1,
  preparation: 0,
  landsOn: null,
  holdBefore: 'closed',
  holdAfter: 'closed',
  footBefore: 'either',
  footAfter: 'either',
  lead: '',
  follow: '',
  travels: false,
  repeats: true,
  room: 2,
  leastSeconds: 0.4,
  difficulty: 1,
  cautions: [],
  saferForm: '',
  source: 'the studio’s own',
};

const labels: Record<string, string> = {
  name: 'Name',
  counts: 'Counts',
  startsOn: 'Starts on count',
  preparation: 'Led before it',
  landsOn: 'Lands on count',
  room: 'Room',
  leastSeconds: 'Least seconds a count',
  rhythm: 'Said as',
  lead: 'The lead',
  follow: 'The follow',
  saferForm: 'Safer form',
};

const optional = ['positionBefore', 'positionAfter', 'followFootBefore', 'followFootAfter'] as const;
/** What must be as it was for the steps of a figure to be its steps still. */
const stepped = ['counts', 'level', 'footBefore', 'footAfter', ...optional] as const;

/**
 * A move from the words of its form; a sentence where they do not make one.
 * @param like the figure that the form began with: its steps stay where feet, place and counts are as they were
 */
export function moveFrom(form: FormData, like: Omit<Move, 'id'> = newMove): Result<Omit<Move, 'id'>> {
  const word = (name: string) => String(form.get(name) ?? '').trim();
  const number = (name: string) => Number(word(name).replace(',', '.') || Number.NaN);
  const parsed = move.safeParse({
    ...newMove,
    name: word('name'),
    dance: word('dance'),
    metre: number('metre'),
    counts: number('counts'),
    level: word('level'),
    basic: form.has('basic'),
    rhythm: word('rhythm'),
    startsOn: number('startsOn'),
    preparation: number('preparation'),
    landsOn: word('landsOn') === '' ? null : number('landsOn'),
    holdBefore: word('holdBefore'),
    holdAfter: word('holdAfter'),
    footBefore: word('footBefore'),
    footAfter: word('footAfter'),
    ...Object.fromEntries(optional.flatMap((name) => (word(name) ? [[name, word(name)]] : []))),
    lead: word('lead'),
    follow: word('follow'),
    travels: form.has('travels'),
    repeats: form.has('repeats'),
    room: number('room'),
    leastSeconds: number('leastSeconds'),
    difficulty: number('difficulty'),
    cautions: form.getAll('cautions'),
    saferForm: word('saferForm'),
    source: word('source') || newMove.source,
  });
  if (!parsed.success) {
    const issue = parsed.error.issues[0]!;
    const field = String(issue.path[0] ?? '');
    return bad('invalid', `${labels[field] ?? field}: please look at it once more (${issueWords(issue)}).`);
  }
  if (parsed.data.landsOn !== null && parsed.data.landsOn > parsed.data.counts)
    return bad(
      'invalid',
      'A pose lands on one of its own counts: please give a smaller one, or more counts.',
    );
  const { steps, eitherFoot, easyOn, link } = like;
  const asBefore = stepped.every((name) => parsed.data[name] === like[name]);
  return good({
    ...parsed.data,
    ...(steps && asBefore && { steps }),
    ...(eitherFoot && asBefore && { eitherFoot }),
    ...(easyOn && { easyOn }),
    ...(link && { link }),
  });
}
