'use client';

import { useEffect, useRef, useState } from 'react';
import { isOnlyLater } from '@/lib/core/compare/compare.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import { type Upload, upload } from '../_client/audioUpload.ts';
import type { HeardSong, Stage } from '../_client/audioWork.ts';
import { WAITS } from '../_client/gate.ts';
import { newId } from '../_client/newId.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { songChanges } from './takeSong.ts';

export interface TakingSong {
  /** What is being done; null while nothing is. */
  stage: Stage | null;
  problem: string | null;
  /** A recording without a beat that could be heard: it may be kept, and tapped along to. */
  unheard: { sentence: string; keep(): void; drop(): void } | null;
  take(file: File): void;
  stop(): void;
}

/** Decodes, listens, stores, and only then changes the plan: what goes wrong on the way leaves everything as it was. */
export function useTakeSong(): TakingSong {
  const { me, board } = useBoard('me', 'board');
  const room = useRoom();
  const desk = useAudio();
  const heardStage = useStage();
  const [busy, setBusy] = useState(false);
  const [sent, setSent] = useState<number | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [waiting, setWaiting] = useState<{ file: File; song: HeardSong } | null>(null);
  const sending = useRef<Upload | null>(null);
  const plan = useRef(board.plan);
  plan.current = board.plan;
  useEffect(() => () => sending.current?.stop(), []);

  const failed = ({ code, sentence }: { code: string; sentence: string }) => {
    setBusy(false);
    setSent(null);
    if (code !== 'stopped') setProblem(sentence);
  };

  /** Seconds by which the file is a copy of the present recording; null where it is another recording. */
  const laterIn = async (file: File): Promise<Result<number | null>> => {
    const { imprint } = plan.current;
    if (imprint === null) return good(null);
    const compared = await desk.compareCopy(file, imprint, []);
    if (!compared.ok && compared.problem.code === 'stopped') return compared;
    return good(compared.ok && isOnlyLater(compared.value) ? compared.value.offsetMs / 1000 : null);
  };

  const store = async (file: File, song: HeardSong) => {
    setWaiting(null);
    setBusy(true);
    const later = await laterIn(file);
    if (!later.ok) return failed(later.problem);
    setSent(0);
    sending.current = upload(`/api/boards/${me.board}/audio?as=${me.role}`, file, setSent);
    const stored = await sending.current.done;
    sending.current = null;
    if (!stored.ok) return failed(stored.problem);
    const ids = song.sections.map(() => newId());
    const changed = room.change('plan', songChanges(plan.current, song, ids, file.name, later.value));
    if (!changed.ok && changed.problem.code !== WAITS) return failed(changed.problem);
    setBusy(false);
    setSent(null);
  };

  const take = async (file: File) => {
    setProblem(null);
    setWaiting(null);
    setBusy(true);
    const read = await desk.load(file);
    if (!read.ok) return failed(read.problem);
    if (read.value.id === plan.current.recording?.id) {
      return failed({ code: 'same', sentence: 'This is the recording that the board already has.' });
    }
    const heard = await desk.hear(file);
    if (!heard.ok) return failed(heard.problem);
    if (heard.value.grid !== null) return store(file, heard.value);
    setBusy(false);
    setWaiting({ file, song: heard.value });
  };

  const stage = sent === null ? heardStage : { words: 'Storing the recording', share: sent };
  return {
    stage: busy ? (stage ?? { words: 'Reading the file', share: null }) : null,
    problem,
    unheard:
      waiting === null
        ? null
        : {
            sentence: waiting.song.word,
            keep: () => void store(waiting.file, waiting.song),
            drop: () => setWaiting(null),
          },
    take: (file) => void take(file),
    stop: () => {
      sending.current?.stop();
      desk.stop();
    },
  };
}
