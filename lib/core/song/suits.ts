/**
 * Which dances suit a song, from its metre and its bars a minute. The ranges span what is published: competition rules of the
 * world federation (in a national society's extract) and American social and syllabus lists (read second-hand), widened for the
 * social floor. How much wider is common practice, no source.
 */
interface DanceRange {
  dance: string;
  /** Beats in the bar that the range counts. */
  beats: 2 | 3 | 4;
  /** Bars a minute. */
  low: number;
  high: number;
}

const RANGES: readonly DanceRange[] = [
  { dance: 'waltz', beats: 3, low: 28, high: 32 },
  { dance: 'viennese waltz', beats: 3, low: 53, high: 60 },
  { dance: 'foxtrot', beats: 4, low: 28, high: 34 },
  { dance: 'rumba', beats: 4, low: 25, high: 36 },
  { dance: 'swing', beats: 4, low: 34, high: 44 },
  { dance: 'nightclub two step', beats: 4, low: 16, high: 22 },
  { dance: 'hustle', beats: 4, low: 28, high: 30 },
  { dance: 'west coast swing', beats: 4, low: 28, high: 32 },
  { dance: 'tango', beats: 4, low: 30, high: 33 },
  { dance: 'bolero', beats: 4, low: 24, high: 26 },
  { dance: 'cha-cha', beats: 4, low: 28, high: 32 },
  { dance: 'mambo', beats: 4, low: 47, high: 51 },
  { dance: 'quickstep', beats: 4, low: 50, high: 52 },
  { dance: 'samba', beats: 2, low: 50, high: 56 },
  { dance: 'paso doble', beats: 2, low: 58, high: 62 },
];

/** How far beyond its published range a dance is still offered, as a ratio. */
const SOCIAL = 1.15;

export type DancedAt = 'as heard' | 'twice as fast' | 'half as fast';

export interface SuitedDance {
  dance: string;
  /** Bars a minute as this dance would count them, and its published range. */
  bars: number;
  low: number;
  high: number;
  at: DancedAt;
  /** The song's tempo lies within the published range; otherwise only near it. */
  within: boolean;
}

const LEVELS: [DancedAt, number][] = [
  ['as heard', 1],
  ['twice as fast', 2],
  ['half as fast', 0.5],
];

/**
 * Dances for a song, the nearest first: by distance from the range, a tempo as heard before twice or half of it. In a compound
 * metre each beat may be danced as a bar of three, or the beats as fours.
 * @param tempo beats a minute
 */
export function suits(metre: { beats: 2 | 3 | 4; subdivision: 2 | 3 }, tempo: number): SuitedDance[] {
  const offers = RANGES.flatMap((range) => {
    const bars = barsFor(range, metre, tempo);
    return bars === undefined
      ? []
      : LEVELS.map(([at, factor]) => ({
          ...offer(range, bars * factor, at),
          levelled: at === 'as heard' ? 0 : 0.05,
        }));
  }).filter(({ distance }) => distance <= Math.log(SOCIAL));
  offers.sort((a, b) => a.distance + a.levelled - (b.distance + b.levelled) || a.off - b.off);
  const seen = new Set<string>();
  return offers.flatMap(({ dance, bars, low, high, at, within }) => {
    if (seen.has(dance)) return [];
    seen.add(dance);
    return [{ dance, bars, low, high, at, within }];
  });
}

/** Bars a minute in this dance's bar; undefined where the metre does not carry it. */
function barsFor(
  range: DanceRange,
  metre: { beats: 2 | 3 | 4; subdivision: 2 | 3 },
  tempo: number,
): number | undefined {
  if (range.beats === 3) return metre.subdivision === 3 ? tempo : metre.beats === 3 ? tempo / 3 : undefined;
  return metre.beats === 3 ? undefined : tempo / range.beats;
}

function offer({ dance, low, high }: DanceRange, bars: number, at: DancedAt) {
  const distance = Math.max(0, Math.log(low / bars), Math.log(bars / high));
  const off = Math.abs(Math.log(bars / Math.sqrt(low * high)));
  return { dance, bars, low, high, at, within: distance === 0, distance, off };
}
