import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import ICAL from 'ical.js';
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it } from 'vitest';
import { Entry } from '../../app/_handover/entry.tsx';
import { djFacts } from '../../lib/core/agreed/dj.ts';
import { announcedWords, danceTime, entryFacts, keptFacts } from '../../lib/core/agreed/entry.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import type { Day, TimeOfDay } from '../../lib/core/calendar.ts';
import { usualWalkOn } from '../../lib/core/dance/walkOn.ts';
import type { Edit } from '../../lib/core/edit/edit.ts';
import { wholeSong } from '../../lib/core/edit/edit.ts';
import { nightCard } from '../../lib/core/handover/night.ts';
import { coupleSheet } from '../../lib/export/coupleSheet.ts';
import { entryCsv } from '../../lib/export/csv.ts';
import { djSheet as djPaper } from '../../lib/export/djSheet.ts';
import { entrySheet } from '../../lib/export/entrySheet.ts';
import { entryIcs } from '../../lib/export/ics.ts';
import { entryPdf } from '../../lib/export/pdf.ts';
import { movesVtt } from '../../lib/export/vtt.ts';
import {
  barAt,
  boardOf,
  cueAt,
  cutOut,
  endingOn,
  fadeAt,
  libraryMove,
  micros,
  placed,
} from '../kit/board.ts';
import { printed } from '../kit/printed.ts';
import { textOf } from '../kit/textOf.ts';
import { instantOf, wallAt } from '../kit/wall.ts';

/**
 * Everything that tells a time of one evening is made of one board, and read by readers that are not ours (csv-parse, ical.js,
 * React's own) or as it is printed; instants are reckoned by the platform's Intl alone.
 */

/** With whole, half and quarter hours, with clock changes of an hour, of half one, at midnight, and none. */
const ZONES = [
  'Europe/Lisbon',
  'Europe/Berlin',
  'America/New_York',
  'America/St_Johns',
  'America/Havana',
  'America/Santiago',
  'Asia/Kolkata',
  'Asia/Kathmandu',
  'Asia/Beirut',
  'Africa/Cairo',
  'Australia/Adelaide',
  'Australia/Lord_Howe',
  'Pacific/Chatham',
  'Pacific/Auckland',
  'UTC',
];
/** Days in whose night some of these change their clocks, and others. */
const DAYS: Day[] = [
  '2027-03-13',
  '2027-03-14',
  '2027-03-27',
  '2027-03-28',
  '2027-04-03',
  '2027-04-04',
  '2027-04-29',
  '2027-04-30',
  '2027-09-04',
  '2027-09-26',
  '2027-10-03',
  '2027-10-28',
  '2027-10-30',
  '2027-10-31',
  '2027-11-06',
  '2027-11-07',
  '2027-12-31',
  '2028-02-28',
  '2028-02-29',
];

const BARE = { strip: null, size: 'A4' } as const;

const two = (n: number) => String(n).padStart(2, '0');
const times: fc.Arbitrary<TimeOfDay> = fc
  .record({
    // Most dances are in the evening or soon after midnight, where clocks change.
    hour: fc.oneof(fc.nat(23), fc.nat(3), fc.constantFrom(19, 20, 21, 22, 23)),
    minute: fc.oneof(fc.nat(59), fc.constantFrom(0, 29, 30, 57, 58, 59)),
    second: fc.option(fc.nat(59), { nil: null }),
  })
  .map(
    ({ hour, minute, second }) =>
      `${two(hour)}:${two(minute)}${second === null ? '' : `:${two(second)}`}` as TimeOfDay,
  );
const maybe = <T>(one: fc.Arbitrary<T>) => fc.option(one, { nil: null, freq: 8 });

const boards: fc.Arbitrary<Board> = fc
  .record({
    bpm: fc.constantFrom(83, 90, 97.3, 104.9),
    lead: fc.constantFrom(0, 0.37, 1.5),
    edit: fc.constantFrom<'whole' | 'cut' | 'fade'>('whole', 'cut', 'fade'),
    firstStep: fc.nat(12),
    // Chosen in music that is played, or that the cut leaves out, or not at all.
    pose: fc.oneof(fc.integer({ min: 98, max: 110 }), fc.integer({ min: 50, max: 80 }), fc.constant(null)),
    date: maybe(fc.constantFrom(...DAYS)),
    time: maybe(times),
    afterMidnight: maybe(fc.boolean()),
    zone: fc.oneof(
      { weight: 8, arbitrary: fc.constantFrom(...ZONES) },
      { weight: 1, arbitrary: fc.constantFrom(null, '', 'Nowhere/Land') },
    ),
    before: maybe(fc.oneof(fc.nat(1800), fc.double({ min: 0, max: 90, noNaN: true }))),
    applause: maybe(fc.oneof(fc.nat(60), fc.double({ min: 0, max: 60, noNaN: true }))),
    moments: fc.array(fc.double({ min: 0, max: 250, noNaN: true }), { maxLength: 4 }),
  })
  .map(({ bpm, lead, edit, firstStep, pose, date, time, afterMidnight, zone, before, applause, moments }) => {
    const spec = { bpm, lead };
    const bar = (n: number) => barAt(n, spec);
    const edits: Record<typeof edit, Edit> = {
      whole: wholeSong,
      cut: cutOut(bar(48), bar(88)),
      fade: fadeAt(bar(111), 5.3),
    };
    const board = boardOf(spec, {
      date,
      moves: ['waltz-box', 'waltz-underarm', 'dip-three'].map(libraryMove),
      cues: [cueAt('a', bar(firstStep), 'lanterns'), cueAt('b', bar(pose ?? 100), 'homeward')],
      placed: [placed('p', 'waltz-underarm', bar(24), 2)],
      edit: edits[edit],
      ending: pose === null ? null : endingOn(bar(pose), ['dip-three']),
      walkOn: { ...usualWalkOn, from: 'the garden door', firstStep: micros(bar(firstStep)) },
    });
    const said = moments.map((at, i) => ({ id: `m${i}`, at: micros(at), who: 'lights', what: `light ${i}` }));
    return {
      ...board,
      show: {
        ...board.show!,
        time,
        afterMidnight,
        zone,
        lead: before,
        applause,
        announcedBy: 'Kim',
        moments: said,
      },
    };
  });

/** Whole seconds of `3:05`, as every paper prints a length or a moment of the music. */
const secondsOf = (clock: string): number => {
  const [, minutes, seconds] = /^(\d+):(\d\d)$/.exec(clock)!;
  return Number(minutes) * 60 + Number(seconds);
};
/** The day so many days after, by the platform's own count in UTC. */
const later = (day: string, days: number) =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);

/** What the board says of the beginning, worked out without lib: its wall time, and the wall so many seconds later. */
function truthOf({ plan, show }: Board) {
  const { time, zone, afterMidnight } = show!;
  if (!plan.date || !time) return null;
  const wall = `${later(plan.date, afterMidnight ? 1 : 0)}T${time.length === 5 ? `${time}:00` : time}`;
  const known = zone !== null && ZONES.includes(zone) ? zone : null;
  const begins = known ? instantOf(wall, known) : Date.parse(`${wall}Z`);
  return {
    wall,
    known,
    begins,
    wallAfter: (seconds: number) => wallAt(known ?? 'UTC', begins + seconds * 1000),
  };
}

/** Instant of a time in a calendar, in milliseconds; of one that floats what its wall would be in UTC. */
function instantIn(time: ICAL.Time, calendar: ICAL.Component, tzid: string | undefined): number {
  const zone = calendar
    .getAllSubcomponents('vtimezone')
    .find((one) => one.getFirstPropertyValue('tzid') === tzid);
  const copy = time.clone();
  if (zone) copy.zone = new ICAL.Timezone(zone);
  return copy.toUnixTime() * 1000;
}

function agree(board: Board): void {
  const entry = entryFacts(board);
  const truth = truthOf(board);
  const { facts } = entry;
  const before = Number(/^\d+/.exec(facts['before the music']!)![0]);
  const total = secondsOf(facts['in all']!);
  // What stands on a paper adds up.
  expect(total).toBe(before + secondsOf(facts.music!) + Number(/^\d+/.exec(facts.applause!)![0]));

  const rows = parse(entryCsv(entry)) as string[][];
  const moments = rows.slice(1).filter(([, inMusic]) => inMusic !== '') as [string, string, string, string][];
  expect(moments.length).toBeGreaterThan(1);
  const shown = moments.map(([wall, inMusic]) => {
    const expected = truth ? truth.wallAfter(before + secondsOf(inMusic)).slice(11) : '';
    expect(wall).toBe(expected);
    return { wall, inMusic };
  });

  // The sheet of the planner, row by row.
  const sheet = printed(entrySheet(entry, BARE));
  for (const [wall, inMusic, who, what] of moments) {
    const row = sheet.findIndex(
      (line, i) => line === (wall || inMusic) && sheet[i + 1] === who && sheet[i + 2]!.endsWith(what),
    );
    expect(row, `${wall} ${who}: ${what}`).toBeGreaterThan(0);
    expect(sheet[row + 2]).toBe(wall ? `${inMusic}: ${what}` : what);
  }
  for (const [figure, fact] of [
    ['music', facts.music],
    ['in all', facts['in all']],
  ] as const)
    expect(sheet[sheet.indexOf(figure) + 1]).toBe(fact);

  // The screen, by React's own reader.
  const screen = renderToStaticMarkup(createElement(Entry, { entry })).replace(/<[^>]*>/g, '|');
  for (const { wall, inMusic } of shown) {
    expect(screen).toContain(`|${inMusic}|`);
    if (wall) expect(screen).toContain(`|${wall}|`);
  }

  // The calendar.
  const ics = entryIcs(entry, { id: 'b', place: 'The Glasshouse', stamp: '2027-01-01T12:00:00.000Z' });
  expect(ics.ok).toBe(truth !== null);
  if (ics.ok && truth) {
    const calendar = new ICAL.Component(ICAL.parse(ics.value));
    const events = calendar.getAllSubcomponents('vevent');
    expect(events).toHaveLength(moments.length + 1);
    for (const event of events)
      expect(String(event.getFirstPropertyValue('dtstamp'))).toBe('2027-01-01T12:00:00Z');
    const at = (event: ICAL.Component, name: 'dtstart' | 'dtend') =>
      instantIn(
        event.getFirstPropertyValue(name) as ICAL.Time,
        calendar,
        event.getFirstProperty(name)!.getFirstParameter('tzid'),
      );
    const [dance, ...others] = events;
    expect([at(dance!, 'dtstart'), at(dance!, 'dtend')]).toEqual([truth.begins, truth.begins + total * 1000]);
    expect(others.map((event) => at(event, 'dtstart'))).toEqual(
      moments.map(([, inMusic]) => truth.begins + (before + secondsOf(inMusic)) * 1000),
    );
    // A time in a zone comes with the zone's rules; without a zone it floats.
    const { value } = ics;
    expect(value.includes('TZID=')).toBe(value.includes('BEGIN:VTIMEZONE'));
    if (!truth.known) expect(value).toMatch(/DTSTART:\d{8}T\d{6}\r/);
  }

  // The DJ's, the couple's and the captions keep the music's own time.
  const dj = djFacts(board, 1);
  const djSheet = printed(djPaper(dj, { ...BARE, given: null }));
  const card = nightCard(board)!;
  const couple = printed(coupleSheet(board, card, 'A4'));
  expect(djSheet[djSheet.indexOf('let it ring to') + 1]).toBe(facts.music);
  expect(dj.lines[1]).toContain(`: ${facts.music} of music`);
  expect(dj.lines[4]).toContain(`ring to ${facts.music};`);
  expect(couple[1]).toContain(`the music lasts ${facts.music}`);
  const inMusic = (what: string) => moments.find((row) => row[3].startsWith(what))?.[1];
  const onCouple = (does: string) => couple[couple.findIndex((line) => line.startsWith(does)) - 2];
  expect(onCouple('first step')).toBe(inMusic('first step'));
  const step = /first step\n(\d\d):(\d\d):(\d\d\.\d{3}) -->/.exec(movesVtt(board.plan, 'floor'))!;
  expect(Math.round(Number(step[2]) * 60 + Number(step[3]))).toBe(secondsOf(inMusic('first step')!));
  const pose = inMusic('closing pose');
  expect(djSheet[djSheet.indexOf('closing pose') + 1]).toBe(
    pose ?? (board.plan.ending ? 'left out' : 'open'),
  );
  if (pose) {
    expect(onCouple('closing pose')).toBe(pose);
    expect(couple.some((line) => line.includes(`closing pose ${pose}, kept`))).toBe(true);
    expect(dj.lines[4]).toMatch(new RegExp(`^Closing pose at ${pose}[; ]`));
  }

  // All name the one day, and the night card the one time.
  const { date } = board.plan;
  const day =
    date && new Date(`${date}T00:00:00Z`).toLocaleDateString('en-GB', { timeZone: 'UTC', dateStyle: 'long' });
  if (day) for (const line of [dj.lines[0], djSheet[1], couple[1]]) expect(line).toContain(day);
  const time = board.show!.time?.replace(/^(..:..):00$/, '$1') ?? '';
  expect(announcedWords(danceTime(board))).toBe(
    time && board.show!.afterMidnight ? `${time}, after midnight` : time,
  );
  expect(sheet[1]!.includes(time)).toBe(true);
  if (truth) expect(facts.starts).toBe(`${truth.wall.slice(0, 10)} ${board.show!.time}`);
}

it('every paper and page of one board tells the same seconds', () => {
  fc.assert(fc.property(boards, agree), { seed: 20271031, numRuns: 150 });
}, 120_000);

it.each<[zone: string, date: Day, time: TimeOfDay]>([
  // Rules of the European Union, of the United States, and of New South Wales for Lord Howe, whose clocks change by half an hour.
  ['Europe/Berlin', '2027-10-31', '02:58'],
  ['Europe/Berlin', '2027-03-28', '01:58:30'],
  ['America/New_York', '2027-11-07', '01:59:59'],
  ['America/New_York', '2027-03-14', '02:15'],
  ['Australia/Lord_Howe', '2027-04-04', '01:57'],
  ['Australia/Lord_Howe', '2027-10-03', '01:59'],
])('so they do while the clocks are changed: %s, %s, %s', (zone, date, time) => {
  const [board] = fc.sample(boards, { seed: 3, numRuns: 1 });
  const show = { ...board!.show!, zone, time, afterMidnight: null, lead: 60 };
  agree({ ...board!, plan: { ...board!.plan, date }, show });
});

it('a PDF holds what its sheet says', async () => {
  for (const board of fc.sample(boards, { seed: 5, numRuns: 3 })) {
    const entry = entryFacts(board);
    const text = textOf(await entryPdf(board));
    if (text === null) return console.warn('pdftotext is not installed: the PDF itself was not read');
    for (const line of printed(entrySheet(entry, BARE)).filter((one) => /^[\d:]+$/.test(one)))
      expect(text).toContain(line);
  }
});

it('what a paper prints outdates the planner’s word that it is final', () => {
  const papersOf = (board: Board) => {
    const { final: _final, ...entry } = entryFacts({ ...board, show: { ...board.show!, final: null } });
    const ics = entryIcs(
      { ...entry, final: null },
      { id: 'b', place: board.plan.venue ?? '', stamp: '2027-01-01T12:00:00.000Z' },
    );
    return JSON.stringify([
      printed(entrySheet({ ...entry, final: null }, BARE)),
      entryCsv({ ...entry, final: null }),
      ics.ok ? ics.value : null,
    ]);
  };
  const outdated = (was: Board, is: Board): boolean => {
    const { digest, facts } = entryFacts(was);
    const final = { digest, facts: keptFacts(facts), at: '2027-01-01T00:00:00.000Z' as const, by: 'Kim' };
    const said = entryFacts({ ...is, show: { ...is.show!, final } }).final!;
    expect(said.outdated).toBe(said.differs.length > 0);
    return said.outdated;
  };
  fc.assert(
    fc.property(
      boards,
      boards,
      fc.constantFrom(
        'time',
        'afterMidnight',
        'zone',
        'lead',
        'applause',
        'moments',
        'date',
        'edit',
        'ending',
        'walkOn',
      ),
      (was, other, name) => {
        // One thing of the board is another's.
        const is: Board =
          name in was.show!
            ? { ...was, show: { ...was.show!, [name]: other.show![name as 'time'] } }
            : { ...was, plan: { ...was.plan, [name]: other.plan[name as 'date'] } };
        expect(outdated(was, is)).toBe(papersOf(was) !== papersOf(is));
      },
    ),
    { seed: 7, numRuns: 300 },
  );
}, 60_000);
