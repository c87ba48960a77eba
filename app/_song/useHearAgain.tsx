'use client';

import { type ReactNode, useEffect, useRef, useState } from 'react';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { Result } from '@/lib/core/result.ts';
import type { Choice, Question } from '@/lib/core/song/ask.ts';
import type { Correction } from '@/lib/core/song/evidence.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import type { CountsAgain } from '../_client/audioWork.ts';
import { newId } from '../_client/newId.ts';
import { usePlan } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { Notice, Progress } from '../_ui/notice.tsx';
import { countsChanges, NO_GRID, withSaid } from './correctionSteps.ts';
import { useSongChange } from './useSongChange.tsx';
import { again } from './words.ts';

/** How the song may be counted, as it stands with all that was said. */
export interface Doubt {
  choices: Choice[];
  question: Question | null;
}

export interface HearAgain {
  busy: boolean;
  doubt: Doubt | null;
  /** Says something of the counts: they are heard again with it, in one step; without the audio they go by `dry` alone. */
  say(said: Correction[], dry: (grid: Grid) => Grid): void;
  /** Hears again with what was said so far, and something that is not yet kept; changes nothing. */
  listen(said: Correction[]): Promise<Result<CountsAgain>>;
  /** Only hears which ways the song bears. */
  look(): void;
  /** Progress, a refusal, what was made of taps. */
  words: ReactNode;
}

/** Corrections of the counts by the recording itself. */
export function useHearAgain(): HearAgain {
  const plan = usePlan();
  const desk = useAudio();
  const stage = useStage();
  const [me] = useMyName();
  const change = useSongChange();
  const [busy, setBusy] = useState(false);
  const [doubt, setDoubt] = useState<Doubt | null>(null);
  const [note, setNote] = useState<string | null>(null);
  const now = useRef(plan);
  now.current = plan;
  const here = useRef(true);
  useEffect(() => {
    here.current = true;
    return () => {
      here.current = false;
    };
  }, []);

  const heard = (all: Correction[], { grid, recording, heard: facts }: Plan): Promise<Result<CountsAgain>> =>
    desk.hearAgain({ recording: recording!.id }, grid, all, facts?.lastSound ?? recording!.duration);

  const listen = async (said: Correction[]): Promise<Result<CountsAgain>> => {
    setBusy(true);
    setNote(null);
    const result = await heard(
      withSaid(
        now.current,
        said,
        said.map(() => ''),
      ).all,
      now.current,
    );
    if (here.current) setBusy(false);
    return result;
  };

  const say = async (said: Correction[], dry: (grid: Grid) => Grid) => {
    const before = now.current.corrections;
    let result = await listen(said);
    // Somebody else said something meanwhile: both count.
    const joined = now.current.corrections !== before;
    if (result.ok && joined) result = await listen(said);
    if (!here.current || (!result.ok && result.problem.code === 'stopped')) return;
    const ids = said.map(() => newId());
    const { changes } = withSaid(now.current, said, ids);
    change.apply([...changes, ...counts(now.current, result, said, dry)]);
    if (!result.ok) return setNote(again.dry(result.problem.sentence));
    const { choices, question, late } = result.value;
    setDoubt({ choices, question });
    const taps = said.findIndex(({ kind }) => kind === 'beats');
    const own = taps < 0 ? '' : again.late(late[late.length - said.length + taps] ?? 0);
    setNote([own, joined ? again.merged : ''].filter((words) => words !== '').join(' ') || null);
  };

  const counts = (
    at: Plan,
    result: Result<CountsAgain>,
    said: Correction[],
    dry: (grid: Grid) => Grid,
  ): PlanChange[] => {
    if (result.ok) return countsChanges(at, result.value.grid, said, me);
    return [{ register: 'grid', value: dry(at.grid ?? NO_GRID) }];
  };

  const look = async () => {
    const result = await listen([]);
    if (!here.current) return;
    if (result.ok) setDoubt({ choices: result.value.choices, question: result.value.question });
    else if (result.problem.code !== 'stopped') setNote(result.problem.sentence);
  };

  return {
    busy,
    doubt,
    say: (said, dry) => void say(said, dry),
    listen,
    look: () => void look(),
    words: (
      <>
        {busy ? (
          <Progress
            what={stage ? `${stage.words}…` : again.busy}
            share={stage?.share ?? undefined}
            onCancel={() => desk.stop()}
          />
        ) : null}
        {note ? <Notice>{note}</Notice> : null}
        {change.words}
      </>
    ),
  };
}
