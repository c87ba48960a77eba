import { readFile } from 'node:fs/promises';
import { describe, expect, test } from 'vitest';
import { djFacts } from '../../../lib/core/agreed/dj.ts';
import { entryFacts } from '../../../lib/core/agreed/entry.ts';
import { questionOf } from '../../../lib/core/agreed/question.ts';
import { versionNumber } from '../../../lib/core/agreed/version.ts';
import type { AreaShape } from '../../../lib/core/areas/area.ts';
import { areas, type Board } from '../../../lib/core/areas/board.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { nightCard } from '../../../lib/core/handover/night.ts';
import { stages } from '../../../lib/core/handover/stages.ts';
import { entryCsv } from '../../../lib/export/csv.ts';
import { openedBoard } from '../../kit/page.ts';
import { kinds, policyPage, verdictOn } from './policyTable.ts';
import { names, states } from './samples.ts';

/** What screens and papers are made of. */
function shown(board: Board): string {
  const findings = checkBoard(board, '2027-05-20');
  const entry = entryFacts(board);
  return JSON.stringify([
    findings.map(({ fix: _, ...finding }) => finding),
    stages(board, findings),
    djFacts(board, versionNumber(board)),
    entry,
    entryCsv(entry),
    nightCard(board),
  ]);
}

test('the page of the docs says what the policy answers', async () => {
  const page = await readFile(new URL('../../../lib/core/agreed/POLICY.md', import.meta.url), 'utf8');
  expect(page).toBe(policyPage());
});

test('every field of every area has its rows', () => {
  const rows = kinds.map(({ area, changes }) =>
    changes.map((change) => `${area}.${'register' in change ? change.register : change.collection}`),
  );
  for (const area of names) {
    const shape: AreaShape = areas[area];
    for (const field of [...Object.keys(shape.registers), ...Object.keys(shape.collections)])
      expect(rows.flat()).toContain(`${area}.${field}`);
  }
});

const asking = Object.entries(states).flatMap(([state, board]) =>
  kinds.flatMap((kind) => {
    const verdict = verdictOn(board, kind);
    return verdict.kind === 'asks' ? [{ state, board, kind, verdict }] : [];
  }),
);

describe('where the policy asks, without an answer nothing has changed on any screen or paper', () => {
  test.each(asking)('$state, $kind.words', ({ board, kind, verdict }) => {
    const opened = openedBoard(board);
    const page = opened.page(kind.gesture.role);
    const before = shown(board);
    const { way, about } = kind.gesture;
    if (way === 'arrived' || way === 'import') throw new Error('a page does not send this way');
    const ask = () => page.change(kind.area, kind.changes as never, { way, ...(about && { about }) });

    expect(ask()).toMatchObject({ ok: false, problem: { code: 'waits' } });
    expect(page.gate.question).toEqual(questionOf(verdict.losses));
    expect(opened.read()).toBe(board);
    expect(shown(opened.read())).toBe(before);

    page.gate.decline();
    expect([opened.read(), page.gate.question, page.steps.canUndo]).toEqual([board, null, false]);

    ask();
    page.gate.agree();
    expect(opened.read()).not.toEqual(board);
    expect(page.gate.question).toBeNull();
    // What was settled is lifted by the same change, so that the server takes it.
    const settledLost = verdict.losses.some(({ kind }) => kind === 'settled');
    if (settledLost) expect(opened.read().plan.settled).toBeNull();
    else expect(opened.read().plan.settled).toEqual(board.plan.settled);
  });
});

test('a question is asked again where something else would be lost by the time of the answer', () => {
  const opened = openedBoard(states.settled);
  const page = opened.page('couple');
  const longer = [{ register: 'phraseBars' as const, value: 2 }];
  page.change('plan', longer);
  opened.put({
    ...opened.read(),
    plan: { ...opened.read().plan, settled: { ...states.settled.plan.settled!, word: 'Wait.' } },
  });
  page.gate.agree();
  expect(opened.read().plan.phraseBars).not.toBe(2);
  expect(page.gate.question?.parts[0]?.words).toMatch(/Wait\./);
  page.gate.agree();
  expect(opened.read().plan.phraseBars).toBe(2);
});
