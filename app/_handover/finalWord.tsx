'use client';

import { type EntryFacts, entryFacts, factsThatDiffer, keptFacts } from '@/lib/core/agreed/entry.ts';
import { timeWords } from '@/lib/core/areas/eveningWords.ts';
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
import { finalBar as words } from './words.ts';

/**
 * The planner's word that the entry is final, for exactly what it says; and what has changed since. Who may give it has it at the
 * foot of the window wherever on the page they are.
 */
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
  if (!may && !final) return null;
  const settled = final !== null && !final.outdated;
  return (
    <section
      id="final"
      aria-label={words.label}
      data-final-bar={may ? '' : undefined}
      className={
        may
          ? 'no-print sticky bottom-0 z-10 -mx-4 mt-8 border-t border-edge bg-paper px-4 py-2 md:-mx-10 md:px-10'
          : 'mt-6'
      }
    >
      <div className="max-h-[50dvh] overflow-y-auto">
        {final && settled ? (
          <p className="border-l-[3px] border-moss pl-3">
            <span className="font-serif text-xl">{words.isFinal}</span>{' '}
            <span className="text-soft">{words.by(final.by, instantWords(final.at))}</span>
          </p>
        ) : null}
        {final?.outdated ? (
          <div className="border-l-[3px] border-wine pl-3">
            <p className="font-serif text-xl leading-tight text-wine">{words.changed}</p>
            <p className="text-soft">{words.differ(final.by, instantWords(final.at))}</p>
            <ul className="list-disc pl-5">
              {final.differs.map((differs) => (
                <li key={differs} className="break-words">
                  {differs}
                </li>
              ))}
            </ul>
          </div>
        ) : null}
        {may && !settled && seen.before ? (
          <ChangedSince differs={factsThatDiffer(seen.before, entry.facts)} />
        ) : null}
      </div>
      {may ? (
        <p className="flex flex-wrap items-center gap-x-4 gap-y-1 pt-1">
          {settled ? null : (
            <Button look="main" once data-does="final" onClick={mark}>
              {final ? words.again : words.mark}
            </Button>
          )}
          {final ? (
            <Button
              look="quiet"
              className="-ml-2 px-2!"
              onClick={() => change({ register: 'final', value: null })}
            >
              {words.notAfterAll}
            </Button>
          ) : null}
          {settled ? null : (
            <span className="text-soft">
              {words.about(timeWords(entry.time), entry.total)}
              {words.open(entry.missing.length)}
            </span>
          )}
        </p>
      ) : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
    </section>
  );
}
