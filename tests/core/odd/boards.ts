import fc from 'fast-check';
import { type AreaName, areas, type Board } from '../../../lib/core/areas/board.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import type { TimeOfDay } from '../../../lib/core/calendar.ts';
import type { Thing } from '../../../lib/core/dance/floor.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import type { Grid } from '../../../lib/core/song/grid.ts';
import { micros } from '../../kit/board.ts';

/** Names as people have them, and as spreadsheets, file systems and printers fear them. */
const words = fc.constantFrom(
  '',
  'Noor',
  'نور الهدى',
  'נועה',
  '沈雨桐',
  'Þórdís Ægisdóttir',
  'Zoë 🌾',
  '=1+1',
  'a/b\\c:d*?"<>|',
  'two\nlines\tand a tab',
  '__proto__',
  `A${'a'.repeat(79)}`,
);
const some = words.map((word) => word || 'la');
const maybe = <T>(one: fc.Arbitrary<T>) => fc.option(one, { freq: 3 });
const today = '2027-06-01T10:00:00.000Z';
const hex = (digit: string) => digit.repeat(64);

const grids: fc.Arbitrary<Grid> = fc
  .record({
    beatsPerBar: fc.constantFrom(2 as const, 3 as const, 4 as const),
    subdivision: fc.constantFrom(2 as const, 3 as const),
    countLevel: fc.constantFrom('subdivision' as const, 'beat' as const, 'half' as const),
    confirmedBy: fc.record({ metre: maybe(some), beats: maybe(some), bars: maybe(some) }),
    bpm: fc.integer({ min: 40, max: 240 }),
    lead: fc.integer({ min: 0, max: 20_000_000 }),
    /** Beats; a song of twelve seconds has some twenty. */
    count: fc.constantFrom(0, 1, 2, 5, 20, 60, 240, 480),
    pickUp: fc.nat(5),
    gap: maybe(fc.tuple(fc.nat(480), fc.integer({ min: 1, max: 40 }))),
    /** Bars as they should be, none, or every so many beats whatever the metre says. */
    bars: fc.constantFrom('right', 'right', 'right', 'none', 'odd'),
  })
  .map(({ bpm, lead, count, pickUp, gap, bars, ...rest }) => {
    const after = (i: number) => (gap && i >= gap[0] ? gap[1] : 0);
    const beats = Array.from({ length: count }, (_, i) => micros(lead / 1e6 + (i * 60) / bpm + after(i)));
    const step = bars === 'odd' ? 5 : rest.beatsPerBar;
    const lines = beats.map((_, i) => i).filter((i) => i >= pickUp && (i - pickUp) % step === 0);
    return { ...rest, beats, bars: bars === 'none' ? [] : lines };
  });

const at = (seconds: number) =>
  fc.integer({ min: 0, max: Math.round(seconds * 1e6) }).map((n) => micros(n / 1e6));

const edits = (duration: number) =>
  fc.record({
    start: fc.oneof({ weight: 3, arbitrary: fc.constant(micros(0)) }, at(duration + 5)),
    cuts: fc
      .uniqueArray(fc.oneof(at(duration + 10), fc.constantFrom(micros(0), micros(duration))), {
        maxLength: 6,
      })
      .chain((ends) => {
        const sorted = [...ends].sort((a, b) => a - b);
        const cuts = sorted.flatMap((from, i) =>
          i % 2 === 0 && sorted[i + 1] ? [{ from, to: sorted[i + 1]! }] : [],
        );
        return fc.tuple(
          ...cuts.map((cut) =>
            fc
              .tuple(
                fc.constantFrom(0, 0.03, 0.5),
                fc.option(fc.double({ min: -90, max: 90, noNaN: true }), { nil: undefined }),
              )
              .map(([crossfade, beatErrorMs]) => ({
                ...cut,
                crossfade,
                ...(beatErrorMs === undefined ? {} : { beatErrorMs }),
              })),
          ),
        );
      }),
    end: fc.oneof(
      fc.constant({ kind: 'own' as const }),
      fc.record({
        kind: fc.constant('fade' as const),
        from: at(duration + 5),
        length: fc.constantFrom(0.1, 8, 60),
        shape: fc.constantFrom('linear' as const, 'soft' as const),
        byHand: fc.boolean(),
      }),
    ),
    speed: fc.constantFrom(1, 1, 0.9, 1.07, 1.1),
  });

const ids = (prefix: string, most: number) => Array.from({ length: most }, (_, i) => `${prefix}${i}`);
const entries = <T extends object>(prefix: string, one: fc.Arbitrary<T>, maxLength = 6) =>
  fc.array(one, { maxLength }).map((all) => all.map((fields, i) => ({ id: `${prefix}${i}`, ...fields })));
const id = (prefix: string) => fc.constantFrom(...ids(prefix, 4), 'gone');

const plans = fc
  .record({ grid: maybe(grids), extra: fc.constantFrom(0, 0.4, 6, 30), alone: fc.constantFrom(12, 200) })
  .chain(({ grid, extra, alone }) => {
    const duration = micros((grid?.beats.at(-1) ?? alone) + extra + 0.1);
    const bars = grid?.bars.flatMap((i) => grid.beats[i] ?? []) ?? [];
    const moment = fc.oneof(
      at(duration + 20),
      fc.constantFrom(micros(0), ...(bars.length > 0 ? bars : [micros(1)])),
    );
    return fc.record({
      title: maybe(words),
      couple: maybe(
        fc.record({
          one: fc.record({ name: words, part: fc.constantFrom('lead' as const, 'follow' as const) }),
          other: fc.record({ name: words, part: fc.constantFrom('lead' as const, 'follow' as const) }),
        }),
      ),
      date: maybe(fc.constantFrom('2027-06-12', '2026-01-01', '2028-02-29')),
      venue: maybe(words),
      instructor: maybe(words),
      musicBy: maybe(fc.constantFrom('dj' as const, 'band' as const, 'friend' as const, 'venue' as const)),
      eveningBy: maybe(
        fc.constantFrom('planner' as const, 'venue' as const, 'mc' as const, 'nobody' as const),
      ),
      lessonsLeft: maybe(fc.nat(8)),
      nextLesson: maybe(fc.constant('2027-06-02T18:00')),
      target: maybe(fc.record({ length: fc.constantFrom(0, 60, 185), within: fc.constantFrom(0, 20) })),
      recording: maybe(
        fc.constant({
          id: hex('a'),
          duration,
          rate: 44100,
          channels: 2,
          bytes: 1,
          format: 'mp3' as const,
          files: [{ file: hex('a'), from: 0 }],
        }),
      ),
      recordingWords: maybe(fc.record({ artist: words, title: words, version: words, source: words })),
      heard: maybe(
        fc.record({
          tempo: fc.constantFrom(20, 90, 400),
          key: fc.constantFrom('', 'D major'),
          loudness: fc.constantFrom(-120, -14),
          truePeak: fc.constant(-1),
          firstSound: fc.constantFrom(0, 3),
          lastSound: fc.constantFrom(duration, micros(duration / 2), 0),
          confidence: fc.constant({ beats: 0.2, metre: 0.9, bars: 0.1, sections: 0.8, key: 0 }),
        }),
      ),
      features: maybe(
        fc.constantFrom(
          { frame: 0.25, loudness: '', chroma: '', timbre: '' },
          { frame: 0.25, loudness: 'gICAgICA', chroma: 'AAAA', timbre: '?!' },
          {
            frame: 2,
            loudness: 'gICAgICA'.repeat(20),
            chroma: 'gICAgICA'.repeat(240),
            timbre: 'gICAgICA'.repeat(120),
          },
        ),
      ),
      imprint: fc.constant(null),
      grid: fc.constant(grid),
      phraseBars: maybe(fc.constantFrom(1, 2, 4, 8, 32)),
      edit: maybe(edits(duration)),
      walkOn: maybe(
        fc.record({
          how: fc.constantFrom('walk on' as const, 'in place' as const, 'from the entrance' as const),
          from: words,
          metres: fc.constantFrom(0, 8, 60),
          pace: fc.constantFrom(0.3, 1.27, 2),
          takeHold: fc.constantFrom(0, 4, 30),
          firstStep: maybe(moment),
          signal: words,
          lastWords: words,
        }),
      ),
      ending: maybe(
        fc.record({
          target: fc.record({
            kind: fc.constantFrom('cue word' as const, 'last strong count' as const, 'time' as const),
            at: moment,
            cue: maybe(id('c')),
          }),
          moves: fc.array(id('m'), { maxLength: 3 }),
          hold: fc.constantFrom(0, 1.5, 4, 30),
          signal: maybe(id('c')),
          facing: words,
          safer: fc.boolean(),
        }),
      ),
      beginsAt: maybe(
        fc.record({
          x: fc.constantFrom(-100, 0, 3),
          y: fc.constantFrom(0, 3, 200),
          facing: fc.nat(7),
        }),
      ),
      stride: maybe(fc.constantFrom(0.2, 0.5, 1)),
      asked: maybe(
        fc.record({
          digest: fc.constantFrom(hex('b'), hex('c')),
          at: fc.constant(today),
          by: words,
          answerBy: maybe(fc.constantFrom('2027-05-01', '2027-06-05')),
        }),
      ),
      settled: maybe(fc.record({ by: words, at: fc.constant(today), word: words })),
      sections: entries(
        's',
        fc.record({
          start: moment,
          kind: fc.constantFrom(
            'intro' as const,
            'verse' as const,
            'chorus' as const,
            'bridge' as const,
            'outro' as const,
          ),
          like: fc.constantFrom('', 'A', 'B'),
          name: words,
          phraseBars: maybe(fc.constantFrom(1, 3, 32)),
          confirmedBy: maybe(some),
        }),
      ),
      cues: entries('c', fc.record({ at: moment, word: some })),
      moves: fc
        .uniqueArray(fc.nat(standardMoves.length - 1), { maxLength: 4 })
        .map((all) => all.map((n, i) => ({ ...standardMoves[n]!, id: `m${i}` }))),
      placed: entries('p', fc.record({ move: id('m'), at: moment, times: fc.constantFrom(1, 2, 16) })),
      replies: entries(
        'r',
        fc.record({ answer: id('a'), accepted: fc.boolean(), at: fc.constant(today), by: words }),
        2,
      ),
      marks: fc.constant([]),
    });
  });

const instants = fc.constantFrom('2027-05-01T10:00:00.000Z', today, '2027-06-03T10:00:00.500Z');
const answers = fc.record({
  copy: maybe(
    fc.record({
      verdict: fc.constantFrom(
        'same' as const,
        'shifted' as const,
        'cut differently' as const,
        'another recording' as const,
        'finished file' as const,
        'older finished file' as const,
      ),
      offsetMs: fc.constantFrom(0, 1000, -2500, 60_000),
      ratio: fc.constantFrom(1, 0.5, 1.04, 2),
      confidence: fc.constantFrom(0, 1),
      at: instants,
    }),
  ),
  plays: maybe(fc.constantFrom('finished file' as const, 'own copy' as const)),
  answers: entries(
    'a',
    fc.record({
      kind: fc.constantFrom('yes' as const, 'proposal' as const),
      at: instants,
      by: words,
      plays: fc.constantFrom('finished file' as const, 'own copy' as const),
      digest: fc.constantFrom(hex('b'), hex('c')),
      edit: edits(200),
      words,
      proposal: maybe(edits(200)),
    }),
    2,
  ),
});
const spots = fc.record({ x: fc.constantFrom(-100, 0, 3, 6, 200), y: fc.constantFrom(-100, 0, 3, 6, 200) });
const shows = fc.record({
  time: maybe(fc.constantFrom<TimeOfDay>('19:30', '02:30:00', '23:59')),
  afterMidnight: maybe(fc.boolean()),
  zone: maybe(fc.constantFrom('Europe/Vienna', 'America/New_York', 'Nowhere/Land', '')),
  lead: maybe(fc.constantFrom(0, 45, 1800)),
  applause: maybe(fc.constantFrom(0, 600)),
  announcedBy: maybe(words),
  after: maybe(words),
  floor: maybe(
    fc.record(
      {
        width: fc.constantFrom(1, 6),
        depth: fc.constantFrom(1, 100),
        surface: words,
        obstacles: words,
        guests: words,
        // In any order, on one line or on one spot: nobody draws it, and somebody sends it.
        corners: fc.array(spots, { minLength: 3, maxLength: 6 }),
        things: fc
          .array(
            fc.record({
              kind: fc.constantFrom(
                ...(['door', 'pillar', 'guests', 'band', 'camera'] as const satisfies Thing['kind'][]),
              ),
              x: fc.constantFrom(-100, 0, 2.5, 200),
              y: fc.constantFrom(-100, 0, 2.5, 200),
              across: fc.constantFrom(0, 0.5, 10),
              name: words.map((text) => text.slice(0, 60)),
            }),
            { maxLength: 5 },
          )
          .map((all) => all.map((one, i) => ({ ...one, id: `t${i}` }))),
      },
      { requiredKeys: ['width', 'depth', 'surface', 'obstacles', 'guests'] },
    ),
  ),
  notes: maybe(words),
  final: maybe(
    fc.constant({
      digest: hex('d'),
      at: today,
      by: '',
      facts: { couple: 'others', 'an old fact': 'gone now' },
    }),
  ),
  moments: entries('o', fc.record({ at: at(300), who: words, what: words }), 3),
});
const lessons = fc.record({
  lessons: fc.constant([]),
  readiness: fc
    .array(fc.constantFrom(0 as const, 1 as const, 2 as const, 3 as const), { maxLength: 4 })
    .map((levels) => levels.map((level, i) => ({ id: `m${i}`, level, at: today }))),
});

/** Boards that every area's schema takes, however little sense they make together: half made, merged from two, or left over. */
export const oddBoards: fc.Arbitrary<Board> = fc
  .record({ plan: plans, lessons: maybe(lessons), answer: maybe(answers), show: maybe(shows) })
  .map((parts) => ({ ...emptyBoard(), ...parts }) as unknown as Board);

/** What the schemas have against a board; empty when they take it. */
export function refusedBy(board: Board): string[] {
  const refused: string[] = [];
  for (const name of Object.keys(areas) as AreaName[]) {
    const data = board[name] as Record<string, unknown> | null;
    if (!data) continue;
    for (const [register, schema] of Object.entries(areas[name].registers)) {
      const value = data[register] ?? null;
      const parsed = value === null ? null : schema.safeParse(value);
      if (parsed?.error) refused.push(`${name}.${register}: ${parsed.error.issues[0]?.message}`);
    }
    for (const [collection, schema] of Object.entries(areas[name].collections))
      for (const entry of (data[collection] ?? []) as object[]) {
        const parsed = schema.safeParse(entry);
        if (parsed.error) refused.push(`${name}.${collection}: ${parsed.error.issues[0]?.message}`);
      }
  }
  return refused;
}
