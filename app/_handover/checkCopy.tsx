'use client';

import { useRef, useState } from 'react';
import { copyCheckNow, copyCheckOf, currentDigest, playedEdit } from '@/lib/core/agreed/answerState.ts';
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
export function CheckCopy({ plays }: { plays: 'finished file' | 'own copy' }) {
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
    const compared = await desk.compareCopy(file, imprint, knownEdits(board));
    setBusy(false);
    if (!compared.ok) {
      if (compared.problem.code !== 'stopped') setWrong(compared.problem.sentence);
      return;
    }
    const { verdict, offsetMs, ratio, confidence, differences } = compared.value;
    const recording = board.plan.recording?.id;
    const digest = currentDigest(board.plan) ?? undefined;
    const against = recording && digest ? { recording, digest } : {};
    const value = { verdict, offsetMs, ratio, confidence, at: nowInstant(), ...against };
    setFound({ ...value, file: file.name, differences });
    if (mine) change({ register: 'copy', value });
  };
  // Either belongs to the recording and the edit that it was found for.
  const here = copyCheckNow(found, board.plan);
  const result = here ?? copyCheckOf(board);
  const whole = playsWhole(playedEdit(board.plan));
  const words = result ? copyWords(result, { plays, whole, dj: mine }) : null;
  return (
    <section aria-labelledby="copy" className="mt-10">
      <h3 id="copy" className="small-caps">
        {mine ? 'Do you have the right file loaded?' : 'Does the DJ have the right file loaded?'}
      </h3>
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
      ) : (
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
