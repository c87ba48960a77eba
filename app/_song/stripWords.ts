import { clock } from '@/lib/core/units.ts';

/** The strip of the whole song, and what is done on it. */
export const strip = {
  name: 'The whole song',
  place: 'Place in the recording',
  keys: 'Arrow keys go by a bar, page keys by a section, Enter plays from there. With shift the arrows mark what to leave out, Delete leaves it out, Escape forgets it.',
  edgeKeys: 'Arrow keys move it by a count, with shift by 10 milliseconds, page up and page down by a bar.',
  edges: {
    start: 'The song begins at',
    from: 'The music stops at',
    to: 'The music goes on at',
    own: 'The song ends as the recording does, at',
    fade: 'The fade begins at',
  },
  short: { start: 'begins at', from: 'stops at', to: 'goes on at', own: 'ends at', fade: 'fades from' },
  asTheRecording: 'the end of the recording',
  beginning: 'the beginning of the recording',
  leaves: (seconds: number, from: string, to: string): string =>
    `leaves out ${clock(seconds)}: ${from} to ${to}`,
  stops: (at: string): string => `stops at ${at}; play on to where it goes on`,
} as const;
