import type { FootDiagram, FootMark, FootPlace } from '@/lib/core/dance/footDiagram.ts';
import { countWords } from './footWords.ts';

/** A right foot in metres, toes towards less y: about 26 cm long and 10 cm wide. Drawn, not measured. */
export const FOOT = {
  sole: 'M-.045-.03C-.05-.09-.04-.13-.01-.13S.05-.09.045-.035C.04-.01-.04-.01-.045-.03Z',
  heel: 'M-.033.035C-.035.01.037.01.035.035C.035.15-.033.15-.033.035Z',
};
/** Pixels: what a diagram takes at most, and keeps around the feet for their counts. */
const MOST = { width: 280, height: 340, scale: 240 };
const AROUND = 44;
/** Metres from the middle of a foot to its toes, and to its count. */
const TOES = 0.13;
const TO_COUNT = 0.06;
/** Pixels of a character of a count, and of its line. */
const CHARACTER = 7.5;
const LINE = 15;

/** Somewhere in pixels. */
export type Drawn<T> = T & { key: string };

interface Label {
  key: string;
  x: number;
  y: number;
  /** Half of how wide its words are, about. */
  half: number;
  words: string;
}

/** A diagram in pixels, what is ahead at the top: as large as there is room for it. */
export function drawnFeet({ start, marks }: FootDiagram): {
  width: number;
  height: number;
  /** Pixels a metre. */
  scale: number;
  start: Drawn<FootPlace>[];
  feet: Drawn<FootMark & { hasWeight: boolean }>[];
  labels: Label[];
} {
  const all = [...start, ...marks];
  const [xs, ys] = [all.map(({ x }) => x), all.map(({ y }) => y)];
  const [left, top] = [Math.min(...xs) - TOES, Math.max(...ys) + TOES];
  const [across, along] = [Math.max(...xs) + TOES - left, top - Math.min(...ys) + TOES];
  const scale = Math.min(MOST.scale, (MOST.width - 2 * AROUND) / across, (MOST.height - 2 * AROUND) / along);
  const put = <T extends FootPlace>(place: T, key: string): Drawn<T> => ({
    ...place,
    key,
    x: tenth(AROUND + (place.x - left) * scale),
    y: tenth(AROUND / 2 + (top - place.y) * scale),
  });
  const feet = marks.map((mark, i) => ({ ...put(mark, `step ${i}`), hasWeight: mark.how !== 'touch' }));
  // A foot that comes back to its place has one label with all its counts.
  const places = new Map<string, typeof feet>();
  for (const mark of feet) {
    const key = `${mark.foot} ${mark.x} ${mark.y} ${mark.facing % 360}`;
    places.set(key, [...(places.get(key) ?? []), mark]);
  }
  const width = Math.ceil(across * scale + 2 * AROUND);
  const height = Math.ceil(along * scale + AROUND);
  return {
    width,
    height,
    scale: tenth(scale),
    start: start.map((place) => put(place, `start ${place.foot}`)),
    feet,
    labels: labelled([...places.values()], feet, scale).map((label) => ({
      ...label,
      x: within(label.x, label.half, width),
      y: within(label.y, LINE / 2, height),
    })),
  };
}

/** Counts beside their feet: each on that side where it meets the fewest other counts and feet, best of all outside. */
function labelled(places: Drawn<FootMark>[][], feet: readonly FootPlace[], scale: number): Label[] {
  const labels: Label[] = [];
  for (const here of places) {
    const { key, foot, x, y, facing } = here[0]!;
    const words = here.map(({ count }) => countWords(count, true)).join(' ');
    const half = (words.length * CHARACTER) / 2;
    const outwards = foot === 'right' ? 0 : 180;
    const ways = [0, -90, 90, 180].map((by) => {
      const angle = ((facing + outwards + by) * Math.PI) / 180;
      const off = (by % 180 === 0 ? TO_COUNT : TOES) * scale + 3;
      const at = {
        x: x + Math.cos(angle) * (off + half),
        y: y + Math.sin(angle) * (off + LINE / 2),
      };
      const meets = (other: { x: number; y: number }, across: number, along: number) =>
        Math.abs(at.x - other.x) < across && Math.abs(at.y - other.y) < along;
      const near = TO_COUNT * scale;
      const onLabels = labels.filter((one) => meets(one, half + one.half + CHARACTER, LINE)).length;
      const onFeet = feet.filter((one) => meets(one, half + near, LINE / 2 + near)).length;
      return { at, cost: 4 * onLabels + onFeet };
    });
    const best = ways.reduce((least, one) => (one.cost < least.cost ? one : least));
    labels.push({ key, x: tenth(best.at.x), y: tenth(best.at.y), half, words });
  }
  return labels;
}

/** Kept so far from both edges. */
const within = (value: number, edge: number, size: number): number =>
  Math.max(edge, Math.min(size - edge, value));

const tenth = (value: number): number => Math.round(value * 10) / 10;
