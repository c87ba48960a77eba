import type { FootDiagram, FootMark } from '@/lib/core/dance/footDiagram.ts';

/** What stands around a foot diagram. */
export const footWords = {
  who: 'Whose feet',
  lead: 'Lead',
  follow: 'Follow',
  mirror: 'As in a mirror',
  untold: 'Nobody has told its steps, so there are no feet to draw.',
  noSteps: 'No step.',
  inWords: 'step by step',
  legend:
    'Left foot open, right foot filled, dashed without weight; the start is pale. Numbers are its counts.',
  drawn: 'Drawn from its steps with strides of 50 cm, each on their own, not measured.',
  other: 'It may begin with the other foot: then it goes as in a mirror.',
  begins: (on: number): string => `Its count 1 is count ${on} of the bar.`,
} as const;

const EIGHTHS = ['', 'an eighth', 'a quarter', 'three eighths', 'half', 'five eighths', 'three quarters'];

/** "three quarters of a turn to the left" */
function amount(degrees: number): string {
  const eighths = Math.abs(degrees) / 45;
  const [whole, rest] = [Math.floor(eighths / 8), [...EIGHTHS, 'seven eighths'][eighths % 8]!];
  const side = degrees < 0 ? 'to the left' : 'to the right';
  const turn = rest === 'half' ? 'half a turn' : `${rest} of a turn`;
  if (whole === 0) return `${turn} ${side}`;
  const round = whole === 1 ? 'once round' : whole === 2 ? 'twice round' : `${whole} times round`;
  return rest ? `${round} and ${turn} ${side}` : `${round} ${side}`;
}

/** How much a figure turns one of the two, as a sentence. */
export function turnWords({ marks, turn }: FootDiagram): string {
  if (turn !== 0) return `Turns ${amount(turn)}.`;
  return marks.some((mark) => mark.turn !== 0) ? 'Turns, and back again.' : 'No turn.';
}

/** "2 and" for the second half of count 2; short for where there is little room. */
export const countWords = (count: number, short = false): string =>
  Number.isInteger(count) ? `${count}` : `${Math.floor(count)}${short ? '&' : ' and'}`;

const TAKES = 'takes the weight where it stands';

function way({ foot, ahead, right }: FootMark): string {
  // Who turns meanwhile goes a little aslant: told from a third of the way on.
  const [a, r] = [Math.abs(ahead), Math.abs(right)];
  const along = a > 0 && a * 3 > r ? (ahead > 0 ? 'forward' : 'back') : '';
  const to = right > 0 ? 'right' : 'left';
  const side = r > 0 && r * 3 > a ? `${to === foot ? '' : 'across '}to the ${to}` : '';
  return [along, side].filter(Boolean).join(' and ');
}

/** "2: right foot to the right, turning an eighth to the left" */
export function stepWords(mark: FootMark): string {
  const { foot, how, turn } = mark;
  const does =
    how === 'touch'
      ? ['touches', way(mark), 'without weight']
      : how === 'close'
        ? ['closes', way(mark)]
        : how === 'step'
          ? [mark.ahead === 0 && mark.right === 0 ? 'on the spot' : mark.stays ? TAKES : way(mark)]
          : [how.replace('cross', 'crosses')];
  const turns = turn === 0 ? '' : `, turning ${amount(turn)}`;
  return `${countWords(mark.count)}: ${foot} foot ${does.filter(Boolean).join(' ')}${turns}`;
}

/** All that the drawing shows, for who hears the page. */
export function footSentence(name: string, diagram: FootDiagram, isMirrored: boolean): string {
  const whose = `${name}, the ${diagram.who}’s feet${isMirrored ? ', as in a mirror' : ''}.`;
  const steps =
    diagram.marks.length === 0 ? footWords.noSteps : `${diagram.marks.map(stepWords).join('; ')}.`;
  return `${whose} ${steps} ${turnWords(diagram)}`;
}
