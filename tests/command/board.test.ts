import { readFile, writeFile } from 'node:fs/promises';
import { parse } from 'csv-parse/sync';
import ICAL from 'ical.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../server/command/run.ts';
import { boardOf, fadeAt } from '../kit/board.ts';
import { checkShape } from './shapes.ts';
import { answerOf, newFolder } from './songs.ts';

/** The verbs that read a board, run on one made here. */
let folder: Awaited<ReturnType<typeof newFolder>>;
let file: string;

beforeAll(async () => {
  folder = await newFolder();
  file = folder.path('board.json');
  const board = boardOf();
  await writeFile(
    file,
    JSON.stringify({
      ...board,
      show: { ...board.show, time: '20:30', zone: 'Europe/Lisbon' },
    }),
  );
});
afterAll(() => folder.remove());

describe('check', () => {
  it('answers in the promised shape; exit 1 exactly when something blocks', async () => {
    const { code, out, line } = await run(['check', file, '--today', '2027-05-01', '--json']);
    const { findings } = checkShape.parse(JSON.parse(out));
    expect(code).toBe(findings.some(({ severity }) => severity === 'blocks') ? 1 : 0);
    expect(line).toContain(`${findings.length} finding`);
  });

  it('ends with 1 when a band is asked to fade', async () => {
    const faded = folder.path('band.json');
    await writeFile(faded, JSON.stringify(boardOf({}, { musicBy: 'band', edit: fadeAt(120, 8) })));
    const { code, out, line } = await run(['check', faded, '--today', '2027-05-01']);
    expect(code).toBe(1);
    expect(out).toMatch(/^blocks /m);
    expect(line.split('\n')).toHaveLength(1);
  });

  it('says when rules were not run for want of an area', async () => {
    const part = folder.path('part.json');
    await writeFile(part, JSON.stringify({ plan: boardOf().plan }));
    const { line } = await run(['check', part, '--today', '2027-05-01']);
    expect(line).toMatch(/\d+ rules not run/);
  });
});

describe('hand', () => {
  const hand = (to: string, name: string) => answerOf('hand', file, '--to', to, '--out', folder.path(name));
  const text = async (name: string) => readFile(folder.path(name), 'utf8');

  it('gives the planner a calendar that another reader reads (RFC 5545)', async () => {
    await hand('planner', 'planner.ics');
    const event = new ICAL.Component(ICAL.parse(await text('planner.ics'))).getFirstSubcomponent('vevent')!;
    expect(new ICAL.Event(event).startDate.toString()).toBe('2027-06-12T20:30:00');
  });

  it('gives a table that another reader reads (RFC 4180)', async () => {
    await hand('planner', 'planner.csv');
    const rows = parse(await text('planner.csv')) as string[][];
    expect(rows.length).toBeGreaterThan(2);
    expect(new Set(rows.map((row) => row.length)).size).toBe(1);
  });

  it('gives words and moves as WebVTT', async () => {
    await hand('couple', 'couple.vtt');
    expect(await text('couple.vtt')).toMatch(/^WEBVTT/);
  });

  it.each(['dj', 'couple', 'planner'])('gives the %s a sheet as PDF', async (to) => {
    await hand(to, `${to}.pdf`);
    expect((await readFile(folder.path(`${to}.pdf`))).subarray(0, 5).toString()).toBe('%PDF-');
  });
});
