import type { Drawer } from './hand.ts';

/** What stands on the desk beside the sheet. */
export const desk = {
  name: 'The dance',
  drawers: {
    moves: 'Moves',
    'walk-on': 'Walk-on',
    ending: 'Ending',
    proposal: 'Propose',
    marks: 'Marks',
  } satisfies Record<Drawer, string>,
  /** Said after the name of a button that says too little alone. */
  more: { proposal: ' a dance' } as Partial<Record<Drawer, string>>,
  opening: 'Opening…',
  letGo: 'Let go',
  closingPose: 'The closing pose',
  firstStep: 'The first step',
  toPut: (what: string): string => `${what}: tap a count to place it, or press Enter on one.`,
  noMove: 'This move is no longer on the list.',
  notPlaced: 'This move is no longer on the sheet.',
} as const;
