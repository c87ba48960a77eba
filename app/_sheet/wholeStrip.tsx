import { useMemo } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { danceStripOf } from '@/lib/core/handover/danceStrip.ts';
import type { FloorTime } from '@/lib/core/units.ts';
import { player, usePlayer } from '../_practice/player.ts';
import { DanceStrip } from '../_ui/danceStrip.tsx';

/** The whole dance over the sheet: where the music is, and the way to any place in it. */
export function WholeStrip({
  plan,
  score,
  onGo,
  onEnter,
}: {
  plan: Plan;
  score: FloorScore;
  /** The sheet shows that moment. */
  onGo: (at: FloorTime) => void;
  onEnter: (at: FloorTime) => void;
}) {
  const strip = useMemo(() => danceStripOf(plan, score), [plan, score]);
  const { at } = usePlayer();
  if (!strip) return null;
  const go = (to: FloorTime) => {
    player.setLoop(null);
    player.seek(to);
    onGo(to);
  };
  const ways = { strip, at, onGo: go, onEnter };
  return (
    <>
      <DanceStrip {...ways} className="max-md:hidden" />
      <DanceStrip {...ways} size="small" className="md:hidden" />
    </>
  );
}
