'use client';

import dynamic from 'next/dynamic';
import Link from 'next/link';
import { useRoom } from '../_client/room.tsx';
import { buttonClass } from '../_ui/button.tsx';
import { sheet as words } from './words.ts';

/** What listens comes with an empty board only. */
const TakeSongBox = dynamic(async () => (await import('../_song/takeSongBox.tsx')).TakeSongBox, {
  ssr: false,
});

/** Before there is a song: the ghost of the sheet that it will be, which takes the file right there. */
export function EmptySheet() {
  const mayWrite = useRoom().mayWrite('plan');
  return (
    <div className="relative">
      <Ghost />
      <section
        aria-labelledby="empty-sheet"
        className="relative max-w-2xl border border-edge bg-paper px-5 py-6 md:mt-10 md:mr-[4%] md:ml-auto md:px-8"
      >
        {mayWrite ? (
          <>
            <h2 id="empty-sheet" className="text-3xl">
              {words.empty.title}
            </h2>
            <p className="sung mt-1 mb-5 text-xl leading-snug">{words.empty.lead}</p>
            <TakeSongBox replaces={false} />
          </>
        ) : (
          <p id="empty-sheet" className="sung text-2xl leading-snug">
            {words.empty.nothingYet}
          </p>
        )}
      </section>
    </div>
  );
}

const ROW = 64;

/** Faint rows, as they will stand; for the eye only. */
function Ghost() {
  const rows = words.empty.ghost;
  return (
    <svg
      className="absolute inset-0 h-full w-full opacity-40"
      aria-hidden="true"
      data-ghost=""
      height={rows.length * ROW}
    >
      {rows.map(([section, word], i) => (
        // The list is fixed.
        // biome-ignore lint/suspicious/noArrayIndexKey: never reordered
        <g key={i} transform={`translate(0 ${i * ROW})`}>
          <text y={14} className="small-caps fill-ink">
            {section}
          </text>
          <text x={170} y={42} textAnchor="end" className="sung fill-ink text-[22px]">
            {word}
          </text>
          <svg x={190} width="100%" className="overflow-visible" aria-hidden="true">
            <line x2="84%" y1={48} y2={48} className="stroke-edge" />
            <line
              x2="84%"
              y1={30}
              y2={30}
              className="stroke-ink"
              strokeWidth={2.6}
              strokeLinecap="round"
              strokeDasharray="0.1 7.4"
            />
            {i === 3 ? (
              <>
                <rect y={19} width="36%" height={22} rx={11} className="fill-ink" />
                <text x={12} y={35} className="fill-paper text-[15px] font-semibold">
                  {words.empty.ghostMove}
                </text>
              </>
            ) : null}
          </svg>
        </g>
      ))}
    </svg>
  );
}

/** The sheet lacks something that is done on the song page. */
export function Lacking({ said, to, label }: { said: string; to: string | null; label: string }) {
  return (
    <div className="max-w-2xl py-6">
      <p className="sung mb-4 text-2xl leading-snug">{said}</p>
      {to ? (
        <Link href={to} className={buttonClass('main')}>
          {label}
        </Link>
      ) : null}
    </div>
  );
}
