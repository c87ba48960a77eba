import { type RefObject, useEffect } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { type FloorPlan, placeWhen } from '@/lib/core/handover/floorPlan.ts';
import { player } from '../_practice/player.ts';
import { type Scale, tenth } from './drawn.ts';

/** Moves the couple on the plan with the music, past React: nothing else changes so often. */
export function useNow(
  mark: RefObject<SVGGElement | null>,
  plan: FloorPlan | null,
  score: FloorScore | null,
  scale: Scale | null,
): void {
  useEffect(() => {
    const show = () => {
      const { at } = player.getState();
      const element = mark.current;
      if (!element) return;
      element.setAttribute('visibility', at === null ? 'hidden' : 'visible');
      if (at === null || !plan || !score || !scale) return;
      const place = placeWhen(plan, score, at);
      const { x, y } = scale.to(place);
      element.setAttribute('transform', `translate(${x} ${y}) rotate(${tenth(place.facing * 45)})`);
    };
    show();
    return player.subscribe(show);
  }, [mark, plan, score, scale]);
}
