import type { AnswerState } from '../../lib/core/agreed/answerState.ts';

/**
 * What was said last, in one sentence; empty while an answer is only asked for.
 * @param when the moment of the answer, as its reader says it
 * @param version for which it was given, as people count them; 0 where that is not known
 */
export function answeredWords(
  { kind, answer }: AnswerState,
  when: string,
  mine: boolean,
  version = 0,
): string {
  if (!answer || kind === 'asked') return '';
  const who = mine ? 'You' : answer.by || 'The DJ';
  const number = version > 0 ? `, version ${version},` : '';
  const copy = mine ? 'your own copy' : 'their own copy';
  const playing = `on ${when}, playing ${answer.plays === 'finished file' ? 'the finished file' : copy}`;
  if (answer.kind === 'yes') {
    if (kind === 'yes to other facts') return `${who} said yes ${playing}, before this changed.`;
    const to = kind === 'yes to an older version' ? 'an older version' : 'exactly this';
    return `${who} said yes to ${to}${number} ${playing}.`;
  }
  const what = {
    accepted: 'exactly this',
    'yes to the other file': 'exactly this',
    'yes to other facts': 'this edit',
    'yes, copy does not fit': 'exactly this',
    'yes to an older version': 'an older version',
  }[kind as string];
  return what
    ? `${who} suggested ${what}${number} ${playing}. It was accepted.`
    : `${who} suggested something else ${playing}.${kind === 'declined' ? ' It was declined.' : ''}`;
}
