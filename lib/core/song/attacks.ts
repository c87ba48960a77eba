import { cosine } from '../signal/statistics.ts';
import { type RecordTime, recordTime } from '../units.ts';
import { chromaOf, type FeatureTable } from './features.ts';

/** Frames of features before a moment, and from it on, that are held against each other: half a second. */
const FRAMES = 2;
/** dB by which the momentary loudness rises where something is struck; of 1.5 to 3 dB all find the same on songs that programs made. */
const RISE = 2;
/** Cosine of the pitch classes below which the harmony is another; from 0.5 to 0.9 all find the same there. */
const ALIKE = 0.9;
/** What is so far below the whole song, dB, is a room's noise and no music; common practice, no source. */
const FAINTEST = -20;

/**
 * Whether something new is played within a stretch of the recording, or what was played before only rings on and dies away: onsets
 * as rises of the energy envelope, and as changes of the spectrum, here of its pitch classes (J. P. Bello et al., A tutorial on
 * onset detection in music signals, IEEE Trans. Speech and Audio Processing 13(5), 2005, sections III-A and III-B).
 * @param loudness of the whole song, LUFS; null where it is unknown
 */
export function isStruck(
  features: FeatureTable,
  from: RecordTime,
  to: RecordTime,
  loudness: number | null,
): boolean {
  const { frame, loudness: levels } = features;
  const chroma = (first: number) =>
    chromaOf(features, recordTime(first * frame), recordTime((first + FRAMES) * frame));
  for (let i = Math.max(FRAMES, Math.floor(from / frame)); i < Math.min(levels.length, to / frame); i++) {
    const level = levels[i]!;
    if (loudness !== null && level < loudness + FAINTEST) continue;
    if (level - Math.min(...levels.subarray(i - FRAMES, i)) >= RISE) return true;
    if (cosine(chroma(i - FRAMES), chroma(i)) < ALIKE) return true;
  }
  return false;
}
