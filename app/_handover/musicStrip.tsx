'use client';

import { danceStripOf } from '@/lib/core/handover/danceStrip.ts';
import { djStrip, entryStrip } from '@/lib/core/handover/musicStrip.ts';
import { useBoard } from '../_client/room.tsx';
import { DanceStrip } from '../_ui/danceStrip.tsx';
import { stripWords } from './words.ts';

/** The whole dance at one glance, as far as it is its reader's matter: the music, or with the moments of the entry. */
export function MusicStrip({ entry = false }: { entry?: boolean }) {
  const { board, score } = useBoard('board', 'score');
  const whole = danceStripOf(board.plan, score ?? undefined);
  if (!whole) return null;
  const strip = entry ? entryStrip(whole) : djStrip(whole);
  const leftOut = strip.leftOut.map(({ words }) => words);
  return (
    <div className="mt-4">
      <p className="sr-only">{stripWords(strip.musicLength, strip.pose?.from ?? null, leftOut)}</p>
      <div aria-hidden="true">
        <DanceStrip strip={strip} size="full" />
      </div>
    </div>
  );
}
