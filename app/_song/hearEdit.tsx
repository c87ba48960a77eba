'use client';

import type { Edit } from '@/lib/core/edit/edit.ts';
import { floorTime } from '@/lib/core/units.ts';
import { useAudio } from '../_client/audio.ts';
import { useListening } from '../_client/audioOut.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice } from '../_ui/notice.tsx';
import { hearings, usualBar } from './handEdit.ts';

/** Buttons to hear each join and the fade of an edit, four bars before and after. */
export function HearEdit({ edit }: { edit: Edit }) {
  const plan = usePlan();
  const desk = useAudio();
  const listening = useListening();
  const { grid, recording } = plan;
  if (!recording) return null;
  const places = hearings(edit, recording.duration, usualBar(grid));
  return (
    <>
      {places.map(({ key, words, from, to }) => {
        const mine = listening.playing === key;
        return (
          <Button
            key={key}
            aria-pressed={mine}
            onClick={() =>
              listening.play(key, () =>
                desk.excerpt({ recording: recording.id }, edit, floorTime(from), floorTime(to)),
              )
            }
          >
            {mine ? (listening.ready ? 'Stop' : 'Getting ready…') : `Hear ${words}`}
          </Button>
        );
      })}
      {listening.problem ? <Notice kind="wrong">{listening.problem}</Notice> : null}
    </>
  );
}
