import { expect, test } from 'vitest';
import { Gate, type How, type Kept } from '../../../app/_client/gate.ts';
import type { Policy } from '../../../app/_client/policy.ts';
import type { WaitingChange } from '../../../app/_client/waitingChanges.ts';
import { judge } from '../../../lib/core/agreed/policy.ts';
import { questionOf } from '../../../lib/core/agreed/question.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import { good } from '../../../lib/core/result.ts';
import { boardOf } from '../../kit/board.ts';

/** A gate whose policy is still on its way: `arrive` brings it, `fail` says that it does not come. */
function opened(board: Board) {
  let here: Policy | null = null;
  let [arrive, fail] = [() => {}, () => {}];
  const way = new Promise<void>((resolve, reject) => {
    arrive = resolve;
    fail = () => reject(new Error('no network'));
  });
  const made: string[] = [];
  const told: string[] = [];
  const kept: Kept = {
    role: 'couple',
    read: () => board,
    make: (area) => {
      made.push(area);
      return good(true);
    },
  };
  const load = async () => {
    await way;
    here = { judge, questionOf };
    return here;
  };
  const gate = new Gate(
    kept,
    { here: () => here, load },
    () => 'fresh',
    (problem) => told.push(problem),
  );
  return { gate, made, told, arrive, fail };
}

const settled = boardOf({}, { settled: { by: 'Marta', at: '2027-05-01T10:00:00.000Z', word: '' } });
const phrase = [{ register: 'phraseBars' as const, value: 4 }];
const heard = (): { how: How; said: unknown[] } => {
  const said: unknown[] = [];
  return { said, how: { done: (agreed) => said.push(agreed), not: (why) => said.push(why?.code ?? why) } };
};
/** Everything that is under way has come to its end. */
const settles = () => new Promise((resolve) => setTimeout(resolve));

test('what waits for the policy is made once that is there', async () => {
  const { gate, made, arrive } = opened(emptyBoard());
  const { how, said } = heard();
  expect(gate.change('plan', phrase, how)).toMatchObject({ problem: { code: 'waits' } });
  expect(made).toEqual([]);
  arrive();
  await settles();
  expect([made, said]).toEqual([['plan'], ['']]);
});

test('and is told that it is not made where the policy does not come, or refuses it', async () => {
  const lost = opened(emptyBoard());
  const first = heard();
  lost.gate.change('plan', phrase, first.how);
  lost.fail();
  await settles();
  expect([lost.made, first.said]).toEqual([[], ['missing']]);
  expect(lost.told.at(-1)).toContain('Try again');

  const refused = opened(emptyBoard());
  const second = heard();
  refused.gate.change('show', [{ register: 'lead', value: 3 }], second.how);
  refused.arrive();
  await settles();
  expect([refused.made, second.said]).toEqual([[], ['no right']]);
});

test('what only asks makes nothing, and what was agreed to is made without another question', async () => {
  const { gate, made, arrive } = opened(settled);
  const { how, said } = heard();
  gate.change('plan', phrase, { ...how, onlyAsks: true });
  arrive();
  await settles();
  expect(gate.question?.title).toBe('Marta has settled song and edit');
  gate.agree();
  expect([made, said.length, gate.question]).toEqual([[], 1, null]);
  expect(gate.change('plan', phrase, { agreed: String(said[0]) })).toEqual(good(true));
  expect([made, gate.question]).toEqual([['plan'], null]);
  expect(gate.change('plan', phrase, { agreed: 'something else' })).toMatchObject({
    problem: { code: 'waits' },
  });
});

test('what is declined is not made, and its caller is told', async () => {
  const { gate, made, arrive } = opened(settled);
  const { how, said } = heard();
  gate.change('plan', phrase, how);
  arrive();
  await settles();
  gate.decline();
  expect([made, said, gate.question]).toEqual([[], [null], null]);
  gate.agree();
  expect(made).toEqual([]);
});

test('a change that the page is left with before it can be judged is made by the next page, once', async () => {
  let place: WaitingChange[] = [];
  const kept = {
    read: () => place,
    write(waiting: readonly WaitingChange[]) {
      place = [...waiting];
    },
  };
  const never = { here: () => null, load: () => new Promise<Policy>(() => {}) };
  const made: unknown[] = [];
  const board: Kept = {
    role: 'couple',
    read: emptyBoard,
    make(area, changes) {
      made.push([area, changes]);
      return good(true);
    },
  };
  const left = new Gate(
    board,
    never,
    () => 'fresh',
    () => undefined,
    kept,
  );
  expect(left.change('plan', phrase)).toMatchObject({ ok: false, problem: { code: 'waits' } });
  expect(made).toEqual([]);
  const policy = { judge, questionOf };
  const here = { here: () => policy, load: async () => policy };
  const next = new Gate(
    board,
    here,
    () => 'fresh',
    () => undefined,
    kept,
  );
  next.resume();
  next.resume();
  expect([made, place]).toEqual([[['plan', phrase]], []]);
});
