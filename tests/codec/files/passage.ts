import type { Samples } from '../../../lib/core/signal/samples.ts';
import { noise } from '../sounds.ts';

/** Seconds of the passage that the files beside this one hold. */
export const PASSAGE = 1.5;

/** Two tones and bursts of noise, so that a codec has long and short blocks to code; the same at every run. */
export function passage(rate: number, channels: number): Samples {
  const length = Math.round(PASSAGE * rate);
  return {
    rate,
    channels: Array.from({ length: channels }, (_, c) => {
      const next = noise(17 + c);
      return Float32Array.from({ length }, (_, i) => {
        const t = i / rate;
        const since = (t * 2) % 1;
        const tone = Math.sin(2 * Math.PI * (220 + 110 * Math.floor(2 * t)) * t + c);
        const other = Math.sin(2 * Math.PI * (330 + 7 * c) * t);
        return (
          0.25 * tone * (0.4 + 0.6 * Math.exp(-8 * since)) +
          0.12 * other +
          0.15 * next() * Math.exp(-60 * since)
        );
      });
    }),
  };
}
