import type { AreaData, AreaShape } from './area.ts';
import type { Board } from './board.ts';
import { areas } from './board.ts';

/** An area in which nothing was written yet: every register null, every collection empty. */
export function emptyArea<S extends AreaShape>(shape: S): AreaData<S> {
  const registers = Object.keys(shape.registers).map((name) => [name, null]);
  const collections = Object.keys(shape.collections).map((name) => [name, []]);
  return Object.fromEntries([...registers, ...collections]) as AreaData<S>;
}

export const emptyBoard = (): Board => ({
  plan: emptyArea(areas.plan),
  lessons: emptyArea(areas.lessons),
  remarks: emptyArea(areas.remarks),
  answer: emptyArea(areas.answer),
  show: emptyArea(areas.show),
});
