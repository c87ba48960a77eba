'use client';

import { useState } from 'react';
import type { DjFacts } from '@/lib/core/agreed/dj.ts';
import { playedEdit } from '@/lib/core/agreed/played.ts';
import { songDuration } from '@/lib/core/dance/clock.ts';
import { compileEdit } from '@/lib/core/edit/compile.ts';
import { floorTime } from '@/lib/core/units.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import { useListening } from '../_client/audioOut.ts';
import { useBoard } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice, Progress } from '../_ui/notice.tsx';

/** Heard before and after the place in question, seconds. */
const AROUND = 7;

/** Hearing what was done to the song, and taking the file; all of it is made on this device. */
export function Listen({ facts }: { facts: DjFacts }) {
  const { board } = useBoard('board');
  const desk = useAudio();
  const stage = useStage();
  const listening = useListening();
  const [problem, setProblem] = useState<string | null>(null);
  const { plan } = board;
  if (plan.recording === null) return null;
  const source = { recording: plan.recording.id };
  const edit = playedEdit(plan);
  const song = compileEdit(edit, { duration: songDuration(plan) });
  const hear = (key: string, around: number) =>
    listening.play(key, () =>
      desk.excerpt(
        source,
        edit,
        floorTime(Math.max(0, around - AROUND)),
        floorTime(Math.min(song.length, around + AROUND)),
      ),
    );
  const take = async (as: 'mp3' | 'wav') => {
    setProblem(null);
    const made = await desk.finished(source, edit, as, {
      title: `First dance of ${facts.couple}`,
      artist: plan.recordingWords?.artist ?? '',
      comment: facts.lines.join(' '),
    });
    if (made.ok) save(made.value, facts.fileName.replace(/mp3$/, as));
    else if (made.problem.code !== 'stopped') setProblem(made.problem.sentence);
  };
  const places = [
    ...song.spans.slice(1).map((span, i) => ({
      key: `join ${i}`,
      words: song.spans.length > 2 ? `hear join ${i + 1}` : 'hear the join',
      at: span.floor as number,
    })),
    { key: 'end', words: 'hear the ending', at: song.length - AROUND },
  ];
  return (
    <div className="no-print mt-4">
      <p className="flex flex-wrap gap-3">
        {places.map(({ key, words, at }) => {
          const on = listening.playing === key;
          return (
            <Button key={key} aria-pressed={on} onClick={() => void hear(key, at)}>
              <span aria-hidden="true">{on ? '■' : '▶'}</span> {on ? 'stop' : words}
            </Button>
          );
        })}
        {facts.plays === 'finished file' ? (
          <>
            <Button once onClick={() => void take('mp3')}>
              take the file (MP3)
            </Button>
            <Button once onClick={() => void take('wav')}>
              take the file (WAV)
            </Button>
          </>
        ) : null}
      </p>
      <div className="mt-3 space-y-3">
        {stage ? (
          <Progress what={stage.words} share={stage.share ?? undefined} onCancel={() => desk.stop()} />
        ) : null}
        {(problem ?? listening.problem) ? <Notice kind="wrong">{problem ?? listening.problem}</Notice> : null}
      </div>
    </div>
  );
}

function save(file: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  // The browser reads it after this turn.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
