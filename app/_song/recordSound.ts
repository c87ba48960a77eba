'use client';

import { useEffect, useRef, useState } from 'react';
import { hashOf } from '@/lib/core/edit/canonical.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import { useAudio } from '../_client/audio.ts';
import { usePlan } from '../_client/room.tsx';
import { Player } from '../_practice/player.ts';
import { songOf } from './songOf.ts';

/** The whole recording, as decoded here: its clock is record time to the sample, which a browser's own decoder does not promise. */
export const recordSound = new Player();

interface RecordSound {
  making: boolean;
  problem: string | null;
  /** The counts are clicked over it. */
  clicked: boolean;
  setClicked(on: boolean): void;
}

/** Makes the recording's sound ready as soon as somebody wants to hear it. For one place in a page. */
export function useRecordSound(): RecordSound {
  const plan = usePlan();
  const desk = useAudio();
  const [clicked, setClicked] = useState(false);
  const [making, setMaking] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const { recording, grid } = plan;
  const song = clicked ? songOf(plan) : null;
  const key = recording ? `${recording.id}${song ? hashOf([JSON.stringify(grid)]) : ''}` : null;

  const make = async () => {
    if (!recording || key === null) return;
    setMaking(true);
    setProblem(null);
    const made = await desk.music({ recording: recording.id }, wholeSong, song);
    setMaking(false);
    if (!made.ok) {
      if (made.problem.code !== 'stopped') setProblem(made.problem.sentence);
    } else if (wanted.current === key) recordSound.put(key, made.value);
  };
  const latest = useRef(make);
  latest.current = make;
  const wanted = useRef(key);
  wanted.current = key;

  useEffect(() => {
    recordSound.onWanted = () => void latest.current();
    if (key === null || !recordSound.has(key)) recordSound.put(null, null);
    return () => {
      recordSound.onWanted = null;
    };
  }, [key]);
  useEffect(() => () => recordSound.pause(), []);
  return { making, problem, clicked, setClicked };
}
