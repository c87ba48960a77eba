'use client';

import { useState } from 'react';
import { rightsCaution } from '@/lib/core/dance/cautions.ts';
import { compileEdit } from '@/lib/core/edit/compile.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import { SILENT_END } from '@/lib/core/edit/render.ts';
import { clock } from '@/lib/core/units.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import { saveFile } from '../_client/audioSave.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice, Progress } from '../_ui/notice.tsx';

/** The edit as a file, to try on the studio's own player. */
export function TakeAlong() {
  const plan = usePlan();
  const desk = useAudio();
  const stage = useStage();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const { recording, recordingWords: words } = plan;
  if (!recording) return null;
  const edit = plan.edit ?? wholeSong;
  // As a player shows it.
  const length = clock(compileEdit(edit, recording).length + SILENT_END);
  const names = plan.couple ? `${plan.couple.one.name} & ${plan.couple.other.name}` : '';
  const take = async (as: 'mp3' | 'wav') => {
    setBusy(true);
    setProblem(null);
    const title = words?.title || plan.title || 'First dance';
    const tags = {
      title: `${title} (first dance, ${length})`,
      artist: words?.artist ?? '',
      comment: names ? `First dance of ${names}` : '',
    };
    const made = await desk.finished({ recording: recording.id }, edit, as, tags);
    setBusy(false);
    if (made.ok) saveFile(made.value, `First dance ${names} ${length}.${as}`);
    else if (made.problem.code !== 'stopped') setProblem(made.problem.sentence);
  };
  return (
    <div className="space-y-3">
      {busy ? (
        <Progress
          what={`${stage?.words ?? 'Making the file'}…`}
          share={stage?.share ?? undefined}
          onCancel={() => desk.stop()}
        />
      ) : (
        <div className="flex flex-wrap gap-3">
          <Button onClick={() => take('mp3')}>As MP3</Button>
          <Button onClick={() => take('wav')}>As WAV</Button>
        </div>
      )}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      <p className="max-w-2xl text-sm text-soft">{rightsCaution}</p>
    </div>
  );
}
