import fc from 'fast-check';
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { DjFactsView } from '../../../app/_handover/djFactsView.tsx';
import { type DjFacts, djFacts, fiveLines } from '../../../lib/core/agreed/dj.ts';
import { djPrinted, printed } from '../../../lib/core/agreed/djPrinted.ts';
import type { Plays } from '../../../lib/core/agreed/played.ts';
import { covers } from '../../../lib/core/areas/answer.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { hashOf } from '../../../lib/core/edit/canonical.ts';
import { djSheet } from '../../../lib/export/djSheet.ts';
import { barAt, fadeAt, micros } from '../../kit/board.ts';
import { oddBoards } from '../odd/boards.ts';
import { checkedAs, filled } from './said.ts';

const ways: Plays[] = ['finished file', 'own copy'];

/** The paper, the five lines and what the page has in large. The lines say again what the other facts say. */
const paperOf = (facts: DjFacts): string => {
  const whole = { ...facts, lines: fiveLines(facts) };
  const page = renderToStaticMarkup(createElement(DjFactsView, { facts: whole, dj: true }));
  return JSON.stringify([djSheet(whole, { given: null, strip: null, size: 'A4' }), whole.lines, page]);
};

/** What the yes itself says (how it is played, which version), how the file is called, whose clock it is, and words of the house. */
const EXCEPT = ['version', 'fileName', 'clockOf', 'cautions', 'lines', 'plays'];

type Path = (string | number)[];
/** Paths of all texts, numbers, truths and gaps. */
const leaves = (value: unknown, path: Path = []): Path[] =>
  typeof value === 'object' && value !== null
    ? Object.entries(value).flatMap(([key, inner]) => leaves(inner, [...path, key]))
    : [path];
const at = (value: unknown, path: Path): unknown =>
  path.reduce<unknown>((inner, key) => (inner as Record<string, unknown>)[key], value);
const changed = (facts: DjFacts, path: Path, to: unknown): DjFacts => {
  const copy = structuredClone(facts);
  const parent = at(copy, path.slice(0, -1)) as Record<string, unknown>;
  parent[path.at(-1)!] = to;
  return copy;
};

/** Other values that such a field may have. */
function others(value: unknown): unknown[] {
  if (typeof value === 'string') return [`${value}.`, `x${value}`, '', 'something else'];
  if (typeof value === 'number') return [value + 0.04, value + 0.3, value + 1, value + 61, value / 2];
  if (typeof value === 'boolean') return [!value];
  return ['a word', 12];
}

describe('what a yes is given for', () => {
  it('leaves out nothing that is printed: each text, number and truth varied by itself', () => {
    let varied = 0;
    const holds = (board: Board, plays: Plays) => {
      const facts = djFacts(board, 3, plays);
      const [paper, { digest }] = [paperOf(facts), printed(facts)];
      for (const path of leaves(facts).filter(([name]) => !EXCEPT.includes(name as string)))
        for (const other of others(at(facts, path))) {
          // Only a word may be missing in a join, and only a figure in the level.
          if (typeof other !== (path[0] === 'loudness' ? 'number' : typeof other)) continue;
          if (path[0] === 'joins' && at(facts, path) === null && typeof other === 'number') continue;
          if (['closingPose', 'fade'].includes(path[0] as string) && path.length === 1) continue;
          const now = changed(facts, path, other);
          if (paperOf(now) === paper) continue;
          varied += 1;
          expect(printed(now).digest, `${path.join('.')}: ${other}`).not.toBe(digest);
        }
      for (const now of [
        { ...facts, closingPose: facts.closingPose ? null : { at: 9, on: 'lamp', kept: 4 } },
        { ...facts, fade: facts.fade ? null : { from: 9, gone: 17, byHand: true } },
        { ...facts, joins: facts.joins.slice(1) },
        { ...facts, byEar: facts.byEar.slice(1) },
      ])
        if (paperOf(now) !== paper) expect(printed(now).digest).not.toBe(digest);
    };
    for (const plays of ways) {
      holds(filled(), plays);
      holds(filled({ edit: fadeAt(barAt(84), 8) }), plays);
      holds(filled({ edit: { ...fadeAt(barAt(84), 8), speed: 0.97 }, ending: null }), plays);
    }
    expect(varied).toBeGreaterThan(400);
    fc.assert(fc.property(oddBoards, fc.constantFrom(...ways), holds), { seed: 20270612, numRuns: 8 });
  }, 120_000);

  it('leaves out no part of the plan or the evening that changes the paper', () => {
    const without = (board: Board): Board => ({ ...board, answer: null });
    let varied = 0;
    fc.assert(
      fc.property(oddBoards, oddBoards, fc.constantFrom(...ways), (one, two, plays) => {
        const [board, other] = [without(one), without(two)];
        const nameless = (of: Board) => paperOf({ ...djFacts(of, 1, plays), fileName: '' });
        const [paper, { digest }] = [nameless(board), djPrinted(board, plays)];
        const now = (changed: Board, name: string) => {
          if (nameless(changed) === paper) return;
          varied += 1;
          expect(djPrinted(changed, plays).digest, name).not.toBe(digest);
        };
        for (const name of Object.keys(board.plan) as (keyof Board['plan'])[])
          now({ ...board, plan: { ...board.plan, [name]: other.plan[name] } }, name);
        now({ ...board, show: other.show }, 'show');
      }),
      { seed: 7, numRuns: 30 },
    );
    expect(varied).toBeGreaterThan(100);
  }, 60_000);

  it('is not changed by the DJ’s own new check of a copy', () => {
    const board = filled();
    const before = djPrinted(board, 'own copy');
    const found = checkedAs(board, { verdict: 'shifted', offsetMs: 2000, ratio: 1.01 });
    expect(djFacts(found, 1, 'own copy').closingPose!.at).not.toBe(
      djFacts(board, 1, 'own copy').closingPose!.at,
    );
    expect(djPrinted(found, 'own copy')).toEqual(before);
  });

  it('is what the area takes: few letters a fact, and a digest of exactly these', () => {
    const long = 'a very long word '.repeat(5).slice(0, 80);
    const board = filled({
      recordingWords: {
        artist: long.repeat(2),
        title: long.slice(0, 79),
        version: 'v'.repeat(120),
        source: 's'.repeat(200),
      },
      venue: long,
      cues: [0, 47, 88, 100].map((bar, i) => ({ id: 'abcd'[i]!, at: micros(barAt(bar)), word: long })),
    });
    for (const plays of ways) {
      const made = djPrinted(board, plays);
      expect(covers.safeParse(made).success).toBe(true);
      expect(hashOf(made.facts)).toBe(made.digest);
    }
    const end = (words: string) =>
      printed({ ...djFacts(board, 1), planB: `${'x'.repeat(500)}${words}` }).facts['if the wrong one plays']!;
    expect(end('one')).not.toBe(end('two'));
    expect(end('one').length).toBeLessThanOrEqual(400);
  });

  // Answers hold these words: whoever changes one outdates every yes that was given before, and says so here.
  it('reads as it did when the first answers were given', () => {
    expect(djPrinted(filled(), 'finished file').facts).toMatchInlineSnapshot(`
      {
        "afterwards": "the cake",
        "announced at": "19:30",
        "closing pose": "2:16 on “homeward”, kept 4 s",
        "couple": "Noor and Elias",
        "day": "12 June 2027",
        "file": "2:29",
        "if the wrong one plays": "If verse 2 comes after “until”, the full song is playing: let it run; the couple keep to the basic, and finish on “homeward” all the same, which comes 1:20 later.",
        "join 1": "1:36 after “until”, goes on with “windows”; 1:20 left out",
        "last heard": "“homeward”, then the last chord",
        "let it ring to": "2:28",
        "level": "−14.0 LUFS",
        "music": "2:28",
        "music by": "the DJ",
        "name of the dance": "Lantern Street",
        "played from": "the finished file",
        "recording in full": "3:48",
        "song": "The Harbour Lamps, Lantern Street, studio version",
        "source": "the couple’s own file",
        "start at": "0:00",
        "start signal": "the MC’s nod",
        "the couple come from": "the garden door",
        "to check by ear": "“lanterns” at 0:16, “windows” at 1:36, “homeward” at 2:16",
        "venue": "The Glasshouse",
      }
    `);
    expect(djPrinted(filled(), 'own copy').facts['join 1']).toMatchInlineSnapshot(
      `"leave at 1:36.0 after “until”, go on at 2:56.0 with “windows”; 1:20 left out"`,
    );
  });
});
