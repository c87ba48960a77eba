import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { edit as editSchema } from '../../../lib/core/edit/edit.ts';
import { floorScore } from '../../../lib/core/edit/floorScore.ts';
import { formOf, pairsOf } from '../../../lib/core/edit/form.ts';
import { type Proposal, shape } from '../../../lib/core/edit/propose.ts';
import { BEFORE_THE_BAR } from '../../../lib/core/edit/seam.ts';
import { NINE, type Part, songOfParts } from './songs.ts';

const propose = (parts: Part[], tempo: number, target: number, within = 20, tail = 4) =>
  shape({ plan: songOfParts(parts, tempo, 4, tail), features: null }, { target, within });
const first = (proposals: Proposal[], kind: Proposal['kind']) => proposals.find((p) => p.kind === kind)!;
const names = (proposal: Proposal) => proposal.leftOut.flatMap((gap) => gap.names);

/** The two edits that common practice names for a nine-part song, in seconds. */
function bothEdits(parts: Part[], tempo: number, tail: number) {
  const bar = 240 / tempo;
  const bars = (from: number, to: number) => parts.slice(from, to).reduce((sum, [, n]) => sum + n, 0);
  const whole = bars(0, 9) * bar + tail;
  return { whole, fade: bars(0, 7) * bar, splice: whole - bars(6, 8) * bar };
}

describe('proposals for a nine-part song', () => {
  // Common practice, no source: the fade at the end of the second chorus; or, better, second chorus and bridge left out.
  const tempo = 104;
  const { fade, splice } = bothEdits(NINE, tempo, 4);
  const proposals = propose(NINE, tempo, (fade + splice) / 2);

  it('the fade is at the end of the second chorus', () => {
    const proposal = first(proposals, 'fade');
    expect(names(proposal)).toEqual(['bridge', 'chorus 3']);
    expect(proposal.floorLength).toBeCloseTo(fade, 5);
    expect(proposal.words).toBe(
      'Plays from the beginning and fades out with the end of chorus 2; bridge and chorus 3 are left out.',
    );
    const { end } = proposal.edit;
    if (end.kind !== 'fade') throw new Error('no fade');
    expect(end.length).toBeGreaterThanOrEqual(5);
    expect(end.length).toBeLessThanOrEqual(15);
  });

  it('the splice leaves out the second chorus and the bridge and keeps the own ending', () => {
    const proposal = first(proposals, 'splice');
    expect(names(proposal)).toEqual(['chorus 2', 'bridge']);
    expect(proposal.floorLength).toBeCloseTo(splice, 5);
    expect(proposal.edit.end).toEqual({ kind: 'own' });
    expect(proposal.words).toBe(
      "Goes from pre-chorus 2 straight into chorus 3 and keeps the song's own ending; chorus 2 and bridge are left out.",
    );
  });

  it('the splice stands first, and the whole song last of those that fit not at all', () => {
    expect(proposals[0]!.kind).toBe('splice');
    expect(proposals.map((p) => p.kind)).toContain('own length');
  });

  it('whatever its tempo and the lengths of its sections', () => {
    const few = (...n: number[]) => fc.constantFrom(...n);
    const form = fc.record({
      tempo: fc.integer({ min: 66, max: 140 }),
      tail: few(1, 3, 6),
      intro: few(4, 8),
      verse: few(8, 12, 16),
      pre: few(4, 8),
      chorus: few(8, 16),
      bridge: few(4, 8, 16),
    });
    fc.assert(
      fc.property(form, ({ tempo, tail, intro, verse, pre, chorus, bridge }) => {
        const bars = [intro, verse, pre, chorus, verse, pre, chorus, bridge, chorus];
        const parts = NINE.map(([kind, , like], i): Part => [kind, bars[i]!, like]);
        const edits = bothEdits(parts, tempo, tail);
        fc.pre(edits.whole > 180 && edits.whole < 420);
        const target = (edits.fade + edits.splice) / 2;
        const within = Math.max(20, Math.abs(edits.fade - edits.splice) / 2 + 10);
        const found = propose(parts, tempo, target, within, tail);
        expect(names(first(found, 'fade'))).toEqual(['bridge', 'chorus 3']);
        expect(names(first(found, 'splice'))).toEqual(['chorus 2', 'bridge']);
      }),
      { numRuns: 60 },
    );
  });
});

describe('proposals', () => {
  it('the whole song first where its length is right', () => {
    const parts: Part[] = [
      ['verse', 16, 'A'],
      ['chorus', 16, 'B'],
      ['verse', 16, 'A'],
      ['chorus', 16, 'B'],
    ];
    const found = propose(parts, 90, 170);
    expect(found[0]).toMatchObject({ kind: 'own length', leftOut: [], seam: null });
    expect(found[0]!.words).toBe('Plays the whole song, 2:55, with its own ending.');
  });

  it('every pair of like places is looked at', () => {
    const parts = formOf(songOfParts(NINE, 100));
    const pairs = pairsOf(parts).filter((pair) => pair.follows === 1);
    const as = (pair: (typeof pairs)[number]) =>
      `${parts[pair.from.part]!.name}.${pair.from.phrase} ${parts[pair.to.part]!.name}.${pair.to.phrase}`;
    expect(pairs.map(as).sort()).toEqual(
      [
        'verse 1.0 verse 2.0',
        'verse 1.1 verse 2.1',
        'pre-chorus 1.0 pre-chorus 2.0',
        'chorus 1.0 chorus 2.0',
        'chorus 1.0 chorus 3.0',
        'chorus 1.1 chorus 2.1',
        'chorus 1.1 chorus 3.1',
        'verse 2.0 bridge.0',
        'chorus 2.0 chorus 3.0',
        'chorus 2.1 chorus 3.1',
      ].sort(),
    );
  });

  it('none leaves out what is pinned', () => {
    const plan = songOfParts(NINE, 104);
    const bridge = plan.sections[7]!.start + 3;
    const found = shape({ plan, features: null }, { target: 190, within: 20, pins: [bridge] });
    expect(found.length).toBeGreaterThan(0);
    for (const proposal of found) {
      for (const gap of proposal.leftOut) expect(bridge >= gap.from && bridge < gap.to).toBe(false);
    }
  });

  it('none goes against a section to be played whole, an own ending, or no join', () => {
    const plan = songOfParts(NINE, 104);
    const asked = (more: object) => shape({ plan, features: null }, { target: 190, within: 20, ...more });
    const verse = asked({ keep: [plan.sections[4]!.id] });
    expect(verse.length).toBeGreaterThan(3);
    for (const proposal of verse) expect(names(proposal).join()).not.toContain('verse 2');
    expect(asked({}).some((p) => names(p).includes('verse 2'))).toBe(true);
    for (const { edit } of asked({ ownEnding: true })) expect(edit.end.kind).toBe('own');
    for (const { edit } of asked({ noJoin: true })) expect(edit.cuts).toEqual([]);
    expect(asked({ ownEnding: true, noJoin: true }).map(({ kind }) => kind)).toEqual(['own length']);
  });

  it('a word that must be heard and begins before the bar line is kept, the join a beat before it', () => {
    const plan = songOfParts(NINE, 104);
    const { sections } = plan;
    const line = sections[8]!.start;
    const beat = 60 / 104;
    const found = shape({ plan, features: null }, { target: 190, within: 20, pins: [line - beat / 2] });
    const splice = found.find(({ lines }) => lines?.to === line)!;
    expect(splice.edit.cuts[0]!.to).toBeCloseTo(line - beat - BEFORE_THE_BAR, 4);
    expect(splice.words).toContain('straight into the pick-up of chorus 3');
    const score = floorScore(plan, splice.edit);
    expect(score.seams.map(({ clean }) => clean)).toEqual([true]);
  });

  it('all are edits that may be stored, their seams clean, their lengths true', () => {
    const plan = songOfParts(NINE, 97);
    for (const proposal of shape({ plan, features: null }, { target: 185, within: 20 })) {
      expect(editSchema.safeParse(proposal.edit).success).toBe(true);
      const score = floorScore(plan, proposal.edit);
      expect(score.length).toBeCloseTo(proposal.floorLength, 9);
      for (const seam of score.seams) expect(seam.clean).toBe(true);
    }
  });

  it('two sections that begin at one moment make no cut of nothing', () => {
    const plan = songOfParts(NINE.slice(0, 2), 104, 4, 4);
    const [intro, verse] = plan.sections;
    const sections = [intro!, verse!, { ...verse!, id: 'again' }];
    const proposals = shape({ plan: { ...plan, sections }, features: null }, { target: 50, within: 20 });
    expect(proposals.filter(({ edit }) => !editSchema.safeParse(edit).success)).toEqual([]);
  });

  it('a song of which nothing is known still has its whole and a fade', () => {
    const plan = { ...songOfParts([], 100), duration: 260, lastSound: 258 };
    const found = shape({ plan, features: null }, { target: 185, within: 20 });
    expect(found.map((p) => [p.kind, p.floorLength])).toEqual([
      ['fade', 185],
      ['own length', 260],
    ]);
    expect(found[0]!.words).toBe('Plays from the beginning and fades out at 3:05.');
  });
});
