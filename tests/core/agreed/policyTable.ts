import type { Gesture } from '../../../lib/core/agreed/gesture.ts';
import { judge, type Verdict } from '../../../lib/core/agreed/policy.ts';
import type { AreaShape } from '../../../lib/core/areas/area.ts';
import { type AreaName, areas, type Board } from '../../../lib/core/areas/board.ts';
import type { Change } from '../../../lib/core/areas/change.ts';
import { facts } from '../../../lib/core/areas/field.ts';
import { changesTo } from '../../../lib/core/areas/marks.ts';
import type { Role } from '../../../lib/core/areas/people.ts';
import { barAt, cutOut } from '../../kit/board.ts';
import { first, names, second, settled, states, withFinal, yesTo } from './samples.ts';

export type AnyChange = Change<AreaShape>;

/** A kind of change, by the person whose matter it is. */
export interface Kind {
  area: AreaName;
  /** As the table calls it. */
  words: string;
  changes: readonly AnyChange[];
  gesture: Gesture;
}

const writers: Record<AreaName, Role> = {
  plan: 'instructor',
  lessons: 'instructor',
  remarks: 'couple',
  answer: 'dj',
  show: 'planner',
};

/** Every register and every entry that an area can hold: set to something else, taken away, and of entries one more. */
function kindsOf(area: AreaName): Kind[] {
  const shape: AreaShape = areas[area];
  const [one, other] = [first, second].map((board) => board[area] as unknown as Record<string, unknown>);
  const gesture: Gesture = { role: writers[area], way: 'hand' };
  const kind = (words: string, ...changes: AnyChange[]): Kind => ({ area, words, changes, gesture });
  const registers = Object.entries(shape.registers).flatMap(([register, schema]) => [
    kind(`another value for ${schema[facts].called}`, { register, value: other![register] as never }),
    kind(`nothing for ${schema[facts].called}`, { register, value: null as never }),
  ]);
  const entries = Object.entries(shape.collections).flatMap(([collection, schema]) => {
    const { called } = schema[facts];
    return (one![collection] as { id: string }[]).slice(0, 1).flatMap(({ id }) => {
      const {
        id: _,
        text: _text,
        ...fields
      } = (other![collection] as ({ id: string; text?: unknown } & Record<string, unknown>)[]).find(
        (entry) => entry.id === id,
      )!;
      return [
        kind(`change ${called}`, { collection, id, fields }),
        kind(`take away ${called}`, { collection, id, fields: null }),
        kind(`one more: ${called}`, { collection, id: 'more', fields }),
      ];
    });
  });
  return [...registers, ...entries];
}

const fieldsOf = ({ id: _, ...fields }: { id: string }): Record<string, unknown> => fields;

/** Ways in that are more than one field by hand. */
const gestures: Kind[] = [
  {
    area: 'plan',
    words: 'a fix that moves what its note names',
    changes: [{ collection: 'placed', id: 'p', fields: { at: second.plan.placed[0]!.at } }],
    gesture: { role: 'couple', way: 'suggestion', about: ['p'] },
  },
  {
    area: 'plan',
    words: 'a fix or proposal that moves what somebody placed',
    changes: [{ collection: 'placed', id: 'p', fields: { at: second.plan.placed[0]!.at } }],
    gesture: { role: 'couple', way: 'suggestion' },
  },
  {
    area: 'plan',
    words: 'a fix of the edit',
    changes: [{ register: 'edit', value: second.plan.edit as never }],
    gesture: { role: 'couple', way: 'suggestion' },
  },
  {
    area: 'plan',
    words: 'an edit that leaves out a part of the dance',
    changes: [{ register: 'edit', value: cutOut(barAt(6), barAt(20)) as never }],
    gesture: { role: 'couple', way: 'hand' },
  },
  {
    area: 'plan',
    words: 'undo of an edit',
    changes: [{ register: 'edit', value: second.plan.edit as never }],
    gesture: { role: 'couple', way: 'undo' },
  },
  {
    area: 'plan',
    words: 'undo of moves that were added and are danced',
    changes: [{ collection: 'moves', id: 'waltz-box', fields: null }],
    gesture: { role: 'couple', way: 'undo' },
  },
  {
    area: 'plan',
    words: 'going back to a mark',
    changes: changesTo(first.plan, { ...second.plan, recording: first.plan.recording }) as AnyChange[],
    gesture: { role: 'instructor', way: 'mark' },
  },
  {
    area: 'plan',
    words: 'settling, by the instructor',
    changes: [{ register: 'settled', value: { ...settled, word: 'Done.' } as never }],
    gesture: { role: 'instructor', way: 'hand' },
  },
  {
    area: 'plan',
    words: 'settling, by the couple',
    changes: [{ register: 'settled', value: { ...settled, word: 'Done.' } as never }],
    gesture: { role: 'couple', way: 'hand' },
  },
  {
    area: 'plan',
    words: 'an edit that arrives at the server',
    changes: [{ register: 'edit', value: second.plan.edit as never }],
    gesture: { role: 'couple', way: 'arrived' },
  },
  {
    area: 'plan',
    words: 'an edit that arrives and opens what was settled',
    changes: [
      { register: 'edit', value: second.plan.edit as never },
      { register: 'settled', value: null as never },
    ],
    gesture: { role: 'couple', way: 'arrived' },
  },
  {
    area: 'answer',
    words: 'a yes to what is there',
    changes: [{ collection: 'answers', id: 'b', fields: fieldsOf(yesTo(first)) }],
    gesture: { role: 'dj', way: 'hand' },
  },
  {
    area: 'answer',
    words: 'a yes to something else',
    changes: [{ collection: 'answers', id: 'b', fields: fieldsOf(yesTo(second)) }],
    gesture: { role: 'dj', way: 'hand' },
  },
  {
    area: 'answer',
    words: 'a yes to something else that arrives',
    changes: [{ collection: 'answers', id: 'b', fields: fieldsOf(yesTo(second)) }],
    gesture: { role: 'dj', way: 'arrived' },
  },
  {
    area: 'answer',
    words: 'a yes by the couple',
    changes: [{ collection: 'answers', id: 'b', fields: fieldsOf(yesTo(first)) }],
    gesture: { role: 'couple', way: 'hand' },
  },
  {
    area: 'answer',
    words: 'other words for what the DJ said',
    changes: [{ collection: 'answers', id: 'a', fields: { ...fieldsOf(yesTo(first)), words: 'Well.' } }],
    gesture: { role: 'dj', way: 'hand' },
  },
  {
    area: 'show',
    words: 'a final word on what is there',
    changes: [{ register: 'final', value: withFinal(first).show!.final as never }],
    gesture: { role: 'planner', way: 'hand' },
  },
  {
    area: 'show',
    words: 'a final word on something else',
    changes: [{ register: 'final', value: withFinal(second).show!.final as never }],
    gesture: { role: 'planner', way: 'hand' },
  },
  ...(['dj', 'planner', 'crew'] as const).map(
    (role): Kind => ({
      area: 'plan',
      words: `an edit by ${role === 'crew' ? 'the crew' : `the ${role === 'dj' ? 'DJ' : role}`}`,
      changes: [{ register: 'edit', value: second.plan.edit as never }],
      gesture: { role, way: 'hand' },
    }),
  ),
];

export const kinds: Kind[] = [...names.flatMap(kindsOf), ...gestures];

export const verdictOn = (board: Board, { area, changes, gesture }: Kind): Verdict =>
  judge(board, area, changes as never, gesture);

function wordsOf(verdict: Verdict): string {
  switch (verdict.kind) {
    case 'allowed':
      return 'allowed';
    case 'refused':
      return `refused (${verdict.problem.code})`;
    case 'asks':
      return `asks: ${verdict.losses.map(({ kind }) => kind).join(', ')}`;
  }
}

/** The page of the docs that says what the policy answers. */
export function policyPage(): string {
  const head = Object.keys(states);
  const row = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const rows = kinds.map((kind) =>
    row([
      `${kind.area}: ${kind.words}`,
      ...Object.values(states).map((board) => wordsOf(verdictOn(board, kind))),
    ]),
  );
  return `# What may be changed, and what is asked first

Made from \`policy.ts\` by \`node --import tsx tests/core/agreed/write.ts\`, and held by a test: every kind of change, against what
may be agreed at that moment. A change by hand is by the person whose matter it is: instructor, couple, DJ or planner.

${[row(['change', ...head]), row(['---', ...head.map(() => '---')]), ...rows].join('\n')}
`;
}
