import type { ReactNode } from 'react';

/** What it is about, what is set, and what holds until then. */
type Fact = [about: string, words: ReactNode, until?: string];

/** Facts as words, for who may only read them. */
export function FactWords({ by, facts }: { by: string; facts: Fact[] }) {
  return (
    <>
      <p className="text-soft">{by} fill this in.</p>
      <dl className="mt-3 grid gap-x-8 gap-y-3 sm:grid-cols-2">
        {facts.map(([about, words, until]) => (
          <div key={about}>
            <dt className="text-sm text-soft">{about}</dt>
            <dd className={`wrap-anywhere whitespace-pre-wrap ${words ? '' : 'text-soft'}`}>
              {words ?? (until ? `not set yet: ${until}` : 'not set yet')}
            </dd>
          </div>
        ))}
      </dl>
    </>
  );
}
