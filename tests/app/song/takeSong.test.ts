import { describe, expect, it } from 'vitest';
import type { HeardSong } from '../../../app/_client/audioWork.ts';
import type { How } from '../../../app/_client/gate.ts';
import { songChanges, titleOf } from '../../../app/_song/takeSong.ts';
import type { Question } from '../../../lib/core/agreed/question.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import { showInto } from '../../../lib/core/areas/shift.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { wholeSong } from '../../../lib/core/edit/edit.ts';
import { openOf } from '../../../lib/core/song/confirmed.ts';
import { byNobody } from '../../../lib/core/song/grid.ts';
import { noPlace, type Places } from '../../../lib/core/song/places.ts';
import { answerTo } from '../../core/agreed/said.ts';
import {
  cueAt,
  cutOut,
  endingOn,
  gridOf,
  libraryMove,
  micros,
  placed,
  planOf,
  sectionsOf,
} from '../../kit/board.ts';
import { openedBoard } from '../../kit/page.ts';

const song: HeardSong = {
  recording: { ...planOf().recording!, id: 'b'.repeat(64) },
  heard: planOf().heard,
  features: { frame: 0.25, loudness: '', chroma: '', timbre: '' },
  imprint: 'AQ==',
  grid: { ...gridOf({ beatsPerBar: 4 }), confirmedBy: byNobody },
  word: '',
  sections: sectionsOf({ beatsPerBar: 4 }).map(({ id: _, ...rest }) => ({ ...rest, confirmedBy: null })),
};
const ids = song.sections.map((_, i) => `n${i}`);

const before = planOf(
  {},
  {
    edit: cutOut(30, 60),
    moves: ['waltz-box', 'lean-three'].map(libraryMove),
    cues: [cueAt('c1', 20, 'lanterns'), cueAt('c2', 150, 'tide')],
    placed: [placed('p1', 'waltz-box', 16)],
    walkOn: { ...usualWalkOn, from: 'the bar', firstStep: micros(8) },
    ending: endingOn(200, ['lean-three']),
  },
);
const placesTo = (of: (at: number) => number | null, more: Partial<Places> = {}): Places => ({
  ratio: 1,
  whole: true,
  of: (at) => {
    const there = of(at);
    return there === null ? null : micros(there);
  },
  ...more,
});

describe('a recording put into the plan', () => {
  it('fills an empty plan in one step: recording, grid, sections, the whole song as its edit', () => {
    const plan = changePlan(
      emptyBoard().plan,
      songChanges(emptyBoard().plan, song, ids, '07 - Paper_Boats.mp3', noPlace),
    );
    expect(plan.recording).toEqual(song.recording);
    expect(plan.grid).toEqual(song.grid);
    expect(plan.sections.map(({ id }) => id)).toEqual(ids);
    expect(plan.edit).toEqual(wholeSong);
    expect(plan.phraseBars).toBe(4);
    expect(plan.recordingWords?.title).toBe('Paper Boats');
  });

  it('in the place of another: nothing of that one stays, neither at its seconds nor in words', () => {
    const plan = changePlan(before, songChanges(before, song, ids, '02 Tide Tables.wav', noPlace));
    expect(plan.sections.map(({ id }) => id)).toEqual(ids);
    expect(openOf(plan).map(({ words }) => words)).toEqual(['metre', 'beats', 'bars', 'sections']);
    expect(plan.edit).toEqual(wholeSong);
    expect([plan.cues, plan.placed, plan.ending]).toEqual([[], [], null]);
    expect(plan.walkOn).toEqual({ ...usualWalkOn, from: 'the bar', firstStep: null });
    expect(plan.moves).toEqual(before.moves);
    expect(plan.recordingWords).toEqual({ title: 'Tide Tables', artist: '', version: '', source: '' });
  });

  it('in the place of one of which it shows a part: that part of the dance comes along', () => {
    const places = placesTo((at) => (at < 30 ? at + 2 : null), { whole: false });
    const plan = changePlan(before, songChanges(before, song, ids, 'radio.wav', places));
    expect([plan.cues[0]?.at, plan.placed[0]?.at]).toEqual([22, 18]);
    expect([plan.walkOn?.firstStep, plan.ending]).toEqual([10, null]);
    expect([plan.grid, plan.edit]).toEqual([song.grid, wholeSong]);
    expect(plan.recordingWords?.artist).toBe('');
  });

  it('in the place of an earlier copy of it: all that was made of it moves along, and it keeps its name', () => {
    const places = placesTo((at) => at + 1.5);
    const plan = changePlan(before, songChanges(before, song, ids, 'copy.wav', places));
    expect(plan.recording).toEqual(song.recording);
    expect(plan.features).toEqual(song.features);
    expect(plan.sections.map(({ start }) => start)).toEqual(before.sections.map(({ start }) => start + 1.5));
    expect(openOf(plan)).toEqual([]);
    expect(plan.grid?.beats[7]).toBe(before.grid!.beats[7]! + 1.5);
    expect(plan.edit?.cuts[0]).toMatchObject({ from: 31.5, to: 61.5 });
    expect([plan.cues[0]?.at, plan.placed[0]?.at]).toEqual([21.5, 17.5]);
    expect(plan.recordingWords).toEqual(before.recordingWords);
  });

  it('without a beat there is no grid, and none is invented', () => {
    const unheard = { ...song, heard: null, grid: null, sections: [], word: 'No beat.' };
    const plan = changePlan(planOf(), songChanges(planOf(), unheard, [], 'speech.wav', noPlace));
    expect([plan.grid, plan.heard, plan.phraseBars]).toEqual([null, null, null]);
    expect(plan.sections).toEqual([]);
  });

  it('puts nothing at another second where there was no recording yet', () => {
    const early = { ...before, recording: null, imprint: null };
    const plan = changePlan(early, songChanges(early, song, ids, 'first.wav', noPlace));
    expect([plan.cues, plan.placed, plan.walkOn, plan.recordingWords]).toEqual([
      early.cues,
      early.placed,
      early.walkOn,
      early.recordingWords,
    ]);
  });

  it('reads a title from a file’s name', () => {
    expect(titleOf('Paper Boats.flac')).toBe('Paper Boats');
    expect(titleOf('1999.mp3')).toBe('1999');
    expect(titleOf('.mp3')).toBe('');
  });
});

describe('what is asked before another recording is taken', () => {
  const moments = [
    { id: 'm1', at: micros(20), who: 'lights', what: 'warm', recording: before.recording!.id },
    { id: 'm2', at: micros(150), who: 'MC', what: 'silent' },
  ];
  const unanswered: Board = {
    ...emptyBoard(),
    plan: { ...before, settled: { by: 'Marta', at: '2027-05-01T10:00:00.000Z', word: '' } },
    show: { ...emptyBoard().show!, moments },
  };
  const yes = { ...answerTo(unanswered), by: 'Rufus' };
  const board: Board = { ...unanswered, answer: { ...unanswered.answer!, answers: [yes] } };
  const opened = (start = board) => {
    const kept = openedBoard(start);
    const page = kept.page('instructor');
    const take = (places: Places, more: How = {}) =>
      page.change('plan', songChanges(kept.read().plan, song, ids, 'Tide Tables.wav', places), {
        along: showInto(kept.read().show!, places, song.recording.id),
        ...more,
      });
    return { ...kept, page, take };
  };
  const asked = (places: Places) => {
    const { page, take } = opened();
    expect(take(places)).toMatchObject({ ok: false, problem: { code: 'waits' } });
    return page.gate.question!;
  };
  const listAfter = (question: Question, words: string) =>
    question.parts.find((part) => part.words.startsWith(words))?.list ?? [];

  it('of another song: what goes, what is heard anew, whose words, and whose yes', () => {
    const question = asked(noPlace);
    expect(question.title).toBe('Another recording in place of this one?');
    expect(question.yes).toBe('Take the new recording');
    expect(question.parts[0]!.words).toBe('The same music was not found in it.');
    expect(listAfter(question, 'This comes along')).toEqual([]);
    expect(listAfter(question, 'This goes')).toEqual([
      '2 cue words: “lanterns”, “tide”',
      '1 move: Box step at 0:16',
      'the first step',
      `the ending with its closing pose, ${libraryMove('lean-three').name}`,
      '2 moments for others: lights warm, MC silent',
    ]);
    expect(listAfter(question, 'This is made anew')).toEqual([
      'beats, bars and sections, which nobody has confirmed yet',
      'the edit, which begins as the whole song',
    ]);
    expect(listAfter(question, 'This was said')).toEqual([
      'title: “Tide Tables” instead of “Lantern Street”',
      'artist: “The Harbour Lamps” goes',
      'version: “studio version” goes',
      'source: “the couple’s own file” goes',
    ]);
    const words = question.parts.map((part) => part.words).join('\n');
    expect(words).toContain('Marta has settled song and edit');
    expect(words).toContain('Rufus has said yes to this. Their yes no longer holds: they need the new file');
  });

  it('of a part of the music: what comes along beside what goes', () => {
    const question = asked(placesTo((at) => (at < 30 ? at + 2 : null), { whole: false }));
    expect(question.parts[0]!.words).toBe('It holds some of the same music, not all of it.');
    expect(listAfter(question, 'This comes along')).toEqual([
      '1 cue word',
      '1 move',
      'the first step',
      '1 moment for others',
    ]);
    expect(listAfter(question, 'This goes')).toEqual([
      '1 cue word: “tide”',
      `the ending with its closing pose, ${libraryMove('lean-three').name}`,
      '1 moment for others: MC silent',
    ]);
  });

  it('of the same music: that all comes along', () => {
    const question = asked(placesTo((at) => at + 1.5));
    expect(question.parts[0]!.words).toBe('It holds the same music.');
    expect(listAfter(question, 'This comes along')).toEqual([
      ...['beats, bars, sections and the edit', '2 cue words', '1 move', 'the first step'],
      `the ending with its closing pose, ${libraryMove('lean-three').name}`,
      '2 moments for others',
    ]);
    for (const words of ['This goes', 'This is made', 'This was said'])
      expect(listAfter(question, words)).toEqual([]);
  });

  it('of more than three things the first three in time are named', () => {
    const cues = [5, 3, 4, 1, 2].map((at) => cueAt(`x${9 - at}`, 10 * at, `w${at}`));
    const { page, take } = opened({ ...board, plan: { ...board.plan, cues } });
    take(noPlace);
    expect(listAfter(page.gate.question!, 'This goes')[0]).toBe('5 cue words: “w1”, “w2”, “w3” and 2 more');
  });

  it('whoever may not write them leaves the moments for others, and is told so', () => {
    const kept = openedBoard(board);
    const page = kept.page('couple');
    page.change('plan', songChanges(board.plan, song, ids, 'x.wav', noPlace));
    expect(listAfter(page.gate.question!, 'This stays at its second')).toEqual([
      '2 moments for others: lights warm, MC silent',
    ]);
    page.gate.agree();
    expect(kept.read().plan.recording?.id).toBe(song.recording.id);
    expect(kept.read().show).toEqual(board.show);
    const found = checkBoard(kept.read(), '2027-05-01').map(({ id }) => id);
    expect(found.filter((id) => id.startsWith('moment-other'))).toEqual(['moment-other-recording:m1']);
    const along = showInto(board.show!, noPlace, song.recording.id);
    expect(page.change('plan', [{ register: 'title', value: 'x' }], { along })).toMatchObject({
      problem: { code: 'no right' },
    });
  });

  it('declined, nothing has changed and whoever brought it is told', () => {
    const { page, take, read } = opened();
    const told: unknown[] = [];
    take(noPlace, { onlyAsks: true, done: () => told.push('done'), not: (why) => told.push(why) });
    page.gate.decline();
    expect([told, page.gate.question]).toEqual([[null], null]);
    expect(read()).toBe(board);
  });

  it('is asked before anything is made, and not again where nothing else is lost meanwhile', () => {
    const { page, take, read } = opened();
    let agreed: string | undefined;
    take(noPlace, {
      onlyAsks: true,
      done: (losses) => {
        agreed = losses;
      },
    });
    page.gate.agree();
    expect(read()).toBe(board);
    expect(agreed).toContain('recording');
    expect(take(noPlace, agreed === undefined ? {} : { agreed })).toEqual({ ok: true, value: true });
    expect(read().plan.recording?.id).toBe(song.recording.id);
    expect([read().plan.settled, read().show?.moments]).toEqual([null, []]);
  });

  it('is asked again where something else is lost by then', () => {
    const { page, take, read, put } = opened();
    let agreed: string | undefined;
    take(noPlace, {
      onlyAsks: true,
      done: (losses) => {
        agreed = losses;
      },
    });
    page.gate.agree();
    const cues = [...before.cues, cueAt('c3', 90, 'bell')];
    put({ ...read(), plan: { ...read().plan, cues } });
    expect(take(noPlace, agreed === undefined ? {} : { agreed })).toMatchObject({
      problem: { code: 'waits' },
    });
    expect(listAfter(page.gate.question!, 'This goes')[0]).toBe('3 cue words: “lanterns”, “bell”, “tide”');
    page.gate.agree();
    expect(read().plan.cues).toEqual([]);
  });

  it('is taken back as one step, the moments for others too', () => {
    const loose = { ...board, plan: { ...board.plan, settled: null }, answer: emptyBoard().answer };
    for (const places of [
      noPlace,
      placesTo((at) => (at < 30 ? at + 2 : null), { whole: false }),
      placesTo((at) => at + 1),
    ]) {
      const { page, take, read } = opened(loose);
      take(places);
      page.gate.agree();
      const taken = read();
      expect(taken.plan.recording?.id).toBe(song.recording.id);
      page.turn('undo');
      expect([page.left, page.gate.question]).toEqual(['', null]);
      expect(read()).toEqual(loose);
      expect(page.steps.canUndo).toBe(false);
      page.turn('redo');
      expect(read()).toEqual(taken);
    }
  });

  it('taking it back asks where the DJ has said yes since, and where others set something since', () => {
    const { page, take, read, put } = opened();
    take(noPlace);
    page.gate.agree();
    const { plan } = read();
    const since = { ...read(), plan: { ...plan, cues: [cueAt('new', 12, 'gull')] } };
    const again = { ...answerTo(since), id: 'z', by: 'Rufus', at: '2027-06-01T10:00:00.000Z' as const };
    put({ ...since, answer: { ...since.answer!, answers: [yes, again] } });
    page.turn('undo');
    const words = page.gate.question!.parts.map((part) => part.words);
    expect(page.gate.question!.title).toBe('These were set in the other recording');
    expect(page.gate.question!.parts[0]!.list).toEqual(['1 cue word: “gull”']);
    expect(words[1]).toContain('Rufus has said yes to this');
    page.gate.decline();
    expect(read().plan.recording?.id).toBe(song.recording.id);
    page.turn('undo');
    page.gate.agree();
    expect(read().plan.recording?.id).toBe(before.recording!.id);
    expect(
      read()
        .plan.cues.map(({ id }) => id)
        .sort(),
    ).toEqual(['c1', 'c2', 'new']);
  });
});
