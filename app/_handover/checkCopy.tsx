'use client';

import { useRef, useState } from 'react';
import { type CopyStanding, copyCheckNow, copyCheckOf, copyStanding } from '@/lib/core/agreed/copy.ts';
import { currentDigest, type Plays, playedEdit } from '@/lib/core/agreed/played.ts';
import type { CopyCheck } from '@/lib/core/areas/answer.ts';
import { playsWhole } from '@/lib/core/edit/edit.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import { useBoard } from '../_client/room.tsx';
import { instantWords, nowInstant } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { Notice, Progress } from '../_ui/notice.tsx';
import { type CopyDifference, copyWords } from './copyWords.ts';
import { knownEdits } from './olderEdits.ts';

/** What a check on this page found, with what only the page knows of it. */
type Found = CopyCheck & { file: string; differences: readonly CopyDifference[] };

/** Drop a copy here: it is compared on this device, and nothing of it is sent. */
export function CheckCopy({ plays }: { plays: Plays }) {
  const { board, me } = useBoard('board', 'me');
  const { change, problem } = useChanging('answer');
  const desk = useAudio();
  const stage = useStage();
  const input = useRef<HTMLInputElement>(null);
  const [over, setOver] = useState(false);
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<string | null>(null);
  const [found, setFound] = useState<Found | null>(null);
  const { imprint } = board.plan;
  const mine = me.role === 'dj';
  const check = async (file: File | undefined) => {
    if (!file || imprint === null) return;
    setBusy(true);
    setWrong(null);
    setFound(null);
    const recording = board.plan.recording?.id;
    const digest = currentDigest(board.plan) ?? undefined;
    const against = recording && digest ? { recording, digest } : {};
    /** What the others read of it while there is no result. */
    const tell = (state: 'begun' | 'failed' | null) => {
      const told = state && { state, at: nowInstant(), ...(recording ? { recording } : {}) };
      if (mine) change({ register: 'checking', value: told });
    };
    tell('begun');
    const compared = await desk.compareCopy(file, imprint, knownEdits(board));
    setBusy(false);
    if (!compared.ok) {
      const stopped = compared.problem.code === 'stopped';
      tell(stopped ? null : 'failed');
      if (!stopped) setWrong(compared.problem.sentence);
      return;
    }
    const { verdict, offsetMs, ratio, confidence, differences } = compared.value;
    const value = { verdict, offsetMs, ratio, confidence, plays, at: nowInstant(), ...against };
    setFound({ ...value, file: file.name, differences });
    if (mine) change({ register: 'copy', value }, { register: 'checking', value: null });
  };
  // Either belongs to the recording and the edit that it was found for.
  const here = copyCheckNow(found, board.plan);
  const result = here ?? copyCheckOf(board);
  const whole = playsWhole(playedEdit(board.plan));
  const words = result ? copyWords(result, { plays, whole, dj: mine }) : null;
  const unfinished = busy ? '' : unfinishedWords(copyStanding(board), mine);
  return (
    <section aria-labelledby="copy" className="no-print mt-8">
      <h4 id="copy" className="small-caps">
        {mine ? 'Do you have the right file loaded?' : 'Does the DJ have the right file loaded?'}
      </h4>
      {unfinished ? <p className="mt-1 border-l-[3px] border-wine pl-4 text-wine">{unfinished}</p> : null}
      {result && words ? (
        <div
          className={`mt-2 border-l-[3px] py-1 pl-4 ${words.settled ? 'border-moss' : 'border-wine'}`}
          role="status"
        >
          <p>
            <span className={`font-serif text-2xl ${words.settled ? '' : 'text-wine'}`}>
              {words.headline}
            </span>{' '}
            <span className="text-soft">
              {here
                ? `${here.file}, compared on this device; nothing was sent.`
                : `Checked ${instantWords(result.at)}.`}
            </span>
          </p>
          {words.lines.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
      ) : unfinished ? null : (
        <p className="mt-1 text-soft">{mine ? 'Not checked yet.' : 'Nobody has checked it yet.'}</p>
      )}
      {imprint === null ? (
        <p className="mt-2 text-soft">
          The song has not been listened to yet, so there is nothing to compare with.
        </p>
      ) : (
        // The field inside is what keyboards and screen readers use; the frame only adds dropping.
        // biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way beside the button
        <div
          onDragOver={(event) => {
            event.preventDefault();
            setOver(true);
          }}
          onDragLeave={() => setOver(false)}
          onDrop={(event) => {
            event.preventDefault();
            setOver(false);
            void check(event.dataTransfer.files[0]);
          }}
          className={`mt-3 flex flex-wrap items-center gap-4 rounded border border-dashed p-4 ${over ? 'border-ink bg-paper-2' : 'border-edge'}`}
        >
          <Button disabled={busy} onClick={() => input.current?.click()}>
            {result ? 'Check another file' : mine ? 'Choose your file' : 'Check a copy'}
          </Button>
          <input
            ref={input}
            type="file"
            accept="audio/*"
            aria-label="A copy of the song to check"
            tabIndex={-1}
            className="sr-only"
            onChange={(event) => {
              void check(event.target.files?.[0]);
              event.target.value = '';
            }}
          />
          <p className="min-w-0 flex-1 basis-52 text-soft">
            or drop it here. It is compared on this device, nothing is sent.
            {mine ? '' : ' Only the DJ’s own check counts as theirs.'}
          </p>
        </div>
      )}
      <div className="mt-3 space-y-3">
        {busy && stage ? (
          <Progress what={stage.words} share={stage.share ?? undefined} onCancel={() => desk.stop()} />
        ) : null}
        {(wrong ?? problem) ? <Notice kind="wrong">{wrong ?? problem}</Notice> : null}
      </div>
    </section>
  );
}

/** A check that was begun and of which nothing is known; the page that began it may have been closed. */
function unfinishedWords(standing: CopyStanding, mine: boolean): string {
  if (standing.kind !== 'being checked' && standing.kind !== 'failed') return '';
  const when = instantWords(standing.at);
  const again = mine ? 'please check it again.' : 'they have to check it again.';
  return standing.kind === 'failed'
    ? `The check of ${when} did not work: ${again}`
    : `A check was begun on ${when} and has not ended. Unless it still runs on another page, ${again}`;
}
