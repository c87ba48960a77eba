import type { DanceHold, Move, Position } from '../move.ts';
import { BETWEEN } from '../stance.ts';
import type { DanceStep } from '../step.ts';
import { stepsOf } from '../stepping.ts';
import { type DanceStyle, figure } from './figures.ts';

/**
 * Short links that make two figures connect: common practice, no source. They stand on the sheet like any move, and the couple need
 * not learn them: one waits, one changes weight, the others open or close the hold while both sway on the spot.
 */
const styles = {
  three: { dance: 'own', metre: 3, level: 'beat', hold: 'closed', leastSeconds: 0.28 },
  four: { dance: 'own', metre: 4, level: 'beat', hold: 'closed', leastSeconds: 0.28 },
} as const satisfies Record<string, DanceStyle>;

const source = 'common practice, no source';
type Held = [hold: DanceHold, position: Position];
const CHANGES: [id: string, name: string, from: Held, to: Held, does: string][] = [
  ['open', 'Open the hold', ['closed', 'facing'], ['open', 'facing'], 'let out to the length of the arms'],
  ['close', 'Close the hold', ['open', 'facing'], ['closed', 'facing'], 'come back into closed hold'],
  [
    'close-one',
    'Close from one hand',
    ['one hand', 'facing'],
    ['closed', 'facing'],
    'come back into closed hold',
  ],
  ['one', 'Let go of one hand', ['closed', 'facing'], ['one hand', 'facing'], 'let go of one hand'],
  ['two', 'Take both hands', ['closed', 'facing'], ['two hands', 'facing'], 'take both hands'],
  [
    'close-two',
    'Close from both hands',
    ['two hands', 'facing'],
    ['closed', 'facing'],
    'come back into closed hold',
  ],
  [
    'take-two',
    'Take the other hand',
    ['one hand', 'facing'],
    ['two hands', 'facing'],
    'take the other hand too',
  ],
  ['meet', 'Come together', ['apart', 'facing'], ['closed', 'facing'], 'come together into closed hold'],
  ['promenade', 'Open to promenade', ['closed', 'facing'], ['closed', 'promenade'], 'open to promenade'],
  ['face', 'Turn to face', ['closed', 'promenade'], ['closed', 'facing'], 'turn to face each other'],
  [
    'beside',
    'Open out beside each other',
    ['closed', 'facing'],
    ['side by side', 'side by side'],
    'open out beside each other',
  ],
  [
    'from-beside',
    'Turn in to face',
    ['side by side', 'side by side'],
    ['closed', 'facing'],
    'turn in to each other and take closed hold',
  ],
  [
    'shadow',
    'Turn into shadow position',
    ['closed', 'facing'],
    ['shadow', 'shadow'],
    'turn so that both face the same way, one behind the other',
  ],
  [
    'from-shadow',
    'Turn out of shadow position',
    ['shadow', 'shadow'],
    ['closed', 'facing'],
    'turn back and take closed hold',
  ],
];

/** The follow turns by so many eighths, without taking weight. */
const turned = (eighths: number): DanceStep[] =>
  eighths === 0
    ? []
    : [
        {
          begins: 0,
          lasts: 1,
          who: 'follow',
          foot: 'right',
          how: 'touch',
          where: { along: 0, side: 0 },
          turn: eighths,
        },
      ];

function linksIn(metre: 'three' | 'four'): Move[] {
  const style = styles[metre];
  const bar = style.metre;
  const common = { link: true, room: 1.5, source, steps: [] };
  const wait = (counts: number): Move =>
    figure(style, {
      ...common,
      id: `link-wait-${metre}-${counts}`,
      name: counts === bar ? 'Wait a bar' : counts === 1 ? 'Wait a count' : 'Wait two counts',
      counts,
      rhythm: counts === 1 ? 'wait' : 'wait, and breathe',
      lead: 'Stays, swaying a little, without a step.',
      follow: 'Stays, swaying a little, without a step.',
    });
  const weight = (counts: number): Move =>
    figure(style, {
      ...common,
      id: `link-weight-${metre}-${counts}`,
      name: counts === bar ? 'Change of weight' : 'Quick change of weight',
      counts,
      rhythm: counts === 1 ? 'side' : 'side, touch',
      lead: 'One small step to the side; the other foot comes to it without weight.',
      follow: 'One small step to the side; the other foot comes to it without weight.',
      eitherFoot: true,
      steps: stepsOf(
        counts === 1
          ? { foot: 'left', rhythm: [1], ways: ['place'] }
          : { foot: 'left', rhythm: [1, counts - 1], ways: ['place', 'touch'] },
      ),
    });
  const changes = CHANGES.map(([id, name, [holdBefore, positionBefore], [holdAfter, positionAfter], does]) =>
    figure(style, {
      ...common,
      id: `link-${id}-${metre}`,
      name,
      counts: bar,
      rhythm: 'sway for a bar',
      lead: `Sways on the spot; both ${does}.`,
      follow: `Sways on the spot; both ${does}.`,
      holdBefore,
      holdAfter,
      positionBefore,
      positionAfter,
      steps: turned(BETWEEN[positionAfter] - BETWEEN[positionBefore]),
    }),
  );
  const short = metre === 'three' ? [1] : [1, 2];
  return [wait(bar), weight(bar), ...short.flatMap((counts) => [wait(counts), weight(counts)]), ...changes];
}

export const links: Move[] = [...linksIn('three'), ...linksIn('four')];
