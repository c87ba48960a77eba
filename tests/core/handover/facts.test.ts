import { describe, expect, it } from 'vitest';
import { answerState } from '../../../lib/core/agreed/answerState.ts';
import { djFacts } from '../../../lib/core/agreed/dj.ts';
import { entryFacts } from '../../../lib/core/agreed/entry.ts';
import { currentDigest } from '../../../lib/core/agreed/played.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import type { Day, Instant, TimeOfDay } from '../../../lib/core/calendar.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { digestOf } from '../../../lib/core/edit/digest.ts';
import { type Edit, wholeSong } from '../../../lib/core/edit/edit.ts';
import { nightCard } from '../../../lib/core/handover/night.ts';
import { owedOf, stages } from '../../../lib/core/handover/stages.ts';
import { entryTimes } from '../../../lib/zone/entryTimes.ts';
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
} from '../../kit/board.ts';

const cut = cutOut(barAt(48), barAt(88));
const full: Partial<Plan> = {
  moves: ['waltz-box', 'waltz-underarm', 'dip-three'].map(libraryMove),
  cues: [
    cueAt('a', barAt(8), 'lanterns'),
    cueAt('b', barAt(47), 'until'),
    cueAt('c', barAt(88), 'windows'),
    cueAt('d', barAt(105), 'homeward'),
  ],
  // After it whole boxes lead to the dip, and the foot that it begins with is free.
  placed: [placed('p', 'waltz-underarm', barAt(25), 2)],
  edit: cut,
  ending: endingOn(barAt(108), ['dip-three']),
  walkOn: { ...usualWalkOn, from: 'the garden door', firstStep: micros(barAt(8)) },
};
const board = boardOf({}, full);
const { recording } = board.plan;
const answered = (on: Board, ...answers: object[]): Board => ({
  ...on,
  answer: {
    ...on.answer!,
    answers: answers.map((more, i) => ({
      id: `a${i}`,
      kind: 'yes' as const,
      at: `2027-01-0${i + 1}T10:00:00.000Z` as Instant,
      by: 'Rae',
      plays: 'finished file' as const,
      digest: digestOf(on.plan.edit!, recording!),
      edit: on.plan.edit!,
      words: '',
      proposal: null,
      ...more,
    })),
  },
});
const edited = (on: Board, edit: Edit, more: Partial<Plan> = {}): Board => ({
  ...on,
  plan: { ...on.plan, edit, ...more },
});
const asked = (at: Instant, edit: Edit = cut) => ({
  digest: digestOf(edit, recording!),
  at,
  by: 'Noor',
  answerBy: '2027-01-20' as const,
});

describe('answerState', () => {
  it('goes from not asked to asked to yes', () => {
    expect(answerState(board).kind).toBe('not asked');
    expect(answerState(edited(board, cut, { asked: asked('2027-01-01T00:00:00.000Z') }))).toMatchObject({
      kind: 'asked',
      answerBy: '2027-01-20' as const,
    });
    expect(answerState(answered(board, {})).kind).toBe('yes');
  });

  it('a yes is for an older version once the edit is another, tells what differs, and holds again when it is changed back', () => {
    const yes = answered(board, {});
    const changed = edited(yes, fadeAt(barAt(84), 8, { cuts: cut.cuts }));
    const state = answerState(changed);
    expect(state.kind).toBe('yes to an older version');
    expect(state.differs).toEqual(['It now ends with a fade, from 2:48.0 to 2:56.0 of the recording.']);
    expect(state.newFile).toBe(true);
    expect(answerState(edited(changed, cut)).kind).toBe('yes');
    expect(answerState(edited(changed, wholeSong)).differs).toEqual([
      'No longer left out: 1:36.0 to 2:56.0 of the recording.',
    ]);
  });

  it('another recording with the same edit is an older version too', () => {
    const yes = answered(board, {});
    const other = edited(yes, cut, { recording: { ...recording!, id: 'b'.repeat(64) } });
    expect(answerState(other)).toMatchObject({
      kind: 'yes to an older version',
      differs: ['It is another recording.'],
    });
  });

  it('tells of another recording also where the edit changed with it, and where a suggestion was accepted', () => {
    const recorded = { recording: { ...recording!, id: 'b'.repeat(64) } };
    const differs = ['It is another recording.', 'No longer left out: 1:36.0 to 2:56.0 of the recording.'];
    const yes = answered(board, {});
    expect(answerState(edited(yes, wholeSong, recorded))).toMatchObject({ differs, newFile: true });
    const asking = { ...recorded, asked: asked('2027-01-09T00:00:00.000Z', wholeSong) };
    expect(answerState(edited(yes, wholeSong, asking))).toMatchObject({ kind: 'asked', differs });
    const replies = [
      { id: 'r', answer: 'a0', accepted: true, at: '2027-01-03T00:00:00.000Z' as const, by: 'Noor' },
    ];
    const proposal = answered(board, { kind: 'proposal', proposal: wholeSong });
    expect(answerState(edited(proposal, wholeSong, { replies, ...recorded }))).toMatchObject({
      kind: 'yes to an older version',
      differs: ['It is another recording.'],
    });
    expect(answerState(edited(proposal, cut, { replies })).differs).toEqual([
      'Now left out: 1:36.0 to 2:56.0 of the recording.',
    ]);
  });

  it('a yes is to what the DJ plays: with the other file it has to be said anew', () => {
    const playing = (on: Board, plays: 'finished file' | 'own copy' | null): Board => ({
      ...on,
      answer: { ...on.answer!, plays },
    });
    const yes = answered(board, {});
    expect(answerState(playing(yes, 'finished file')).kind).toBe('yes');
    const other = playing(yes, 'own copy');
    expect(answerState(other)).toMatchObject({
      kind: 'yes to the other file',
      words: 'Rae said yes to the finished file, and plays their own copy now.',
    });
    const found = checkBoard(other, '2027-01-01');
    expect(found.map(({ rule }) => rule)).toContain('dj-older-version');
    expect(stages(other, found).find(({ name }) => name === 'DJ')).toMatchObject({
      settled: false,
      words: 'said yes to the other file',
      toDj: 'your yes is for the other file',
      owedBy: 'DJ',
    });
    const replies = [
      { id: 'r', answer: 'a0', accepted: true, at: '2027-01-03T00:00:00.000Z' as const, by: 'Noor' },
    ];
    const proposal = answered(board, { kind: 'proposal', proposal: wholeSong });
    const accepted = edited(proposal, wholeSong, { replies });
    expect(answerState(playing(accepted, 'own copy')).kind).toBe('yes to the other file');
    expect(answerState(playing(accepted, 'finished file')).kind).toBe('accepted');
    // With an own copy, an edit that changed needs no new file.
    expect(answerState(playing(edited(yes, wholeSong), 'own copy')).newFile).toBe(false);
  });

  it('says by which day an answer is wanted in words', () => {
    const waits = edited(board, cut, { asked: asked('2027-01-01T00:00:00.000Z') });
    expect(answerState(waits).words).toBe('Asked, an answer is wanted by 20 January 2027.');
  });

  it('asking again after a change waits for a new answer, asking again without one does not forget an open proposal', () => {
    const later = { asked: asked('2027-01-09T00:00:00.000Z', wholeSong) };
    expect(answerState(edited(answered(board, {}), wholeSong, later)).kind).toBe('asked');
    const proposal = answered(board, { kind: 'proposal', proposal: wholeSong });
    expect(answerState(edited(proposal, cut, later)).kind).toBe('proposal open');
  });

  it('a proposal is open until somebody replies; accepted it is agreed while it is the edit', () => {
    const open = answered(board, { kind: 'proposal', proposal: wholeSong });
    expect(answerState(open)).toMatchObject({
      kind: 'proposal open',
      differs: ['It would no longer leave out 1:36.0 to 2:56.0 of the recording.'],
    });
    const reply = (accepted: boolean) => ({
      replies: [{ id: 'r', answer: 'a0', accepted, at: '2027-01-03T00:00:00.000Z' as const, by: 'Noor' }],
    });
    expect(answerState(edited(open, cut, reply(false))).kind).toBe('declined');
    expect(answerState(edited(open, wholeSong, reply(true))).kind).toBe('accepted');
    expect(answerState(edited(open, fadeAt(100, 8), reply(true))).kind).toBe('yes to an older version');
  });

  it('the latest answer counts, whatever the order of their ids', () => {
    expect(
      answerState(answered(board, { id: 'z' }, { id: 'b', kind: 'proposal', proposal: wholeSong })).kind,
    ).toBe('proposal open');
  });

  it('is not needed with a band, and not readable without the area', () => {
    expect(answerState(edited(board, cut, { musicBy: 'band' })).kind).toBe('not needed');
    expect(answerState({ ...board, answer: null }).kind).toBe('not readable');
  });
});

describe('djFacts', () => {
  it('gives all times on the clock of the finished file', () => {
    const facts = djFacts(board, 3);
    expect(facts.clockOf).toBe('the finished file');
    expect(facts.fileName).toBe('First dance Noor Elias v3 2.29.mp3');
    expect(facts.fileLength).toBeCloseTo(facts.musicLength + 0.5 + 1, 6);
    // Bar 108 is heard 40 bars (80 s) earlier than in the recording.
    expect(facts.closingPose!.at).toBeCloseTo(216 - 80, 6);
    expect(facts.joins).toEqual([
      { leave: 96, goOn: 96, lastWord: 'until', firstWord: 'windows', leftOut: 80 },
    ]);
    expect(facts.lines.join(' ')).not.toMatch(/undefined|NaN|null/);
  });

  it('gives them on the recording’s for an own copy, and on the copy’s once it is compared', () => {
    const own = djFacts(board, 3, 'own copy');
    expect(own.clockOf).toBe('the recording');
    expect(own.joins[0]).toMatchObject({ leave: 96, goOn: 176 });
    expect(own.closingPose!.at).toBeCloseTo(216, 6);
    // The copy shows the same moment 2 s later at its beginning, and runs 1 % longer: t x 1.01 + 2.
    const copy = {
      verdict: 'shifted' as const,
      offsetMs: 2000,
      ratio: 1.01,
      confidence: 1,
      at: '2027-01-01T00:00:00.000Z' as const,
    };
    const compared = { ...board, answer: { ...board.answer!, plays: 'own copy' as const, copy } };
    const facts = djFacts(compared, 3);
    expect(facts.clockOf).toBe('your own copy');
    expect(facts.joins[0]!.leave).toBeCloseTo(98.96, 6);
    expect(facts.joins[0]!.goOn).toBeCloseTo(179.76, 6);
    expect(facts.closingPose!.at).toBeCloseTo(220.16, 6);
    expect(facts.lines[3]).toContain('leave at 1:39.0 (after “until”), go on at 2:59.8 (“windows”)');
  });

  it('moves every time by the copy’s clock, fractions of a second included', () => {
    const check = { confidence: 1, at: '2027-01-01T00:00:00.000Z' as const };
    const copy = { verdict: 'shifted' as const, offsetMs: 237, ratio: 1.005, ...check };
    const faded = edited(board, { ...fadeAt(206, 8), cuts: board.plan.edit!.cuts });
    const compared = { ...faded, answer: { ...faded.answer!, plays: 'own copy' as const, copy } };
    const times = (of: Board) => {
      const { start, joins, fade, closingPose, ringTo, byEar, fullLength } = djFacts(of, 3, 'own copy');
      const joined = joins.flatMap(({ leave, goOn }) => [leave, goOn]);
      const ends = [fade!.from, fade!.gone, ringTo, fullLength, ...(closingPose ? [closingPose.at] : [])];
      return [start.at, ...joined, ...ends, ...byEar.map(({ at }) => at)];
    };
    const [plain, moved] = [times({ ...faded, answer: { ...faded.answer!, copy: null } }), times(compared)];
    expect(plain.length).toBeGreaterThan(6);
    expect(moved).toHaveLength(plain.length);
    for (const [i, at] of plain.entries()) expect(moved[i]).toBeCloseTo(at * 1.005 + 0.237, 6);
    const said = djFacts(compared, 3, 'own copy').lines.join(' ');
    expect(said).toContain(`from 0:00.2`);
    expect(said).toMatch(/ring to \d:\d\d\.\d/);
  });

  it('forgets a copy check once the recording is another, and knows an older finished file', () => {
    const check = { offsetMs: 1000, ratio: 1, confidence: 1, at: '2027-01-01T00:00:00.000Z' as const };
    const against = { recording: board.plan.recording!.id, digest: currentDigest(board.plan)! };
    const having = (verdict: 'shifted' | 'finished file', plan: Partial<Plan> = {}): Board => ({
      ...board,
      plan: { ...board.plan, ...plan },
      answer: { ...board.answer!, plays: 'own copy', copy: { ...check, verdict, ...against } },
    });
    expect(djFacts(having('shifted'), 1).start.at).toBe(1);
    const another = having('shifted', { recording: { ...board.plan.recording!, id: 'b'.repeat(64) } });
    expect(djFacts(another, 1)).toMatchObject({ clockOf: 'the recording', start: { at: 0 } });
    const rulesOf = (of: Board) => checkBoard(of, '2027-06-01').map(({ rule }) => rule);
    expect(rulesOf(having('shifted'))).not.toContain('copy-not-checked');
    expect(rulesOf(another)).toContain('copy-not-checked');
    const file = (plan: Partial<Plan> = {}): Board => {
      const of = having('finished file', plan);
      return { ...of, answer: { ...of.answer!, plays: 'finished file' } };
    };
    expect(rulesOf(file())).not.toContain('copy-differs');
    expect(rulesOf(file({ edit: wholeSong }))).toContain('copy-differs');
  });

  it('a closing pose that the edit leaves out is said to be that, wherever it is missing', () => {
    const lost = edited(board, cutOut(barAt(100), barAt(112)));
    const own = edited(board, cut, { ending: null });
    expect(djFacts(board, 1).poseLeftOut).toBe(false);
    expect(djFacts(own, 1)).toMatchObject({ closingPose: null, poseLeftOut: false });
    expect(djFacts(lost, 1)).toMatchObject({ closingPose: null, poseLeftOut: true });
    expect(djFacts(lost, 1).lines[4]).toMatch(
      /^The closing pose is left out by the present edit; let it ring/,
    );
    expect(nightCard(lost)!.poseLost).toBe('The closing pose is left out by the present edit.');
    expect(nightCard(board)!.poseLost).toBe('');
    expect(entryFacts(lost).missing).toContain('the closing pose, left out by the present edit');
    expect(entryFacts(own).missing).toContain('the closing pose');
    const { show } = board;
    const timed = { ...lost, show: { ...show!, time: '19:30' as const, zone: 'Europe/Paris' } };
    const stage = stages(timed, checkBoard(timed, '2027-01-01')).find(({ name }) => name === 'run of show');
    expect(stage).toMatchObject({
      words: 'lacks the closing pose, left out by the present edit',
      owedBy: 'couple or instructor',
    });
  });

  it('names the song by its recording where the board has no name for it', () => {
    const recordingWords = { title: 'Lantern Street', artist: '', version: '', source: '' };
    const { title } = djFacts(edited(board, cut, { title: null, recordingWords }), 1);
    expect(title).toBe('Lantern Street');
  });

  // Worked example (arithmetic): a fade of 8 s to silence at 3:00 begins at 2:52.
  it('prints both ends of a fade by hand', () => {
    const edit = fadeAt(172, 8);
    const byHand = { ...edit, end: { ...edit.end, byHand: true } } as Edit;
    const facts = djFacts(edited(board, byHand), 1);
    expect(facts.fade).toEqual({ from: 172, gone: 180, byHand: true });
    expect(facts.lines[3]).toContain('Start fading at 2:52, gone by 3:00; the file fades there too.');
    expect(facts.planB).toBe(
      'If the music does not fade, the full song is playing: let it run; the couple finish when they like, then bow and walk off together: fade it out then.',
    );
  });

  it('says how to tell that the full song is playing, and where to finish then', () => {
    const target = { kind: 'cue word' as const, at: micros(barAt(108)), cue: 'e' };
    const plan = {
      cues: [...full.cues!, cueAt('e', barAt(108), 'home')],
      ending: { ...full.ending!, target },
    };
    expect(djFacts(edited(board, cut, plan), 1).planB).toBe(
      'If verse 2 comes after “until”, the full song is playing: let it run; the couple keep to the basic, and finish on “home” all the same, which comes 1:20 later.',
    );
  });
});

describe('plan B', () => {
  it('names the section that goes on where a join lies within it, and a long wait in minutes', () => {
    const inside = {
      ...wholeSong,
      cuts: [{ from: micros(barAt(12)), to: micros(barAt(48)), crossfade: 0.02 }],
    };
    expect(djFacts(edited(board, inside), 1).planB).toMatch(/^If verse 1 goes on/);
    expect(djFacts(edited(board, { ...wholeSong, start: micros(barAt(48)) }), 1).planB).toContain(
      'wait 1:36 longer before the first step',
    );
  });
  it('knows no pose where the edit leaves it out, and the night card begins with the first step', () => {
    const early = fadeAt(100, 8);
    expect(nightCard(edited(board, early))!.planB).toContain('finish when you like');
    const { rows } = nightCard(edited(board, wholeSong, { walkOn: null }))!;
    expect(rows[0]?.does).toBe('first step');
  });
});

describe('entryFacts', () => {
  it('takes its day from the party, and after midnight the one that follows', () => {
    const at = (date: Day | null, time: TimeOfDay | null, afterMidnight: boolean | null = null) => {
      const { day, facts, missing } = entryFacts({
        ...board,
        plan: { ...board.plan, date },
        show: { ...board.show!, time, afterMidnight },
      });
      return [day, facts.starts, facts['after midnight'], missing.includes('the date')];
    };
    const night = 'the night after 31 December 2027';
    expect(at(null, null)).toEqual([null, undefined, undefined, true]);
    expect(at('2027-12-31', null, true)).toEqual(['2027-12-31', '2027-12-31', undefined, false]);
    expect(at('2027-12-31', '20:15')).toEqual(['2027-12-31', '2027-12-31 20:15', undefined, false]);
    expect(at('2027-12-31', '00:15', true)).toEqual(['2028-01-01', '2028-01-01 00:15', night, false]);
    expect(at(null, '20:15')).toEqual([null, '20:15', undefined, true]);
  });

  const show = {
    ...board.show!,
    time: '19:30' as const,
    zone: 'Europe/Paris',
    lead: 60,
    applause: 20,
    announcedBy: 'Kim',
  };
  const shown: Board = { ...board, show };

  it('adds up lead, music and applause, and puts moments on the wall’s clock', () => {
    const entry = entryFacts(shown);
    expect(entry.musicLength).toBeCloseTo(147.5, 6);
    // Each length is rounded as it is printed: 1:00, 2:28 and 0:20.
    expect(entry.total).toBe(228);
    const times = entryTimes(entry)!;
    expect(entry.moments.map(({ after, what }) => [times.clock(after), what])).toEqual([
      ['19:31:06', 'walk on from the garden door, take hold'],
      ['19:31:16', 'first step'],
      ['19:33:10', 'the ending begins, on “homeward”'],
      ['19:33:16', 'closing pose, kept 4 s, facing the windows'],
    ]);
    expect(entry.missing).toEqual([]);
  });

  it('leaves out a moment that the edit removes, and crosses midnight', () => {
    const moments = [
      { id: 'm1', at: micros(barAt(60)), who: 'lights', what: 'haze' },
      { id: 'm2', at: micros(barAt(24)), who: 'lights', what: 'warm' },
    ];
    const late = entryFacts({
      ...board,
      plan: { ...board.plan, date: '2027-12-31' },
      show: { ...show, time: '23:58', moments },
    });
    const times = entryTimes(late)!;
    const lights = late.moments.filter(({ who }) => who === 'lights');
    expect(lights.map(({ what, after }) => [what, times.clock(after)])).toEqual([['warm', '23:59:48']]);
    expect(times.clock(late.moments.at(-1)!.after)).toBe('00:01:16');
  });

  it('is final until a printed fact changes, and says which', () => {
    const { digest, facts } = entryFacts(shown);
    const final = { digest, facts, at: '2027-01-01T00:00:00.000Z' as const, by: 'Kim' };
    const marked = { ...shown, show: { ...show, final } };
    expect(entryFacts(marked).final).toMatchObject({ outdated: false, differs: [] });
    const later = { ...marked, show: { ...marked.show, applause: 30 } };
    expect(entryFacts(later).final!.outdated).toBe(true);
    expect(entryFacts(later).final!.differs).toEqual([
      'applause: was 20 s, is 30 s',
      'in all: was 3:48, is 3:58',
    ]);
    const delayed = { ...marked, show: { ...marked.show, time: '20:30' as const } };
    expect(entryFacts(delayed).final!.differs).toEqual([
      'starts: was 12 June 2027, 19:30, is 12 June 2027, 20:30',
    ]);
  });

  it('tells what became of a moment by what it is, and not by its place among the others', () => {
    const moment = (id: string, bar: number, what: string) => ({
      ...{ id, at: micros(barAt(bar)), who: 'lights', what },
    });
    const having = (...moments: ReturnType<typeof moment>[]): Board => ({
      ...shown,
      show: { ...show, moments },
    });
    const [warm, dim] = [moment('m1', 24, 'warm'), moment('m2', 30, 'dim')];
    const { digest, facts } = entryFacts(having(warm, dim));
    const differs = (on: Board) => {
      const final = { digest, facts, at: '2027-01-01T00:00:00.000Z' as const, by: 'Kim' };
      return entryFacts({ ...on, show: { ...on.show!, final } }).final!.differs;
    };
    expect(differs(having(warm, dim))).toEqual([]);
    expect(differs(having(moment('m0', 2, 'haze'), warm, dim))).toEqual(['new: 0:04 lights: haze']);
    expect(differs(having(dim))).toEqual(['no longer: 0:48 lights: warm']);
    expect(differs(having({ ...warm, at: micros(barAt(26)) }, dim))).toEqual([
      'lights: warm: was at 0:48, is at 0:52',
    ]);
    expect(differs(having({ ...warm, what: 'warmer' }, dim))).toEqual([
      'at 0:48: was lights: warm, is lights: warmer',
    ]);
  });
});

describe('nightCard', () => {
  it('says what to listen for and what to do, in order, and how the full song is told', () => {
    const card = nightCard(board)!;
    expect(card.rows.map(({ word, does, ending }) => [word, does, ending])).toEqual([
      ['midway in the intro', 'walk on from the garden door, take hold', false],
      ['lanterns', 'first step', false],
      ['early in pre-chorus 1', 'underarm turn, twice', false],
      ['homeward', 'dip', true],
      ['', 'closing pose, kept 4 s, facing the windows', true],
    ]);
    expect(card.lost).toContain('The dip is fine as a lean.');
    expect(card.planB).toContain('verse 2');
    expect(nightCard({ ...board, plan: { ...board.plan, grid: null } })).toBeNull();
  });

  it('names a section alone only where it begins, and else says how far into it', () => {
    // Verse 1 is bars 8 to 24; pre-chorus 1 follows.
    const moves = [10, 14, 22, 24].map((bar) => placed(`p${bar}`, 'waltz-box', barAt(bar)));
    const { rows } = nightCard(edited(board, cut, { placed: moves }))!;
    const heard = rows.filter(({ does }) => does === libraryMove('waltz-box').name.toLowerCase());
    expect(heard.map(({ word, isSung }) => [word, isSung])).toEqual(
      ['early in verse 1', 'midway in verse 1', 'late in verse 1', 'pre-chorus 1'].map((word) => [
        word,
        false,
      ]),
    );
  });

  it('tells couple and DJ of the full song by the same words of it', () => {
    const target = { kind: 'cue word' as const, at: micros(barAt(108)), cue: 'e' };
    const plan = {
      cues: [...full.cues!, cueAt('e', barAt(108), 'home')],
      ending: { ...full.ending!, target },
    };
    const edits = [cut, fadeAt(barAt(80), 8), { ...cut, start: micros(barAt(4)) }];
    for (const edit of edits) {
      const both = edited(board, edit, plan);
      const [couple, dj] = [nightCard(both)!.planB, djFacts(both, 1).planB];
      const named = (text: string) => [...text.matchAll(/“([^”]+)”/g)].map(([, word]) => word);
      expect(couple).not.toBe('');
      expect(named(couple)).toEqual(named(dj));
    }
    expect(nightCard(edited(board, cut, plan))!.planB).toBe(
      'If verse 2 comes after “until”, the full song is playing: keep to the basic, and finish on “home” all the same, which comes 1:20 later.',
    );
  });
});

describe('stages', () => {
  const at = (of: Board) =>
    Object.fromEntries(stages(of, checkBoard(of, '2027-01-01')).map((stage) => [stage.name, stage]));

  it('says of each step whether it is settled, or what is owed and by whom', () => {
    const now = at(board);
    expect(now.song).toEqual({
      name: 'song',
      settled: true,
      words: 'confirmed',
      owedBy: null,
      findings: [],
    });
    expect(now.edit).toMatchObject({ settled: true, words: 'chosen' });
    expect(at(edited(board, wholeSong)).edit!.words).not.toBe('chosen');
    expect(now.DJ).toMatchObject({ settled: false, words: 'to ask', owedBy: 'couple or instructor' });
    expect(now['run of show']).toMatchObject({ settled: false, words: 'lacks the time', owedBy: 'planner' });
    const dayless = { ...board, plan: { ...board.plan, date: null } };
    expect(at(dayless)['run of show']).toMatchObject({
      words: 'lacks the date',
      owedBy: 'couple or instructor',
    });
    expect(at(answered(board, {})).DJ).toMatchObject({ settled: true, words: 'said yes' });
  });

  it('says of the DJ’s word how it stands, to the DJ as their own, and apart from it what is to be done', () => {
    const older = edited(answered(board, {}), wholeSong);
    expect(at(older).DJ).toMatchObject({
      words: 'said yes to an older version',
      toDj: 'your yes is for an older version',
      owedBy: 'couple or instructor',
      todo: 'to ask again',
    });
    expect(owedOf([at(older).DJ!])).toEqual([
      { what: 'DJ said yes to an older version, to ask again', by: 'couple or instructor' },
    ]);
    const open = answered(board, { kind: 'proposal', proposal: wholeSong });
    expect(at(open).DJ).toMatchObject({ words: 'suggests something else', todo: 'to reply' });
    const declined = [
      { id: 'r', answer: 'a0', accepted: false, at: '2027-01-03T00:00:00.000Z' as const, by: 'Noor' },
    ];
    expect(at(edited(open, cut, { replies: declined })).DJ).toMatchObject({
      words: 'suggestion declined',
      toDj: 'your suggestion was declined',
      todo: 'to ask again',
    });
  });

  it('counts findings that block or warn, and nothing else', () => {
    const twice = edited(board, cut, {
      placed: [placed('p', 'waltz-underarm', barAt(24)), placed('q', 'waltz-underarm', barAt(25))],
    });
    expect(at(twice).dance!.words).toMatch(/^[1-9]\d* to settle$/);
    expect(at(boardOf()).dance!.words).toBe('to begin');
    expect(owedOf(stages(board, checkBoard(board, '2027-01-01')))).toEqual([
      { what: 'DJ to ask', by: 'couple or instructor' },
      { what: 'run of show lacks the time', by: 'planner' },
    ]);
  });

  it('the song is confirmed only where nothing of it is open, and says what is', () => {
    const { grid, sections } = board.plan;
    const openIn = (more: Partial<Plan>) => at(edited(board, cut, more)).song!;
    const bars = { grid: { ...grid!, confirmedBy: { ...grid!.confirmedBy, bars: null } } };
    expect(openIn(bars)).toMatchObject({ settled: false, words: 'bars to confirm' });
    // The checks only hint at sections that nobody has confirmed.
    const last = { sections: sections.map((s, i) => (i === 8 ? { ...s, confirmedBy: null } : s)) };
    expect(openIn(last)).toMatchObject({ settled: false, words: '1 of 9 sections to confirm' });
    const off = sections.map((s, i) => (i === 2 ? { ...s, start: micros(s.start + 0.3) } : s));
    expect(openIn({ sections: off })).toMatchObject({ settled: false, words: '1 to settle' });
    expect(openIn({ ...bars, sections: off }).words).toBe('bars to confirm, 1 to settle');
  });

  it('the dance is settled only where there is one: a first step, a move besides the ending, and a pose that lands', () => {
    const dance = (more: Partial<Plan>, edit = cut) => at(edited(board, edit, more)).dance!;
    expect(dance({})).toMatchObject({ settled: true, words: 'settled' });
    expect(dance({ placed: [] })).toMatchObject({ settled: false, words: 'lacks a move' });
    expect(dance({ placed: [placed('p', 'waltz-underarm', barAt(64))] }).words).toBe('lacks a move');
    expect(dance({ walkOn: null }).words).toBe('lacks a first step');
    expect(dance({}, cutOut(0, barAt(16))).words).toBe('lacks a first step');
    expect(dance({ ending: null }).words).toBe('lacks a closing pose');
    expect(dance({ placed: [], walkOn: null }).words).toBe('lacks a first step and a move');
    expect(dance({ placed: [], ending: null }).words).toBe('to put together');
  });

  it('a list that shows the sentence of what the dance lacks does not say it again', () => {
    const without = edited(board, cut, { ending: null });
    const found = checkBoard(without, '2027-01-01');
    const dance = stages(without, found).filter(({ name }) => name === 'dance');
    const said = found.filter(({ rule }) => rule === 'no-ending');
    expect([owedOf(dance).length, owedOf(dance, said)]).toEqual([1, []]);
    const noMove = edited(board, cut, { placed: [] });
    const all = checkBoard(noMove, '2027-01-01');
    expect(owedOf(stages(noMove, all), all).map(({ what }) => what)).toContain('dance lacks a move');
  });

  it('a list that shows findings does not say again what their sentences say', () => {
    const older = edited(answered(board, {}), cutOut(barAt(40), barAt(88)), {
      placed: [25, 26, 27].map((bar) => placed(`p${bar}`, 'waltz-underarm', barAt(bar))),
    });
    // In the weeks in which the evening is planned.
    const found = checkBoard(older, '2027-05-20');
    const all = stages(older, found);
    const of = (rule: string) => found.filter((finding) => finding.rule === rule);
    const owed = (said: typeof found) => owedOf(all, said).map(({ what }) => what);
    expect(of('overlap').length).toBeGreaterThan(1);
    const [dance, dj, show] = [
      `dance ${of('overlap').length} to settle`,
      'DJ said yes to an older version, to ask again',
      'run of show lacks the time',
    ];
    expect(owed([])).toEqual(expect.arrayContaining([dance, dj, show]));
    expect(owed(of('dj-older-version'))).not.toContain(dj);
    expect(owed(of('show-no-time'))).not.toContain(show);
    // One of several sentences is not all that is to be settled.
    expect(owed(of('overlap').slice(1))).toContain(dance);
    expect(owed(of('overlap'))).not.toContain(dance);
    expect(owed(found)).toEqual([]);
    const empty = edited(board, cut, { recording: null, grid: null });
    const lacking = checkBoard(empty, '2027-01-01');
    const isSong = ({ what }: { what: string }) => what === 'song to add';
    expect(owedOf(stages(empty, lacking)).some(isSong)).toBe(true);
    expect(owedOf(stages(empty, lacking), lacking).some(isSong)).toBe(false);
  });
});
