import type { Board } from '../../lib/core/areas/board.ts';
import { usualWalkOn } from '../../lib/core/dance/walkOn.ts';
import { toBase64 } from '../../lib/core/signal/base64.ts';
import type { SectionKind } from '../../lib/core/song/section.ts';
import { barAt, boardOf, cueAt, endingOn, libraryMove, micros, placed, type SongSpec } from '../kit/board.ts';
import { dice } from '../kit/synth.ts';

const figures = ['waltz-underarm', 'waltz-left-box', 'waltz-balance', 'waltz-whisk', 'waltz-roll-out-and-in'];
const form: [SectionKind, number][] = [
  ['intro', 8],
  ['verse', 32],
  ['chorus', 24],
  ['verse', 32],
  ['chorus', 24],
  ['bridge', 16],
  ['chorus', 24],
  ['outro', 20],
];

/**
 * A waltz at 90 of six minutes (180 bars) with 60 placed moves, one every three bars, a cut and a fade, 40 cues, a walk-on and an
 * ending; `times` as long and as full. A third of the moves stand where they should not, as half way through planning.
 */
export function longBoard(times: number): Board {
  const random = dice(11);
  const spec: SongSpec = { form: Array.from({ length: times }, () => form).flat() };
  const bars = 180 * times;
  const moves = ['waltz-box', 'lean-three', ...figures].map(libraryMove);
  const stray = () => (random() < 1 / 3 ? 0.667 * Math.floor(random() * 3) : 0);
  const cut = { from: micros(barAt(40)), to: micros(barAt(64)), crossfade: 0.03 };
  const frames = Math.ceil(barAt(bars) / 0.25);
  const bytes = (width: number) =>
    toBase64(Uint8Array.from({ length: frames * width }, () => 120 + Math.floor(random() * 80)));
  return boardOf(spec, {
    moves,
    placed: Array.from({ length: 60 * times }, (_, i) =>
      placed(
        `p${i}`,
        figures[Math.floor(random() * figures.length)]!,
        barAt(9 + i * 2.8 - ((i * 2.8) % 1)) + stray(),
      ),
    ),
    cues: Array.from({ length: 40 * times }, (_, i) => cueAt(`c${i}`, barAt(6 + i * 4), `word ${i}`)),
    walkOn: { ...usualWalkOn, firstStep: micros(barAt(8)) },
    edit: {
      start: micros(0),
      cuts: [cut],
      speed: 1,
      end: { kind: 'fade', from: micros(barAt(bars - 8)), length: 8, shape: 'linear', byHand: false },
    },
    ending: endingOn(barAt(bars - 7), ['waltz-roll-out-and-in', 'lean-three']),
    features: { frame: 0.25, loudness: bytes(1), chroma: bytes(12), timbre: bytes(6) },
    target: { length: 324 * times, within: 20 },
  });
}
