import type { Move } from '../move.ts';
import { supportedLean } from '../saferForm.ts';
import type { Way } from '../stepping.ts';
import { stepsOf } from '../stepping.ts';
import { type DanceStyle, figure, fromMemory } from './figures.ts';
import { ONES } from './rhythms.ts';

/** Closing poses: a bar led into, landing on the one of the next bar. They suit any dance of their metre. */
const styles: Record<'three' | 'four', DanceStyle> = {
  three: {
    dance: 'own',
    metre: 3,
    level: 'beat',
    hold: 'closed',
    leastSeconds: 0.35,
  },
  four: {
    dance: 'own',
    metre: 4,
    level: 'beat',
    hold: 'closed',
    leastSeconds: 0.3,
  },
};

const posesIn = (metre: 'three' | 'four'): Move[] => {
  const style = styles[metre];
  const counts = metre === 'three' ? 4 : 5;
  const rhythm = metre === 'three' ? '1 2 3, and stay' : '1 2 3 4, and stay';
  const pose = {
    counts,
    landsOn: counts,
    rhythm,
    repeats: false,
    room: 2,
    source: fromMemory,
  };
  /** The steps that lead there, and the stay. */
  const into = (followTurns?: number[]) =>
    stepsOf({
      foot: 'left',
      rhythm: ONES(counts),
      ways: [...Array.from({ length: counts - 1 }, (): Way => 'place'), 'touch'],
      ...(followTurns && { followTurns }),
    });
  return [
    figure(style, {
      ...pose,
      id: `lean-${metre}`,
      name: 'Supported lean',
      steps: into(),
      eitherFoot: true,
      preparation: counts - 1,
      lead: 'A wide, steady stance; a small tilt, hand at the shoulder blade.',
      follow: 'Keeps their own weight on both feet and tilts a little.',
    }),
    figure(style, {
      ...pose,
      id: `dip-${metre}`,
      name: 'Dip',
      // To the side of whichever foot is free.
      steps: into(),
      eitherFoot: true,
      preparation: counts - 1,
      room: 2.5,
      difficulty: 2,
      cautions: ['dip', 'dress', 'floor'],
      saferForm: supportedLean,
      lead: 'Partner close; lowers from hips and knees, hand at the shoulder blade.',
      follow: 'Keeps their own support on the standing leg, and lowers with the lead.',
    }),
    figure(style, {
      ...pose,
      id: `embrace-${metre}`,
      name: 'Embrace',
      steps: into(),
      eitherFoot: true,
      lead: 'Closes to an embrace and stays.',
      follow: 'Closes to an embrace and stays.',
    }),
    figure(style, {
      ...pose,
      id: `open-pose-${metre}`,
      name: 'Open out to the guests',
      steps: into([2, 2]),
      positionAfter: 'side by side',
      preparation: counts - 1,
      holdAfter: 'side by side',
      room: 3,
      lead: 'Opens out beside the follow, hands joined, free arm to the side.',
      follow: 'Opens out beside the lead, hands joined, free arm to the side.',
    }),
  ];
};

export const poses: Move[] = [...posesIn('three'), ...posesIn('four')];
