import type { DjFacts } from '../core/agreed/dj.ts';

/** All that a DJ needs as five lines, for a message; ends with a line break. */
export const fiveLines = ({ lines }: DjFacts): string => `${lines.join('\n')}\n`;
