import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Checks } from '../../../app/_client/checks.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { boardOf } from '../../kit/board.ts';

// The page's own idle time is asked for by a timer where the browser has no other way.
beforeEach(() => void vi.stubGlobal('window', globalThis));
afterEach(() => void vi.unstubAllGlobals());

const [one, other] = [boardOf(), boardOf({}, { edit: null, ending: null, venue: 'The Boathouse' })];
const TODAY = '2027-05-20';

test('the checks speak of each board that is shown, and of one that came meanwhile afterwards', async () => {
  const said: boolean[] = [];
  const checks = new Checks(() => said.push(checks.isChecked));
  expect([checks.said, checks.isChecked]).toEqual([null, false]);
  checks.see(one, TODAY);
  checks.begin();
  checks.see(other, TODAY);
  await vi.waitFor(() => expect(said).toHaveLength(1));
  // Of the one before: the page has another by now.
  expect(said).toEqual([false]);
  checks.begin();
  await vi.waitFor(() => expect(said).toHaveLength(2));
  expect(checks.isChecked).toBe(true);
  expect(checks.said!.findings.map(({ id }) => id)).toEqual(checkBoard(other, TODAY).map(({ id }) => id));
});

test('a board that was seen is not looked at again, and after the end nothing is said', async () => {
  const said = vi.fn();
  const checks = new Checks(said);
  checks.see(one, TODAY);
  checks.begin();
  await vi.waitFor(() => expect(said).toHaveBeenCalledTimes(1));
  checks.see(one, TODAY);
  checks.begin();
  expect(checks.isChecked).toBe(true);
  checks.see(other, TODAY);
  checks.begin();
  checks.end();
  // Another page that begins later has heard by then.
  const later = vi.fn();
  const others = new Checks(later);
  others.see(other, TODAY);
  others.begin();
  await vi.waitFor(() => expect(later).toHaveBeenCalledTimes(1));
  expect(said).toHaveBeenCalledTimes(1);
});
