import { median } from '../signal/statistics.ts';
import { BLOCK, HOP } from './blocks.ts';
import { type Difference, differencesOf, type Run, type Stretch } from './differences.ts';
import { FRAME, type Imprint } from './imprint.ts';
import { type Matched, SAME_OFFSET } from './path.ts';
import { isSameSpeed } from './sameSpeed.ts';
import { aligned } from './speed.ts';

export type Verdict = 'same' | 'shifted' | 'cut differently' | 'another recording';

/** How a copy shows the music of a recording. */
export interface Comparison {
  verdict: Verdict;
  /** How much later the copy's clock shows the same moment of music at its beginning. */
  offsetMs: number;
  /** Copy duration / recording duration of the same music. */
  ratio: number;
  /** Seconds of both clocks; a part that is only in the one is empty in the other. */
  differences: Difference[];
  /** What the copy shows as it is, in its order; nothing where it is another recording. */
  stretches: Stretch[];
  /** 0 to 1: how clearly the verdict stands out. */
  confidence: number;
}

/** Offsets up to this are none: decoders differ by as much. Milliseconds. */
const SAME_MS = 10;
/** Blocks of the same music are at least so alike, and at least such a share of a copy must be. */
const ALIKE = 0.58;
const SHARE = 0.25;
/** Offsets within a stretch stray less than this, in frames: another performance wanders by more. */
const SPREAD = 0.3;
/** Seconds that uncut stretches last on average at least: a patchwork of shorter ones is likeness by chance. */
const LEAST_RUN = 20;

/**
 * Compares a copy with a recording by their imprints alone: blocks of eight seconds are looked for in the recording, the
 * speed comes from a robust line through them, and is taken out before they are measured again.
 */
export function compareImprints(recording: Imprint, copy: Imprint): Comparison {
  const { reading, copy: here, path } = aligned(recording.words, copy);
  const { ratio, phase } = reading;
  const runs = runsOf(path);
  const likenesses = runs.flatMap((run) => run.likenesses);
  const alike = median(likenesses);
  const share = likenesses.length / Math.max(1, path.length);
  const first = runs[0];
  const spread = median(runs.flatMap((run) => run.offsets.map((offset) => Math.abs(offset - run.offset))));
  const played = likenesses.length * HOP * FRAME;
  const torn = runs.length > 1 && played / runs.length < LEAST_RUN;
  if (!first || share < SHARE || alike < ALIKE || spread > SPREAD || torn) return another(path, share, alike);
  const { differences, stretches } = differencesOf(recording.words, here, runs, alike, reading);
  const offsetMs = 1000 * ratio * (first.offset + phase) * FRAME;
  const close = Math.abs(offsetMs) <= SAME_MS && isSameSpeed(ratio);
  const verdict = differences.length > 0 ? 'cut differently' : close ? 'same' : 'shifted';
  const clear = Math.min(1, Math.max(0, (alike - 0.45) / 0.3));
  return { verdict, offsetMs, ratio, differences, stretches, confidence: clear * (0.6 + 0.4 * share) };
}

/** Without a place in the recording there is no offset and no speed to tell. */
function another(path: readonly Matched[], share: number, alike: number): Comparison {
  const near = path.length === 0 ? 0.5 : share * alike;
  return {
    verdict: 'another recording',
    offsetMs: 0,
    ratio: 1,
    differences: [],
    stretches: [],
    confidence: 1 - near,
  };
}

/** Stretches of one offset, in order of the copy; a single block that is not very like is chance. */
function runsOf(path: readonly Matched[]): Run[] {
  const runs: Run[] = [];
  for (const { at, place } of path) {
    if (!place) continue;
    const last = runs.at(-1);
    if (last && Math.abs(last.offsets.at(-1)! - place.offset) <= SAME_OFFSET) {
      last.offsets.push(place.offset);
      last.likenesses.push(place.likeness);
      last.to = at + BLOCK;
    } else {
      const lists = { offsets: [place.offset], likenesses: [place.likeness] };
      runs.push({ from: at, to: at + BLOCK, offset: place.offset, ...lists });
    }
  }
  const sure = runs.filter(
    ({ likenesses }) => median(likenesses) >= ALIKE && (likenesses.length > 1 || likenesses[0]! > 0.7),
  );
  return joined(sure).map((run) => ({ ...run, offset: median(run.offsets) }));
}

/** Runs of one offset that only a doubtful block parted are one. */
function joined(runs: Run[]): Run[] {
  const out: Run[] = [];
  for (const run of runs) {
    const last = out.at(-1);
    if (last && Math.abs(median(last.offsets) - median(run.offsets)) <= SAME_OFFSET / 2) {
      last.to = run.to;
      last.offsets.push(...run.offsets);
      last.likenesses.push(...run.likenesses);
    } else out.push(run);
  }
  return out;
}
