import { parse } from 'csv-parse/sync';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { djFacts } from '../../lib/core/agreed/dj.ts';
import { entryFacts } from '../../lib/core/agreed/entry.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import type { Day, TimeOfDay } from '../../lib/core/calendar.ts';
import { usualWalkOn } from '../../lib/core/dance/walkOn.ts';
import { csv, csvField, entryCsv } from '../../lib/export/csv.ts';
import { entryIcs } from '../../lib/export/ics.ts';
import { fiveLines } from '../../lib/export/text.ts';
import { movesVtt, vttClock } from '../../lib/export/vtt.ts';
import { vtimezone as vtimezoneOf } from '../../lib/export/zones.ts';
import { barAt, boardOf, cueAt, cutOut, endingOn, libraryMove, micros, placed } from '../kit/board.ts';

const board: Board = boardOf(
  {},
  {
    moves: ['waltz-box', 'waltz-underarm', 'lean-three'].map(libraryMove),
    cues: [
      cueAt('a', barAt(8), 'lanterns'),
      cueAt('b', barAt(47), 'until'),
      cueAt('c', barAt(105), 'home --> & <ward>'),
    ],
    placed: [placed('p', 'waltz-underarm', barAt(24), 2)],
    edit: cutOut(barAt(48), barAt(88)),
    ending: endingOn(barAt(108), ['lean-three']),
    walkOn: { ...usualWalkOn, from: 'the garden door', firstStep: micros(barAt(8)) },
  },
);
const withShow = (more: Partial<NonNullable<Board['show']>>): Board => ({
  ...board,
  show: { ...board.show!, ...more },
});
const stamp = '2027-01-01T12:00:00.000Z';

describe('CSV', () => {
  // RFC 4180 and the worked example: quotes doubled, a field with a comma quoted.
  it('quotes as RFC 4180 says, and a formula becomes text', () => {
    expect(csvField('Ana "Nan" Lee, MC')).toBe('"Ana ""Nan"" Lee, MC"');
    for (const start of ['=', '+', '-', '@', '\t', '\r']) {
      expect(parse(csv([[`${start}1`]]), { relax_column_count: true })[0]![0]).toBe(`'${start}1`);
    }
  });

  it('is read back by a parser that is not ours', () => {
    const rows = [
      ['a', 'line\nbreak', 'Łukasz, "DJ"'],
      ['', ' spaces ', '山田'],
    ];
    expect(parse(csv(rows))).toEqual(rows);
    const entry = entryFacts(withShow({ time: '19:30', lead: 60, announcedBy: '=SUM(A1)' }));
    const read = parse(entryCsv(entry)) as string[][];
    expect(read.every((row) => row.length === 4)).toBe(true);
    expect(read).toContainEqual(['', '', 'announced by', "'=SUM(A1)"]);
    expect(read).toContainEqual(['19:31:16', '0:16', 'Noor and Elias', 'first step']);
  });
});

describe('iCalendar', () => {
  const events = (text: string) =>
    new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((e) => new ICAL.Event(e));
  const zoned = (text: string) => {
    const root = new ICAL.Component(ICAL.parse(text));
    const zone = new ICAL.Timezone(root.getFirstSubcomponent('vtimezone')!);
    return { root, zone };
  };

  // Worked example: 19:30 in New York on 12 June 2027 is 23:30 UTC, and 2 min 58 s later it is 23:32:58Z.
  it('says when the dance begins and ends in the zone of the party', () => {
    const entry = entryFacts(withShow({ time: '19:30', zone: 'America/New_York', lead: 0, applause: 0 }));
    const exact = { ...entry, total: 178 };
    const ics = entryIcs(exact, { id: 'b1', place: 'The Glasshouse', stamp });
    if (!ics.ok) throw new Error(ics.problem.code);
    expect(ics.value).toContain('DTSTART;TZID=America/New_York:20270612T193000');
    const { zone } = zoned(ics.value);
    const [dance] = events(ics.value);
    const utc = (time: ICAL.Time) => {
      const copy = time.clone();
      copy.zone = zone;
      return copy.toUnixTime();
    };
    expect(utc(dance!.endDate)).toBe(Date.parse('2027-06-12T23:32:58.000Z') / 1000);
    expect(utc(dance!.startDate)).toBe(Date.parse('2027-06-12T23:30:00.000Z') / 1000);
  });

  it.each([
    ['Europe/Paris', '2027-12-04T20:00', '2027-12-04T19:00:00.000Z'],
    ['Australia/Adelaide', '2027-01-16T18:00', '2027-01-16T07:30:00.000Z'],
    ['Asia/Kolkata', '2027-11-20T20:00', '2027-11-20T14:30:00.000Z'],
  ])('knows the offset of %s', (zone, startsAt, expected) => {
    const [date, time] = startsAt.split('T') as [Day, TimeOfDay];
    const on = withShow({ time, zone });
    const ics = entryIcs(entryFacts({ ...on, plan: { ...on.plan, date } }), { id: 'b1', place: '', stamp });
    if (!ics.ok) throw new Error(ics.problem.code);
    const begins = events(ics.value)[0]!.startDate.clone();
    begins.zone = zoned(ics.value).zone;
    expect(begins.toUnixTime()).toBe(Date.parse(expected) / 1000);
  });

  // The platform's own table of zones is the judge; the reader is not ours.
  it.each([
    'America/New_York',
    'Europe/London',
    'Australia/Lord_Howe',
    'America/St_Johns',
    'Africa/Casablanca',
    'Asia/Tokyo',
  ])('gives %s the offset that it has on every day of a year', (zone) => {
    const vtimezone = new ICAL.Component(
      ICAL.parse(`BEGIN:VCALENDAR\r\n${vtimezoneOf(zone, 2027)}\r\nEND:VCALENDAR`),
    );
    const read = new ICAL.Timezone(vtimezone.getFirstSubcomponent('vtimezone')!);
    let wrong = 0;
    for (let day = 0; day < 365; day++) {
      const instant = Date.UTC(2027, 0, 1 + day, (day * 7) % 24, 30);
      const wall = new Date(instant).toLocaleString('sv-SE', { timeZone: zone }).replace(' ', 'T');
      const time = ICAL.Time.fromDateTimeString(wall);
      time.zone = read;
      if (time.toUnixTime() * 1000 !== instant) wrong += 1;
    }
    expect(wrong).toBe(0);
  });

  // RFC 5545, 3.1: lines of at most 75 octets, ended by CRLF, never broken inside a character.
  it('folds at 75 octets, and keeps every letter', () => {
    const announcedBy = 'Żaneta Łęcka, 山田 花子; «Ελένη» '.repeat(3).trim();
    const ics = entryIcs(entryFacts(withShow({ time: '19:30', announcedBy })), {
      id: 'b1',
      place: 'a; b, c',
      stamp,
    });
    if (!ics.ok) throw new Error(ics.problem.code);
    const lines = ics.value.split('\r\n');
    for (const line of lines) expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    expect(ics.value.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    const [dance, ...moments] = events(ics.value);
    expect(dance!.description).toContain(announcedBy);
    expect(dance!.location).toBe('a; b, c');
    expect(moments.length).toBeGreaterThan(2);
    expect(new Set(events(ics.value).map(({ uid }) => uid)).size).toBe(moments.length + 1);
  });

  it('says in a line why there is no calendar yet', () => {
    const none = entryIcs(entryFacts(board), { id: 'b1', place: '', stamp });
    expect(none.ok ? '' : none.problem.code).toBe('no-time');
  });
});

describe('WebVTT', () => {
  /** A strict reader of the W3C recommendation's syntax (sections 4.1 to 4.3), for files as ours are: no settings, no markup. */
  function readVtt(text: string): { id: string; from: number; to: number; text: string }[] {
    const blocks = text.split('\n\n');
    if (blocks.shift() !== 'WEBVTT') throw new Error('no header');
    const time = '(\\d{2,}):([0-5]\\d):([0-5]\\d)\\.(\\d{3})';
    const timing = new RegExp(`^${time} --> ${time}$`);
    const seconds = (h: string, m: string, s: string, ms: string) =>
      Number(h) * 3600 + Number(m) * 60 + Number(s) + Number(ms) / 1000;
    return blocks.flatMap((block) => {
      if (block.startsWith('NOTE')) {
        if (block.includes('-->')) throw new Error('an arrow in a note');
        return [];
      }
      const [id, times, ...lines] = block.replace(/\n$/, '').split('\n');
      const found = timing.exec(times ?? '');
      if (!found || id!.includes('-->')) throw new Error(`no cue: ${block}`);
      const [h1, m1, s1, f1, h2, m2, s2, f2] = found.slice(1) as [
        string,
        string,
        string,
        string,
        string,
        string,
        string,
        string,
      ];
      const payload = lines.join('\n');
      if (payload === '' || /-->|<|&(?!amp;|lt;|gt;)/.test(payload))
        throw new Error(`no cue text: ${payload}`);
      return [{ id: id!, from: seconds(h1, m1, s1, f1), to: seconds(h2, m2, s2, f2), text: payload }];
    });
  }

  // Worked example: bar 81 beat 1 in 3/4 at 84 from 0, and the beat after it.
  it('writes its clock', () => {
    expect(vttClock((80 * 3 * 60) / 84)).toBe('00:02:51.429');
    expect(vttClock((80 * 3 * 60) / 84 + 60 / 84)).toBe('00:02:52.143');
    expect(vttClock(3599.9999)).toBe('01:00:00.000');
  });

  it.each(['floor', 'record'] as const)('holds cue words and moves in %s time, in order', (clock) => {
    const cues = readVtt(movesVtt(board.plan, clock));
    expect(cues.every(({ from, to }) => to > from)).toBe(true);
    expect(cues.map(({ from }) => from)).toEqual(cues.map(({ from }) => from).sort((a, b) => a - b));
    const left = clock === 'floor' ? barAt(40) : 0;
    const at = (text: string) => cues.find((cue) => cue.text.includes(text))!.from;
    expect(at('lanterns')).toBeCloseTo(barAt(8), 3);
    expect(at('home')).toBeCloseTo(barAt(105) - left, 3);
    expect(at('Underarm')).toBeCloseTo(barAt(24), 3);
    // The lean begins a bar before it lands on bar 108.
    expect(at('Supported lean')).toBeCloseTo(barAt(107) - left, 3);
  });
});

describe('five lines of text', () => {
  it('name the file, the clock, the start, the fade and the closing pose', () => {
    const lines = fiveLines(djFacts(board, 3)).trimEnd().split('\n');
    expect(lines.length).toBe(5);
    expect(lines[1]).toContain('First dance Noor Elias v3');
    expect(lines[4]).toContain('Closing pose at 2:16');
  });
});
