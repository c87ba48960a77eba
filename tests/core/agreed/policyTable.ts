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

/** A gesture of its own: who makes it and by which way, as the table calls it, and what it changes. */
const by =
  (role: Role, way: Gesture['way'], about?: readonly string[]) =>
  (area: AreaName, words: string, ...changes: AnyChange[]): Kind => ({
    ...{ area, words, changes },
    gesture: { role, way, ...(about && { about }) },
  });
const to = (register: string, value: unknown): AnyChange => ({ register, value: value as never });

const moved: AnyChange = { collection: 'placed', id: 'p', fields: { at: second.plan.placed[0]!.at } };
const edited = to('edit', second.plan.edit);
const done = to('settled', { ...settled, word: 'Done.' });
const saysYes = (board: Board, id: string, more = {}): AnyChange => ({
  ...{ collection: 'answers', id },
  fields: { ...fieldsOf(yesTo(board)), ...more },
});

/** Ways in that are more than one field by hand. */
const gestures: Kind[] = [
  by('couple', 'suggestion', ['p'])('plan', 'a fix that moves what its note names', moved),
  by('couple', 'suggestion')('plan', 'a fix or proposal that moves what somebody placed', moved),
  by('couple', 'suggestion')('plan', 'a fix of the edit', edited),
  by('couple', 'hand')(
    'plan',
    'an edit that leaves out a part of the dance',
    to('edit', cutOut(barAt(6), barAt(20))),
  ),
  by('couple', 'undo')('plan', 'undo of an edit', edited),
  by('couple', 'undo')('plan', 'undo of moves that were added and are danced', {
    ...{ collection: 'moves', id: 'waltz-box', fields: null },
  }),
  by('instructor', 'mark')(
    'plan',
    'going back to a mark',
    ...(changesTo(first.plan, { ...second.plan, recording: first.plan.recording }) as AnyChange[]),
  ),
  by('instructor', 'hand')('plan', 'settling, by the instructor', done),
  by('couple', 'hand')('plan', 'settling, by the couple', done),
  by('couple', 'arrived')('plan', 'an edit that arrives at the server', edited),
  by('couple', 'arrived')(
    'plan',
    'an edit that arrives and opens what was settled',
    edited,
    to('settled', null),
  ),
  by('dj', 'hand')('answer', 'a yes to what is there', saysYes(first, 'b')),
  by('dj', 'hand')('answer', 'a yes to something else', saysYes(second, 'b')),
  by('dj', 'arrived')('answer', 'a yes to something else that arrives', saysYes(second, 'b')),
  by('couple', 'hand')('answer', 'a yes by the couple', saysYes(first, 'b')),
  by('dj', 'hand')('answer', 'other words for what the DJ said', saysYes(first, 'a', { words: 'Well.' })),
  by('planner', 'hand')('show', 'a final word on what is there', to('final', withFinal(first).show!.final)),
  by('planner', 'hand')('show', 'a final word on something else', to('final', withFinal(second).show!.final)),
  by('dj', 'hand')('plan', 'an edit by the DJ', edited),
  by('planner', 'hand')('plan', 'an edit by the planner', edited),
  by('crew', 'hand')('plan', 'an edit by the crew', edited),
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
