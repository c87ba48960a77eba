import fc from 'fast-check';
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { tapped } from '../../../app/_handover/seen.ts';
import { AreaReader, applyChanges } from '../../../lib/board/area.ts';
import { AreaGuard } from '../../../lib/board/guard.ts';
import { newArea } from '../../../lib/board/layout.ts';
import { readUpdate } from '../../../lib/board/possible.ts';
import { areaUpdate } from '../../../lib/board/write.ts';
import { answerState } from '../../../lib/core/agreed/answerState.ts';
import { djFacts } from '../../../lib/core/agreed/dj.ts';
import { djPrinted } from '../../../lib/core/agreed/djPrinted.ts';
import { entryFacts, keptFacts } from '../../../lib/core/agreed/entry.ts';
import { currentDigest, playedEdit } from '../../../lib/core/agreed/played.ts';
import type { AreaShape } from '../../../lib/core/areas/area.ts';
import { areas, type Board } from '../../../lib/core/areas/board.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import type { Role } from '../../../lib/core/areas/people.ts';
import { may } from '../../../lib/core/areas/rights.ts';
import type { Instant } from '../../../lib/core/calendar.ts';
import { good } from '../../../lib/core/result.ts';
import { judging } from '../../../server/sync/judging.ts';
import { filled } from '../../core/agreed/said.ts';
import { barAt, cutOut } from '../../kit/board.ts';
import { pageOver } from '../../kit/page.ts';

const shared = ['plan', 'answer', 'show'] as const;
type Shared = (typeof shared)[number];
const shapeOf = (area: Shared): AreaShape => areas[area];
const start = filled();
const seeds = shared.map((area) => [area, areaUpdate(shapeOf(area), start[area] as never)] as const);

let clock = 0;
/** Later each time it is asked. */
const now = () => new Date(Date.UTC(2027, 4, 1) + ++clock * 1000).toISOString() as Instant;

const boardOf = (read: (area: Shared) => unknown): Board => ({
  ...emptyBoard(),
  ...Object.fromEntries(shared.map((area) => [area, read(area)])),
});

/** All that a DJ reads; not the number of the version, which the yes itself gives. Made without the digests under test. */
const djScreen = (board: Board): string =>
  JSON.stringify({ ...djFacts(board, null), version: 0, fileName: '', lines: [] });
/** All that a planner reads of the entry. */
function entryScreen(board: Board): string {
  const { final: _final, digest: _digest, ...read } = entryFacts(board);
  return JSON.stringify(read);
}
/** What is settled of the song, as it is played. */
const song = ({ plan }: Board): string => JSON.stringify([plan.edit, plan.sections, plan.phraseBars]);

function openServer() {
  const guards = new Map(shared.map((area) => [area, new AreaGuard(shapeOf(area))] as const));
  for (const [area, seed] of seeds) guards.get(area)!.add(seed);
  const judges = new Map(
    shared.map((area) => [area, judging(area, (other) => guards.get(other as Shared)?.read() ?? null)]),
  );
  return {
    board: () => boardOf((area) => guards.get(area)!.read()),
    doc: (area: Shared) => guards.get(area)!.doc,
    /** Whether it was taken. */
    take(area: Shared, update: Uint8Array, role: Role): boolean {
      const structs = readUpdate(update);
      const judge = judges.get(area)!;
      return guards.get(area)!.check(update, { membership: role }, structs, (tried) => judge(tried, role)).ok;
    },
  };
}

/** Somebody's page, which meets the server only when it is told to, an area at a time. */
function openPage(server: ReturnType<typeof openServer>, role: Role) {
  const docs = new Map<Shared, Y.Doc>();
  const readers = new Map<Shared, AreaReader<AreaShape>>();
  const anew = (area: Shared) => {
    const doc = newArea(shapeOf(area));
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(server.doc(area)));
    docs.set(area, doc);
    readers.set(area, new AreaReader(doc, shapeOf(area)));
  };
  shared.forEach(anew);
  const board = () => boardOf((area) => readers.get(area)!.read());
  const page = pageOver({
    role,
    read: board,
    mayWrite: (area) => may(role, area, 'write'),
    write(area, changes) {
      applyChanges(docs.get(area as Shared)!, shapeOf(area as Shared), changes as never);
      return good(true);
    },
  });
  return {
    role,
    page,
    board,
    meet(area: Shared): void {
      const doc = docs.get(area)!;
      const news = Y.encodeStateAsUpdate(doc, Y.encodeStateVector(server.doc(area)));
      // Refused, the page opens the area anew and keeps the words for the person.
      if (may(role, area, 'write') && !server.take(area, news, role)) {
        if (area === 'plan') page.steps.forget();
        anew(area);
      } else Y.applyUpdate(doc, Y.encodeStateAsUpdate(server.doc(area), Y.encodeStateVector(doc)));
    },
  };
}
type Page = ReturnType<typeof openPage>;

/** What stood on a screen when somebody gave their word, by the word. */
interface Said {
  yes: Map<string, string>;
  final: Map<string, string>;
  settled: Map<string, string>;
}

const cuts = [48, 56, 64, 72, 80].map((from) => cutOut(barAt(from), barAt(88)));

function instructs({ page, board }: Page, what: number, said: Said): void {
  const { plan } = board();
  const edit = { register: 'edit' as const, value: cuts[what % cuts.length]! };
  const acts = [
    () => page.change('plan', [edit]),
    () => page.change('plan', [edit], { way: 'suggestion' }),
    () => page.change('plan', [{ register: 'walkOn', value: { ...plan.walkOn!, signal: `nod ${what}` } }]),
    () => page.change('plan', [{ collection: 'cues', id: 'b', fields: { word: `word ${what}` } }]),
    () => page.change('plan', [{ register: 'venue', value: `Hall ${what}` }]),
    () => page.change('plan', [{ register: 'phraseBars', value: 1 + (what % 4) }]),
    () => page.turn('undo'),
    () => page.turn('redo'),
    () => {
      const at = now();
      said.settled.set(at, song(board()));
      page.change('plan', [{ register: 'settled', value: { by: 'Marta', at, word: '' } }]);
    },
    () =>
      page.change('plan', [
        { register: 'asked', value: { digest: currentDigest(plan)!, at: now(), by: 'Noor', answerBy: null } },
      ]),
  ];
  acts[what % acts.length]!();
  // The person says yes to what is asked, or no.
  if (what % 3 === 0) page.gate.decline();
  else page.gate.agree();
}

/** @param seen what the DJ began to look at; gives what they look at from now on */
function answers({ page, board }: Page, seen: Board, what: number, said: Said): Board {
  if (what % 3 === 0) return board();
  const is = board();
  const digestOf = (of: Board) => `${currentDigest(of.plan)}/${djPrinted(of, 'finished file').digest}`;
  const { gives, looking } = tapped({ seen, before: null }, is, digestOf);
  if (!gives) return looking.seen;
  const id = `yes-${now()}`;
  // What the person has read, not what lies in the document by now.
  said.yes.set(id, djScreen(seen));
  const covers = djPrinted(is, 'finished file');
  const words = { by: 'Rae', words: '', proposal: null, plays: 'finished file' as const };
  const fields = {
    kind: 'yes' as const,
    at: now(),
    digest: currentDigest(is.plan)!,
    edit: playedEdit(is.plan),
  };
  page.change('answer', [{ collection: 'answers', id, fields: { ...words, ...fields, covers } }]);
  return is;
}

function plans({ page, board }: Page, seen: Board, what: number, said: Said): Board {
  if (what % 4 === 0) return board();
  if (what % 4 === 1) {
    page.change('show', [{ register: 'lead', value: what }]);
    page.gate.agree();
    return board();
  }
  const is = board();
  const { gives, looking } = tapped({ seen, before: null }, is, (of) => entryFacts(of).digest);
  if (!gives) return looking.seen;
  const { digest, facts } = entryFacts(is);
  const at = now();
  said.final.set(at, entryScreen(seen));
  page.change('show', [{ register: 'final', value: { digest, at, by: 'Pilar', facts: keptFacts(facts) } }]);
  return is;
}

const act = fc.record({
  who: fc.constantFrom(0, 1, 2),
  does: fc.constantFrom<'act' | 'meet'>('act', 'act', 'meet'),
  area: fc.constantFrom(...shared),
  what: fc.nat(60),
});

test('of an instructor, a DJ and a planner at once, nobody ends with a false yes, final or settled', () => {
  const ends = { yes: 0, older: 0, final: 0, outdated: 0, settled: 0 };
  fc.assert(
    fc.property(fc.array(act, { minLength: 12, maxLength: 45 }), (acts) => {
      const server = openServer();
      const people = (['instructor', 'dj', 'planner'] as const).map((role) => openPage(server, role));
      const [instructor, dj, planner] = people as [Page, Page, Page];
      const said: Said = { yes: new Map(), final: new Map(), settled: new Map() };
      let seen = { dj: dj.board(), planner: planner.board() };
      for (const { who, does, area, what } of acts) {
        if (does === 'meet') people[who]!.meet(area);
        else if (who === 0) instructs(instructor, what, said);
        else if (who === 1) seen = { ...seen, dj: answers(dj, seen.dj, what, said) };
        else seen = { ...seen, planner: plans(planner, seen.planner, what, said) };
      }
      for (let round = 0; round < 3; round++)
        for (const person of people) for (const area of shared) person.meet(area);
      for (const board of [server.board(), ...people.map(({ board }) => board())]) {
        expect(board).toEqual(server.board());
        const state = answerState(board);
        if (state.kind === 'yes') expect(djScreen(board)).toBe(said.yes.get(state.answer!.id));
        const { final } = entryFacts(board);
        if (final && !final.outdated) expect(entryScreen(board)).toBe(said.final.get(final.at));
        const { settled } = board.plan;
        if (settled) expect(song(board)).toBe(said.settled.get(settled.at));
      }
      const board = server.board();
      const { kind, answer } = answerState(board);
      const { final } = entryFacts(board);
      if (kind === 'yes') ends.yes += 1;
      else if (answer) ends.older += 1;
      if (final) ends[final.outdated ? 'outdated' : 'final'] += 1;
      if (board.plan.settled) ends.settled += 1;
    }),
    { numRuns: 500 },
  );
  // A test in which nobody ever agrees would hold nothing.
  for (const [end, times] of Object.entries(ends)) expect([end, times > 25]).toEqual([end, true]);
}, 120_000);
