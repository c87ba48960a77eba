import { describe, expect, it } from 'vitest';
import type { HeardSong } from '../../../app/_client/audioWork.ts';
import { songChanges, titleOf } from '../../../app/_song/takeSong.ts';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import { wholeSong } from '../../../lib/core/edit/edit.ts';
import { openOf } from '../../../lib/core/song/confirmed.ts';
import { byNobody } from '../../../lib/core/song/grid.ts';
import { cueAt, cutOut, gridOf, placed, planOf, sectionsOf } from '../../kit/board.ts';

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

describe('a recording put into the plan', () => {
  it('fills an empty plan in one step: recording, grid, sections, the whole song as its edit', () => {
    const plan = changePlan(
      emptyBoard().plan,
      songChanges(emptyBoard().plan, song, ids, '07 - Paper_Boats.mp3', null),
    );
    expect(plan.recording).toEqual(song.recording);
    expect(plan.grid).toEqual(song.grid);
    expect(plan.sections.map(({ id }) => id)).toEqual(ids);
    expect(plan.edit).toEqual(wholeSong);
    expect(plan.phraseBars).toBe(4);
    expect(plan.recordingWords?.title).toBe('Paper Boats');
  });

  it('in the place of another: nothing of that one’s form, edit or confirmations stays, what people wrote does', () => {
    const before = planOf(
      {},
      {
        edit: cutOut(30, 60),
        cues: [cueAt('c1', 20, 'lanterns')],
        placed: [placed('p1', 'waltz-box', 16)],
      },
    );
    const plan = changePlan(before, songChanges(before, song, ids, 'other.wav', null));
    expect(plan.sections.map(({ id }) => id)).toEqual(ids);
    expect(openOf(plan).map(({ words }) => words)).toEqual(['metre', 'beats', 'bars', 'sections']);
    expect(plan.edit).toEqual(wholeSong);
    expect([plan.cues, plan.placed]).toEqual([before.cues, before.placed]);
    expect(plan.recordingWords).toEqual(before.recordingWords);
  });

  it('in the place of an earlier copy of it: all that was made of it moves along', () => {
    const before = planOf(
      {},
      { edit: cutOut(30, 60), cues: [cueAt('c1', 20, 'lanterns')], placed: [placed('p1', 'waltz-box', 16)] },
    );
    const plan = changePlan(before, songChanges(before, song, ids, 'copy.wav', 1.5));
    expect(plan.recording).toEqual(song.recording);
    expect(plan.features).toEqual(song.features);
    expect(plan.sections.map(({ start }) => start)).toEqual(before.sections.map(({ start }) => start + 1.5));
    expect(openOf(plan)).toEqual([]);
    expect(plan.grid?.beats[7]).toBe(before.grid!.beats[7]! + 1.5);
    expect(plan.edit?.cuts[0]).toMatchObject({ from: 31.5, to: 61.5 });
    expect([plan.cues[0]?.at, plan.placed[0]?.at]).toEqual([21.5, 17.5]);
  });

  it('without a beat there is no grid, and none is invented', () => {
    const unheard = { ...song, heard: null, grid: null, sections: [], word: 'No beat.' };
    const plan = changePlan(planOf(), songChanges(planOf(), unheard, [], 'speech.wav', null));
    expect([plan.grid, plan.heard, plan.phraseBars]).toEqual([null, null, null]);
    expect(plan.sections).toEqual([]);
  });

  it('reads a title from a file’s name', () => {
    expect(titleOf('Paper Boats.flac')).toBe('Paper Boats');
    expect(titleOf('1999.mp3')).toBe('1999');
    expect(titleOf('.mp3')).toBe('');
  });
});
