import type { Caution } from './move.ts';

/**
 * What is said beside a move that can hurt somebody. General words: they stand in for no instructor, no health professional,
 * no venue and no local code, all of which come first.
 */
export const cautionWords: Record<Caution, string> = {
  dip: 'Partners close, work from hips and knees; who is dipped keeps their own support, hand at the shoulder blade, not the low back.',
  lift: 'Only with a qualified instructor: lifts can load the back beyond what guidance for work allows.',
  'fast turn': 'Slow it down until it is safe; stop when anybody is dizzy.',
  floor: 'Try the real floor: haze and spills make slippery patches.',
  dress: 'Bustle the train, and rehearse in the real shoes and the real length.',
};

/** On every sheet that is handed out, whatever the dance. */
export const generalCaution =
  'With pregnancy or any trouble of back, knee or shoulder, leave dips, lifts and fast turns out or ask a health professional. A qualified instructor, the venue and local codes come first, always.';

/** About haze and sparks, for planner and crew. */
export const effectsCaution =
  'Haze and cold sparks: only as the venue and the fire authority allow; haze can set off detectors and leaves slippery patches.';

/** About the music itself, beside every file and instruction. */
export const rightsCaution =
  'Playing music in public is usually licensed by the venue; copying and editing a recording is a right of its own, as local law says.';
