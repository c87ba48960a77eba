'use client';

import { type DjFacts, momentWords } from '@/lib/core/agreed/dj.ts';
import { playedEdit } from '@/lib/core/agreed/played.ts';
import { songDuration } from '@/lib/core/dance/clock.ts';
import { clock } from '@/lib/core/units.ts';
import { useBoard } from '../_client/room.tsx';
import { clockWords } from './clockWords.ts';
import { type StripPart, stripOf } from './strip.ts';

const looks: Record<StripPart['kind'], string> = {
  played: 'fill-paper-2',
  fading: 'fill-[url(#fading)]',
  'left out': 'fill-[url(#left-out)]',
  before: 'fill-[url(#left-out)]',
  after: 'fill-[url(#left-out)]',
};

/** The whole recording to scale: what of it is heard. The words beneath say the same. */
export function Inside({ facts }: { facts: DjFacts }) {
  const { board, me } = useBoard('board', 'me');
  const dj = me.role === 'dj';
  const duration = songDuration(board.plan);
  const parts = stripOf(playedEdit(board.plan), duration);
  const { joins, fade } = facts;
  const at = (seconds: number) => momentWords(facts, seconds);
  return (
    <section aria-labelledby="inside" className="mt-7 print:mt-3">
      <h4 id="inside" className="small-caps">
        {facts.plays === 'finished file' ? 'Inside the file' : `Of ${clockWords(facts.clockOf, dj)}`}
      </h4>
      <div className="no-print relative mt-2">
        <svg
          aria-hidden="true"
          viewBox="0 0 1000 60"
          preserveAspectRatio="none"
          className="block h-14 w-full border border-rule"
        >
          <defs>
            <pattern
              id="left-out"
              width="9"
              height="9"
              patternUnits="userSpaceOnUse"
              patternTransform="rotate(-45)"
            >
              <rect width="9" height="9" className="fill-paper" />
              <rect width="1.4" height="9" className="fill-rule" />
            </pattern>
            <linearGradient id="fading">
              <stop offset="0" stopColor="#f3ecdc" />
              <stop offset="1" stopColor="#faf6ec" />
            </linearGradient>
          </defs>
          {parts.map(({ kind, from, to }) => (
            <rect
              key={from}
              x={(from / duration) * 1000}
              width={((to - from) / duration) * 1000}
              height="60"
              className={looks[kind]}
            />
          ))}
          {parts
            .filter(({ kind }) => kind === 'left out')
            .flatMap(({ from, to }) => [from, to])
            .map((at) => (
              <line
                key={at}
                x1={(at / duration) * 1000}
                x2={(at / duration) * 1000}
                y2="60"
                strokeDasharray="5 4"
                strokeWidth="2"
                vectorEffect="non-scaling-stroke"
                className="stroke-ink"
              />
            ))}
        </svg>
        <Labels parts={parts} duration={duration} joins={joins} />
      </div>
      <ul className="mt-3 space-y-1.5">
        {joins.length === 0 ? <li>Nothing is left out.</li> : null}
        {joins.map((join) => (
          <li key={join.goOn}>
            {facts.plays === 'finished file'
              ? `At ${at(join.goOn)}`
              : `From ${at(join.leave)} to ${at(join.goOn)}`}
            {join.lastWord ? (
              <>
                , after “<bdi className="sung text-lg">{join.lastWord}</bdi>”
              </>
            ) : null}
            : {clock(join.leftOut)} is left out
            {join.firstWord ? (
              <>
                ; it goes on with “<bdi className="sung text-lg">{join.firstWord}</bdi>”
              </>
            ) : null}
            .
          </li>
        ))}
        {fade ? (
          <li>
            {fade.byHand || facts.plays === 'own copy' ? 'It is faded by hand' : 'The fade is in the file'},
            from {at(fade.from)}, gone by {at(fade.gone)}
            {fade.byHand && facts.plays === 'finished file' ? '; the file fades there too.' : '.'}
          </li>
        ) : (
          <li>It plays to its own end.</li>
        )}
      </ul>
    </section>
  );
}

/** A label narrower than this share of the strip would not be read. */
const READABLE = 0.12;

/** The words at each join, on the strip itself where there is room; the list says them to everybody. */
function Labels({
  parts,
  duration,
  joins,
}: {
  parts: StripPart[];
  duration: number;
  joins: DjFacts['joins'];
}) {
  const left = parts.filter(({ kind }) => kind === 'left out');
  const percent = (at: number) => `${(at / duration) * 100}%`;
  return (
    <div aria-hidden="true" className="absolute inset-0 hidden sm:block">
      {left.map(({ from, to }, i) => {
        const join = joins[i];
        return (
          <span key={from}>
            <span
              className="sung absolute top-3.5 truncate px-3"
              style={{ right: percent(duration - from), maxWidth: percent(from) }}
            >
              {join?.lastWord ? (
                <>
                  …“<bdi>{join.lastWord}</bdi>”
                </>
              ) : null}
            </span>
            {(to - from) / duration > READABLE ? (
              <span
                className="absolute top-3.5 -translate-x-1/2 bg-paper px-2 text-soft"
                style={{ left: percent((from + to) / 2) }}
              >
                left out, {clock(to - from)}
              </span>
            ) : null}
            <span
              className="sung absolute top-3.5 truncate px-3"
              style={{ left: percent(to), maxWidth: percent(duration - to) }}
            >
              {join?.firstWord ? (
                <>
                  “<bdi>{join.firstWord}</bdi>”…
                </>
              ) : null}
            </span>
          </span>
        );
      })}
    </div>
  );
}
