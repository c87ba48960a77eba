'use client';

import { useState } from 'react';
import type { Show } from '@/lib/core/areas/show.ts';
import { songDuration } from '@/lib/core/dance/clock.ts';
import { compileEdit } from '@/lib/core/edit/compile.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import { clock, floorTime, recordTime, wholeMicros } from '@/lib/core/units.ts';
import { newId } from '../_client/newId.ts';
import { useBoard } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { secondsFrom } from './clockWords.ts';

/** What others do at a moment of the music: lights, camera, guests, the MC. */
export function MomentFields() {
  const { board, score } = useBoard('board', 'score');
  const { change, make, problem, may } = useChanging('show');
  const [wrong, setWrong] = useState<string | null>(null);
  const song = compileEdit(board.plan.edit ?? wholeSong, { duration: songDuration(board.plan) });
  // To the last sound, as the entry says it.
  const length = score?.musicLength ?? song.length;
  const moments = [...(board.show as Show).moments].sort((a, b) => a.at - b.at);
  const add = (form: HTMLFormElement) => {
    const words = new FormData(form);
    const at = secondsFrom(String(words.get('at') ?? ''));
    if (!at.ok) return setWrong(at.problem.sentence);
    if (at.value > length) return setWrong(`The music lasts ${clock(length)}: please give a time in it.`);
    setWrong(null);
    const fields = {
      at: recordTime(wholeMicros(song.toRecord(floorTime(at.value)))),
      who: String(words.get('who') ?? '').trim(),
      what: String(words.get('what') ?? '').trim(),
      ...(board.plan.recording && { recording: board.plan.recording.id }),
    };
    make([{ collection: 'moments', id: newId(), fields }], { done: () => form.reset() });
  };
  return (
    <div className="mt-8">
      <h4 className="text-xl font-semibold">For others, at a moment of the music</h4>
      {moments.length === 0 ? (
        <p className="text-soft">Lights, haze, camera, guests who join: nothing is planned yet.</p>
      ) : null}
      <ul>
        {moments.map((moment) => {
          const floor = song.toFloor(moment.at);
          return (
            <li key={moment.id} className="flex items-center justify-between gap-4 border-b border-rule">
              <p className="py-2">
                <span className={`mr-3 font-semibold ${floor === null ? 'text-wine' : ''}`}>
                  {floor === null ? 'left out by the edit' : clock(floor)}
                </span>
                <strong className="font-semibold">{moment.who}</strong> {moment.what}
              </p>
              {may ? (
                <Button
                  look="quiet"
                  className="px-2!"
                  aria-label={`Remove: ${moment.who} ${moment.what}`}
                  onClick={() => change({ collection: 'moments', id: moment.id, fields: null })}
                >
                  Remove
                </Button>
              ) : null}
            </li>
          );
        })}
      </ul>
      {may ? (
        <form
          className="mt-3 grid grid-cols-[6rem_1fr_auto] items-baseline gap-3"
          onSubmit={(event) => {
            event.preventDefault();
            add(event.currentTarget);
          }}
        >
          <TextField label="At" name="at" required placeholder="1:30" />
          <div className="col-span-2">
            <TextField label="Who" name="who" required maxLength={80} placeholder="lights" />
          </div>
          <div className="col-span-2">
            <TextField label="Does what" name="what" required maxLength={300} placeholder="dim to half" />
          </div>
          <Button type="submit">Add</Button>
        </form>
      ) : null}
      {(wrong ?? problem) ? <Notice kind="wrong">{wrong ?? problem}</Notice> : null}
    </div>
  );
}
