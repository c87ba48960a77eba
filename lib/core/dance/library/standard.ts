import type { Move } from '../move.ts';
import { boleroFigures } from './bolero.ts';
import { chaChaFigures } from './chaCha.ts';
import { foxtrotFigures } from './foxtrot.ts';
import { hustleFigures } from './hustle.ts';
import { nightclubFigures } from './nightclub.ts';
import { poses } from './poses.ts';
import { rumbaFigures } from './rumba.ts';
import { swayFigures } from './sway.ts';
import { swingFigures } from './swing.ts';
import { tangoFigures } from './tango.ts';
import { vienneseFigures } from './viennese.ts';
import { waltzFigures } from './waltz.ts';
import { westCoastFigures } from './westCoast.ts';

/**
 * The move library everybody starts with: figures by dance, a basic for each dance, and closing poses. Beside each stands where it
 * comes from. Ids are stable, so that a board which copied one can be told apart from a studio's own.
 */
export const standardMoves: Move[] = [
  ...waltzFigures,
  ...vienneseFigures,
  ...foxtrotFigures,
  ...rumbaFigures,
  ...tangoFigures,
  ...boleroFigures,
  ...chaChaFigures,
  ...swingFigures,
  ...westCoastFigures,
  ...hustleFigures,
  ...nightclubFigures,
  ...swayFigures,
  ...poses,
];
