import type { Edit } from '../edit/edit.ts';
import type { FloorScore } from '../edit/score.ts';

/** A fade by hand may come this much early or late, seconds (design; common practice, no source). */
export const BY_HAND = 2;

/** Nobody on the floor hears music as far down as this, dB; common practice, no source. */
const SILENT = -120;

/**
 * Level of a fading music at a floor time against before the fade, in dB: 20 log10 of the fade's gain. A fade by hand may
 * have begun two seconds early, so the level is the one of two seconds later. null without a fade.
 * Example: linear, 8 s to silence at 3:00, at 2:56: -6.02 dB.
 */
export function fadeDb(edit: Edit | null, score: FloorScore, at: number): number | null {
  const { fade } = score;
  if (!fade || edit?.end.kind !== 'fade') return null;
  const late = edit.end.byHand ? BY_HAND : 0;
  const t = (at + late - fade.from) / (fade.to - fade.from);
  if (t <= 0) return 0;
  if (t >= 1) return SILENT;
  const gain = edit.end.shape === 'linear' ? 1 - t : (1 - t) ** 2;
  return Math.max(SILENT, 20 * Math.log10(gain));
}
