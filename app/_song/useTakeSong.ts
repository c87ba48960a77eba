'use client';

import { useEffect, useRef, useState } from 'react';
import { showInto } from '@/lib/core/areas/shift.ts';
import { placesIn } from '@/lib/core/compare/places.ts';
import { good, type Problem, type Result } from '@/lib/core/result.ts';
import { noPlace, type Places } from '@/lib/core/song/places.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import { type Upload, upload } from '../_client/audioUpload.ts';
import type { HeardSong, Stage } from '../_client/audioWork.ts';
import { type How, WAITS } from '../_client/gate.ts';
import { newId } from '../_client/newId.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { songChanges } from './takeSong.ts';

export interface TakingSong {
  /** What is being done; null while nothing is. */
  stage: Stage | null;
  problem: string | null;
  /** The person was asked and said no. */
  declined: boolean;
  /** A recording without a beat that could be heard: it may be kept, and tapped along to. */
  unheard: { sentence: string; keep(): void; drop(): void } | null;
  take(file: File): void;
  stop(): void;
}

/** A file that was listened to and compared with the recording of that id; null where the board had none. */
interface Brought {
  file: File;
  song: HeardSong;
  places: Places;
  beside: string | null;
}

const REPLACED = {
  code: 'replaced',
  sentence: 'Somebody else has just brought another recording. Look at that first, then choose yours again.',
};

/**
 * Decodes, listens, compares, asks, stores, and only then changes the board: what goes wrong on the way, and a no, leave everything as
 * it was. What has changed meanwhile so that something else would be lost is asked again.
 */
export function useTakeSong(): TakingSong {
  const { me, board, question } = useBoard('me', 'board', 'question');
  const room = useRoom();
  const desk = useAudio();
  const heardStage = useStage();
  const [busy, setBusy] = useState(false);
  const [sent, setSent] = useState<number | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [declined, setDeclined] = useState(false);
  const [waiting, setWaiting] = useState<{ file: File; song: HeardSong } | null>(null);
  const sending = useRef<Upload | null>(null);
  const now = useRef(board);
  now.current = board;
  useEffect(() => () => sending.current?.stop(), []);

  const over = (sentence: string | null) => {
    setBusy(false);
    setSent(null);
    setProblem(sentence);
  };
  const failed = ({ code, sentence }: Problem) => over(code === 'stopped' ? null : sentence);

  /** Where the moments of the present recording lie in a file; nowhere where they cannot be compared. */
  const placesOf = async (file: File): Promise<Result<Places>> => {
    const { imprint } = now.current.plan;
    if (imprint === null) return good(noPlace);
    const compared = await desk.compareCopy(file, imprint, []);
    if (compared.ok) return good(placesIn(compared.value, compared.value.duration));
    return compared.problem.code === 'stopped' ? compared : good(noPlace);
  };

  /** Changes the board to what was brought, as it is by then; or asks, and changes nothing, where that is all. */
  const change = ({ file, song, places, beside }: Brought, how: How) => {
    const { plan, show } = now.current;
    if ((plan.recording?.id ?? null) !== beside) return failed(REPLACED);
    const ids = song.sections.map(() => newId());
    const along =
      show && beside !== null && room.mayWrite('show') ? showInto(show, places, song.recording.id) : [];
    const not = (why: Problem | null) => {
      setDeclined(why === null);
      if (why === null) over(null);
      else failed(why);
    };
    const made = room.change('plan', songChanges(plan, song, ids, file.name, places), { ...how, along, not });
    if (!made.ok && made.problem.code !== WAITS) failed(made.problem);
  };

  const store = async (brought: Brought, agreed: string) => {
    setSent(0);
    sending.current = upload(`/api/boards/${me.board}/audio?as=${me.role}`, brought.file, setSent);
    const stored = await sending.current.done;
    sending.current = null;
    if (!stored.ok) return failed(stored.problem);
    change(brought, { agreed, done: () => over(null) });
  };

  const ask = async (file: File, song: HeardSong) => {
    setWaiting(null);
    setBusy(true);
    const beside = now.current.plan.recording?.id ?? null;
    const places = await placesOf(file);
    if (!places.ok) return failed(places.problem);
    const brought = { file, song, places: places.value, beside };
    change(brought, { onlyAsks: true, done: (agreed = '') => void store(brought, agreed) });
  };

  const take = async (file: File) => {
    setProblem(null);
    setDeclined(false);
    setWaiting(null);
    setBusy(true);
    const read = await desk.load(file);
    if (!read.ok) return failed(read.problem);
    if (read.value.id === now.current.plan.recording?.id)
      return over('This is the recording that the board already has.');
    const heard = await desk.hear(file);
    if (!heard.ok) return failed(heard.problem);
    if (heard.value.grid !== null) return ask(file, heard.value);
    setBusy(false);
    setWaiting({ file, song: heard.value });
  };

  const between = { words: question ? 'Waiting for your answer' : 'Reading the file', share: null };
  const stage = sent === null ? (heardStage ?? between) : { words: 'Storing the recording', share: sent };
  return {
    stage: busy ? stage : null,
    problem,
    declined,
    unheard:
      waiting === null
        ? null
        : {
            sentence: waiting.song.word,
            keep: () => void ask(waiting.file, waiting.song),
            drop: () => setWaiting(null),
          },
    take: (file) => void take(file),
    stop: () => {
      sending.current?.stop();
      desk.stop();
    },
  };
}
