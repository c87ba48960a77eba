'use client';

import { type EntryFacts, entryFacts, factsThatDiffer, keptFacts } from '@/lib/core/agreed/entry.ts';
import { hashOf } from '@/lib/core/edit/canonical.ts';
import { useRoom } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { instantWords, nowInstant } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { Notice } from '../_ui/notice.tsx';
import { useOwnChanges } from '../_ui/ownChanges.ts';
import { ChangedSince } from './changedSince.tsx';
import { withOwn } from './seen.ts';
import { useSeen } from './useSeen.ts';

/** The planner's word that the entry is final, for exactly what it says; and what has changed since. */
export function FinalWord({ entry }: { entry: EntryFacts }) {
  const { change, problem, may } = useChanging('show');
  const [name] = useMyName();
  const { final } = entry;
  const seen = useSeen<Readonly<Record<string, string>>>(entry.facts, hashOf);
  useOwnChanges(useRoom(), (before, after) => {
    const [was, is] = [entryFacts(before).facts, entryFacts(after).facts];
    seen.know((facts) => withOwn(facts, was, is));
  });
  const mark = () =>
    seen.tap(() =>
      change({
        register: 'final',
        value: { digest: entry.digest, at: nowInstant(), by: name, facts: keptFacts(entry.facts) },
      }),
    );
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
        <div className="mt-3">
          {seen.before ? <ChangedSince differs={factsThatDiffer(seen.before, entry.facts)} /> : null}
          <p className="flex flex-wrap items-center gap-4">
            <Button look="main" once onClick={mark}>
              {final ? 'Mark it final again' : 'Mark it final'}
            </Button>
            {entry.missing.length > 0 ? <span className="text-soft">Some of it is still open.</span> : null}
          </p>
        </div>
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
