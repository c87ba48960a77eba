'use client';

import type { Question } from '@/lib/core/agreed/question.ts';
import { Asking } from '../_ui/asking.tsx';

/** How many things of one kind are named before the rest is counted. */
const NAMED = 6;

/** The question before something agreed is undone: what is lost, and who must be told. */
export function Asked({
  question: { title, parts, yes, no },
  onYes,
  onNo,
}: {
  question: Question;
  onYes(): void;
  onNo(): void;
}) {
  return (
    <Asking title={title} yes={yes} no={no} onYes={onYes} onNo={onNo}>
      {parts.map(({ words, list }) => (
        <div key={words}>
          <p>{words}</p>
          {list.length > 0 ? (
            <ul className="mt-1 list-disc pl-5">
              {list.slice(0, NAMED).map((one) => (
                <li key={one} className="break-words">
                  {one}
                </li>
              ))}
              {list.length > NAMED ? <li>and {list.length - NAMED} more</li> : null}
            </ul>
          ) : null}
        </div>
      ))}
    </Asking>
  );
}
