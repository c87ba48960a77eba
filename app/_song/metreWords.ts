import type { CountLevel, Grid } from '@/lib/core/song/grid.ts';

type Metre = Pick<Grid, 'beatsPerBar' | 'subdivision'>;

const NUMBERS = { 2: 'two', 3: 'three', 4: 'four' } as const;

/** "three beats a bar"; "two beats of three a bar" in compound metres. */
export const metreWords = ({ beatsPerBar, subdivision }: Metre): string =>
  `${NUMBERS[beatsPerBar]} beats${subdivision === 3 ? ' of three' : ''} a bar`;

/** Metres that may be chosen. */
export const METRES: readonly Metre[] = [
  { beatsPerBar: 2, subdivision: 2 },
  { beatsPerBar: 3, subdivision: 2 },
  { beatsPerBar: 4, subdivision: 2 },
  { beatsPerBar: 2, subdivision: 3 },
  { beatsPerBar: 3, subdivision: 3 },
  { beatsPerBar: 4, subdivision: 3 },
];

export const levelWords: Record<CountLevel, string> = {
  subdivision: 'each third of a beat',
  beat: 'each beat',
  half: 'every second beat',
};
