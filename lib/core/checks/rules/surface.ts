import type { Caution } from '../../dance/move.ts';
import type { Rule } from '../finding.ts';
import { swapFixes } from '../spots.ts';
import { FITTING } from '../time.ts';
import { nameOf, placeOfCount, quoted } from '../words.ts';

/** English words for floors that hold a foot, and for such as let it slide, as people write them; common practice, no source. */
const HOLDS =
  /\b(carpets?|rugs?|grass|lawn|turf|gravel|sand|cobbles?|cobblestones?|paving|concrete|asphalt)\b/i;
const SLIDES = /\b(marble|tiles?|tiled|polished|glass|wet|icy?|metal)\b/i;

/** Moves that need a floor which does neither. */
const RISKY: readonly Caution[] = ['fast turn', 'dip', 'lift', 'floor'];

export const rule: Rule = {
  id: 'surface',
  about: 'moves',
  severity: 'warns',
  reads: ['plan', 'show'],
  from: FITTING,
  what: 'A turn, dip or lift is to be danced on a floor that holds the foot or lets it slide.',
  why: 'Where the foot is held and the body turns, the knee takes it; where it slides, both fall.',
  todo: 'Dance another move there, ask for a dance floor, or try the real floor in the real shoes, with a qualified instructor.',
  source: 'common practice, no source',
  fixes: ['placed'],
  run({ board, danced }) {
    const surface = board.show?.floor?.surface ?? '';
    const how = HOLDS.test(surface) ? 'holds the foot' : SLIDES.test(surface) ? 'lets the foot slide' : null;
    if (!danced || how === null) return [];
    const isRisky = ({ cautions }: { cautions: readonly Caution[] }) =>
      cautions.some((caution) => RISKY.includes(caution));
    return danced.used
      .filter(({ move }) => isRisky(move))
      .map((laid) => ({
        about: laid.move.id,
        place: placeOfCount(danced.score, laid.at),
        figures: { surface },
        sentence: `The floor is ${quoted(surface)}, which ${how}: take care with ${nameOf(laid)}, or leave it out there.`,
        fixes: () =>
          laid.part === 'placed' ? swapFixes(board.plan, danced, laid, (move) => !isRisky(move)) : [],
      }));
  },
};
