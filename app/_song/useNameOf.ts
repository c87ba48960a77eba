import { useMemo } from 'react';
import { clock } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { barPlaces, placeWords, usualBeat } from './handEdit.ts';

/** What a moment of the recording is called: `chorus 2, bar 3`. */
export function useNameOf(): (at: number) => string {
  const { grid, sections } = usePlan();
  const places = useMemo(() => (grid ? barPlaces(grid, sections) : []), [grid, sections]);
  return (at) => {
    const line = places.findLast((place) => place.at <= at + 0.01);
    return line ? placeWords(places, line.at, usualBeat(grid)) : clock(at);
  };
}
