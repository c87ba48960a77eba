'use client';

import { type FormEvent, useState } from 'react';
import { playClock } from '@/lib/core/agreed/clocks.ts';
import { playedEdit } from '@/lib/core/agreed/played.ts';
import { songDuration } from '@/lib/core/dance/clock.ts';
import { compileEdit } from '@/lib/core/edit/compile.ts';
import { canonicalEdit } from '@/lib/core/edit/digest.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import { good } from '@/lib/core/result.ts';
import { clock, type RecordTime } from '@/lib/core/units.ts';
import { useBoard } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { TextArea, TextField } from '../_ui/field.tsx';
import { secondsFrom } from './clockWords.ts';
import { ofCopy, ofFile, suggestedEdit } from './suggestion.ts';

/** Seconds of a fade by hand unless somebody says otherwise; fades on records last 5 to 15 s (common practice, no source). */
const USUAL_FADE = 8;

/** Where the DJ would start and fade instead, on the clock that the page shows, and why. */
export function Suggest({
  plays,
  onSuggest,
  onClose,
}: {
  plays: 'finished file' | 'own copy';
  onSuggest: (words: string, proposal: Edit) => boolean;
  onClose: () => void;
}) {
  const { board } = useBoard('board');
  const { plan, answer } = board;
  const present = playedEdit(plan);
  const duration = songDuration(plan);
  const clocks = playClock(board, plays);
  const song = compileEdit(present, { duration });
  const [fades, setFades] = useState(present.end.kind === 'fade');
  const [problem, setProblem] = useState<string | null>(null);
  const copy = clocks.name === 'your own copy' ? (answer?.copy ?? null) : null;
  const toRecord = (seconds: number) =>
    plays === 'own copy' ? good(ofCopy(seconds, copy)) : ofFile(seconds, song);
  const shown = (at: number | null) => (at === null ? '' : clock(at, 1));
  const send = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const word = (name: string) => String(form.get(name) ?? '').trim();
    const start = secondsFrom(word('start'));
    const from = fades ? secondsFrom(word('from')) : null;
    const length = fades ? secondsFrom(word('length')) : null;
    if (!start.ok) return setProblem(start.problem.sentence);
    if (from && !from.ok) return setProblem(from.problem.sentence);
    if (length && !length.ok) return setProblem(length.problem.sentence);
    // A time that was not touched stays what it was, to the microsecond.
    const meant = (typed: string, seconds: number, was: RecordTime | null) =>
      was !== null && typed === shown(clocks.ofRecord(was)) ? good(was) : toRecord(seconds);
    const starts = meant(word('start'), start.value, present.start);
    if (!starts.ok) return setProblem(starts.problem.sentence);
    const wasFrom = present.end.kind === 'fade' ? present.end.from : null;
    const fadesFrom = from?.ok ? meant(word('from'), from.value, wasFrom) : null;
    if (fadesFrom && !fadesFrom.ok) return setProblem(fadesFrom.problem.sentence);
    const made = suggestedEdit(present, duration, {
      start: starts.value,
      whole: form.has('whole'),
      end:
        fadesFrom && length?.ok
          ? { kind: 'fade', from: fadesFrom.value, length: length.value, byHand: form.has('byHand') }
          : { kind: 'own' },
    });
    if (!made.ok) return setProblem(made.problem.sentence);
    if (
      plan.recording &&
      canonicalEdit(made.value, plan.recording) === canonicalEdit(present, plan.recording)
    )
      return setProblem('That is what is planned already. For a question or a word, write in Remarks.');
    onSuggest(word('words'), made.value);
  };
  return (
    <form onSubmit={send} className="mt-4 [&_label]:text-night-soft">
      <p className="text-night-soft">Times are those of {clocks.name}. What you leave as it is stays so.</p>
      <div className="mt-3 grid grid-cols-2 items-baseline gap-4">
        <TextField
          label="Start at"
          name="start"
          defaultValue={shown(clocks.ofRecord(present.start))}
          required
        />
      </div>
      <fieldset className="mt-3">
        <legend className="text-night-soft">At the end</legend>
        <Pick words="it plays to its own end" on={!fades} onPick={() => setFades(false)} />
        <Pick words="it fades" on={fades} onPick={() => setFades(true)} />
      </fieldset>
      {fades ? (
        <div className="mt-1 grid grid-cols-2 items-baseline gap-4">
          <TextField
            label="Start fading at"
            name="from"
            required
            defaultValue={present.end.kind === 'fade' ? shown(clocks.ofRecord(present.end.from)) : ''}
            placeholder="3:05"
          />
          <TextField
            label="Seconds until it is gone"
            name="length"
            required
            inputMode="decimal"
            defaultValue={present.end.kind === 'fade' ? present.end.length : USUAL_FADE}
          />
          <Tick
            name="byHand"
            words="I fade by hand"
            on={present.end.kind === 'fade' ? present.end.byHand : plays === 'own copy'}
          />
        </div>
      ) : null}
      {present.cuts.length > 0 ? <Tick name="whole" words="nothing is left out of it" on={false} /> : null}
      <div className="mt-3">
        <TextArea label="In your words" name="words" maxLength={600} rows={3} />
      </div>
      {problem ? (
        <p role="alert" className="mt-3 text-night-wine">
          {problem}
        </p>
      ) : null}
      <p className="mt-4 flex flex-wrap gap-3">
        <Button type="submit" look="night-main">
          Send this suggestion
        </Button>
        <Button look="night" onClick={onClose}>
          Not now
        </Button>
      </p>
    </form>
  );
}

const row = 'flex min-h-11 items-center gap-3 text-night-ink!';
const Pick = ({ words, on, onPick }: { words: string; on: boolean; onPick: () => void }) => (
  <label className={row}>
    <input type="radio" name="end" checked={on} onChange={onPick} className="size-6 accent-night-ink" />
    {words}
  </label>
);
const Tick = ({ name, words, on }: { name: string; words: string; on: boolean }) => (
  <label className={row}>
    <input type="checkbox" name={name} defaultChecked={on} className="size-6 accent-night-ink" />
    {words}
  </label>
);
