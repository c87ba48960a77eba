'use client';

import { type AnswerState, answerState, isSaid } from '@/lib/core/agreed/answerState.ts';
import { copyProblem, copyStanding } from '@/lib/core/agreed/copy.ts';
import { spokenVersions } from '@/lib/core/agreed/version.ts';
import { dayWords } from '@/lib/core/areas/days.ts';
import { useBoard } from '../_client/room.tsx';
import { instantWords } from '../_studio/dates.ts';
import { answeredWords } from './answeredWords.ts';
import { AskDj } from './askDj.tsx';
import { DjWord } from './djWord.tsx';
import { ReplyToDj } from './replyToDj.tsx';

/** The DJ's word, bound to exactly this version: given by the DJ alone, asked for and replied to by the others. */
export function AnswerPanel({
  plays,
  version,
}: {
  plays: 'finished file' | 'own copy';
  version: number | null;
}) {
  const { board, me } = useBoard('board', 'me');
  const state = answerState(board);
  const mayReply = me.role === 'couple' || me.role === 'instructor';
  return (
    <section
      aria-labelledby="answer"
      className="mt-6 self-start bg-night px-5 py-5 text-night-ink sm:px-7 sm:py-6 xl:sticky xl:top-6 xl:col-start-2 xl:row-span-2 xl:row-start-1 xl:mt-0 print:mt-3 print:px-0 print:py-1"
    >
      <div className="grid gap-x-12 gap-y-6 md:grid-cols-[1.3fr_1fr] xl:grid-cols-1 print:grid-cols-1 print:gap-y-2">
        <div className="min-w-0">
          <h3 id="answer" className="scroll-mt-6 text-2xl leading-tight">
            {me.role === 'dj' ? question(state) : headline(state)}
          </h3>
          {me.role === 'dj' ? <DjWord state={state} plays={plays} /> : null}
          {mayReply ? (
            state.kind === 'proposal open' ? (
              <ReplyToDj state={state} />
            ) : (
              <AskDj state={state} />
            )
          ) : null}
        </div>
        <div className="space-y-3 text-night-soft">
          <Told state={state} mine={me.role === 'dj'} version={version} />
        </div>
      </div>
    </section>
  );
}

/**
 * Where the panel comes last, as it does but on a wide page, one line at the head tells the DJ of what is new there, and leads
 * to it.
 */
export function NewInAnswer() {
  const { board, me } = useBoard('board', 'me');
  const news = newsOf(answerState(board), copyProblem(copyStanding(board)));
  if (me.role !== 'dj' || news === '') return null;
  return (
    <p className="no-print mt-2 border-l-[3px] border-wine pl-3 xl:hidden">
      <a href="#answer" className="inline-flex min-h-11 items-center font-semibold text-wine">
        {news}
      </a>
    </p>
  );
}

function newsOf({ kind, newFile, differs }: AnswerState, copy: string): string {
  const need = newFile ? 'you need the new file.' : 'see what has changed.';
  switch (kind) {
    case 'yes to an older version':
      return `You said yes to an older version: ${need}`;
    case 'yes to the other file':
      return 'You said yes to the other file: please say yes anew.';
    case 'yes to other facts':
      return 'Something changed after your yes: see what.';
    case 'yes, copy does not fit':
      return `Your copy ${copy}.`;
    case 'asked':
      return newFile || differs.length > 0 ? `You are asked again: ${need}` : '';
    default:
      return '';
  }
}

const question = (state: AnswerState): string =>
  state.kind === 'yes to other facts'
    ? 'You said yes. Is this right, too?'
    : isSaid(state)
      ? 'You play it like this.'
      : 'Will you play it like this?';

function headline({ kind, words }: AnswerState): string {
  return kind === 'not asked' ? 'The DJ has not been asked yet.' : words;
}

/** What was said, and what has changed since. */
function Told({ state, mine, version }: { state: AnswerState; mine: boolean; version: number | null }) {
  const { kind, answer, differs, newFile, answerBy } = state;
  const { board } = useBoard('board');
  const number = answer ? spokenVersions(board).indexOf(answer.digest) + 1 : 0;
  const answered = answer ? answeredWords(state, instantWords(answer.at), mine, number) : '';
  return (
    <>
      {mine ? (
        <p className="no-print">
          Your yes belongs to this {version === null ? 'draft' : `version, number ${version}`}. If anything on
          this page changes, you are told what, and whether you need a new file.
        </p>
      ) : null}
      {answerBy && (kind === 'asked' || kind === 'not asked') ? (
        <p className="text-night-ink">An answer is wanted by {dayWords(answerBy)}.</p>
      ) : null}
      {answered ? <p>{answered}</p> : null}
      {answer?.words ? <p className="sung text-lg text-night-ink">“{answer.words}”</p> : null}
      {kind === 'yes to the other file' ? (
        <p className="text-night-wine">
          {mine ? 'You play' : 'They play'}{' '}
          {answer?.plays === 'own copy' ? 'the finished file' : mine ? 'your own copy' : 'their own copy'}{' '}
          now: {mine ? 'please say yes anew.' : 'a new yes is needed.'}
        </p>
      ) : null}
      {differs.length > 0 && kind !== 'proposal open' && !(mine && kind === 'yes to other facts') ? (
        <div>
          <p className="text-night-wine">
            {kind === 'yes to other facts' ? 'Changed since then:' : 'Since then:'}
          </p>
          <ul className="list-disc pl-5 text-night-ink">
            {differs.map((differs) => (
              <li key={differs} className="wrap-anywhere">
                {differs}
              </li>
            ))}
          </ul>
        </div>
      ) : null}
      {newFile ? (
        <p className="text-night-wine">
          {mine ? 'You need the new file: take it from this page.' : 'The DJ needs the new file.'}
        </p>
      ) : null}
      {!mine ? <p>Only whoever plays the music can say yes here.</p> : null}
    </>
  );
}
