'use client';

import { type EntryFacts, keptFacts } from '@/lib/core/agreed/entry.ts';
import { useMyName } from '../_notes/myName.ts';
import { instantWords, nowInstant } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { Notice } from '../_ui/notice.tsx';

/** The planner's word that the entry is final, for exactly what it says; and what has changed since. */
export function FinalWord({ entry }: { entry: EntryFacts }) {
  const { change, problem, may } = useChanging('show');
  const [name] = useMyName();
  const { final } = entry;
  const mark = () =>
    change({
      register: 'final',
      value: { digest: entry.digest, at: nowInstant(), by: name, facts: keptFacts(entry.facts) },
    });
  return (
    <section aria-label="Final" className="mt-8">
      {final && !final.outdated ? (
        <div className="border-l-[3px] border-moss py-1 pl-4">
          <p className="font-serif text-xl">This is final.</p>
          <p className="text-soft">
            {final.by}, {instantWords(final.at)}
          </p>
        </div>
      ) : null}
      {final?.outdated ? (
        <div className="border-l-[3px] border-wine py-1 pl-4">
          <p className="font-serif text-xl text-wine">Marked final, and changed since.</p>
          <p className="text-soft">
            {final.by} marked it on {instantWords(final.at)}. These differ now:
          </p>
          <ul className="mt-1 list-disc pl-5">
            {final.differs.map((differs) => (
              <li key={differs} className="break-words">
                {differs}
              </li>
            ))}
          </ul>
        </div>
      ) : null}
      {may && (!final || final.outdated) ? (
        <p className="mt-3 flex flex-wrap items-center gap-4">
          <Button look="main" onClick={mark}>
            {final ? 'Mark it final again' : 'Mark it final'}
          </Button>
          {entry.missing.length > 0 ? <span className="text-soft">Some of it is still open.</span> : null}
        </p>
      ) : null}
      {may && final ? (
        <Button
          look="quiet"
          className="-ml-2 px-2!"
          onClick={() => change({ register: 'final', value: null })}
        >
          It is not final after all
        </Button>
      ) : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
    </section>
  );
}
