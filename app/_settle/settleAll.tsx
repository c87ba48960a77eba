import { useEffect, useState } from 'react';
import type { Board } from '@/lib/core/areas/board.ts';
import type { Day } from '@/lib/core/calendar.ts';
import type { Finding } from '@/lib/core/checks/finding.ts';
import type { Settlement } from '@/lib/core/checks/settle.ts';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { Notice } from '../_ui/notice.tsx';
import { Sentence } from '../_ui/sentence.tsx';
import { settleSoon } from './settleSoon.ts';
import * as words from './words.ts';

/** Ms that a board stays as it is before it is searched. */
const REST = 800;

interface Props {
  board: Board;
  today: Day;
  /** What the checks say of this very board. */
  findings: readonly Finding[];
}

/**
 * Offers the changes that settle what blocks or warns together: told in words, made as one step of undo. Nothing where a note's own
 * fix does as much, or where none was found.
 */
export function SettleAll({ board, today, findings }: Props) {
  const pressing = findings.filter(({ severity }) => severity !== 'hints').length;
  const found = useSettlement(pressing > 1 ? board : null, today);
  if (!found || found.steps.length === 0 || pressing - found.left.length < 2) return null;
  return <Offer key={JSON.stringify(found.changes)} found={found} />;
}

function useSettlement(board: Board | null, today: Day): Settlement | null {
  const [found, setFound] = useState<{ of: Board; settlement: Settlement } | null>(null);
  useEffect(() => {
    if (!board) return;
    let stop = () => {};
    const timer = setTimeout(() => {
      stop = settleSoon(board, today, (settlement) => setFound({ of: board, settlement }));
    }, REST);
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, [board, today]);
  // The changes are of one board: to another they would do something else.
  return found?.of === board ? found.settlement : null;
}

function Offer({ found: { steps, changes, left, isLeast } }: { found: Settlement }) {
  const { make, problem } = useChanging('plan');
  return (
    <section aria-label={words.title} className="no-print mt-6 max-w-3xl border-t border-rule pt-2">
      <details>
        <summary className="ml-5 min-h-11 list-outside content-center font-semibold">
          {words.offer(steps.length, left.length)}
        </summary>
        <h4 className="small-caps mt-2 font-sans">{words.what}</h4>
        <ol className="mt-1 list-decimal space-y-3 pl-6">
          {steps.map(({ finding, fix }) => (
            <li key={`${finding.id} ${fix.words}`}>
              <p className="font-semibold">
                <Sentence>{fix.words}</Sentence>
              </p>
              <p className="sung leading-snug text-soft">
                <Sentence>{finding.sentence}</Sentence>
              </p>
            </li>
          ))}
        </ol>
        {left.length > 0 ? (
          <>
            <h4 className="small-caps mt-4 font-sans">{words.left}</h4>
            <ul className="sung mt-1 space-y-1 pl-6 leading-snug">
              {left.map(({ id, sentence }) => (
                <li key={id}>
                  <Sentence>{sentence}</Sentence>
                </li>
              ))}
            </ul>
          </>
        ) : null}
        <p className="mt-4 flex flex-wrap items-center gap-x-4 gap-y-2">
          <Button
            look="main"
            once
            onClick={() => make(changes, { way: 'suggestion', about: aboutOf(changes) })}
          >
            {words.make(steps.length)}
          </Button>
          <span className="text-soft">
            {words.undo} {isLeast && steps.length > 1 ? words.least : ''}
          </span>
        </p>
        {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      </details>
    </section>
  );
}

/** All that is changed is named in the offer. */
const aboutOf = (changes: Settlement['changes']): string[] =>
  changes.flatMap((change) => ('collection' in change ? [change.id] : []));
