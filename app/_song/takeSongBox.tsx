'use client';

import { type DragEvent, useRef, useState } from 'react';
import { Button } from '../_ui/button.tsx';
import { Notice, Progress } from '../_ui/notice.tsx';
import { useTakeSong } from './useTakeSong.ts';

const MAY_BE_GIVEN =
  'WAV, MP3, M4A, FLAC, Ogg Vorbis or Opus, from ten seconds to 15 minutes, at most 100 MB';
/** Some systems know no type for these endings. */
const ACCEPT = 'audio/*,.wav,.mp3,.m4a,.aac,.flac,.ogg,.oga,.opus';

/** Drop a file or choose one. Where the board has a recording already, it asks before that is replaced, once it has heard the file. */
export function TakeSongBox({ replaces }: { replaces: boolean }) {
  const taking = useTakeSong();
  const field = useRef<HTMLInputElement>(null);
  const [over, setOver] = useState(false);

  const given = (file: File | undefined) => {
    if (file) taking.take(file);
  };
  const onDrop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    given(event.dataTransfer.files[0]);
  };

  if (taking.stage) {
    const { words, share, heard } = taking.stage;
    return (
      <>
        <Progress what={`${words}…`} share={share ?? undefined} onCancel={taking.stop} />
        {heard ? <p className="sung mt-2 text-xl">Heard so far: {heard}.</p> : null}
        <p className="mt-2 text-soft">Please stay on this page until it is done.</p>
      </>
    );
  }
  return (
    <div className="max-w-2xl space-y-3">
      <section
        aria-label="Drop the song here"
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={onDrop}
        className={`flex flex-wrap items-center gap-x-5 gap-y-3 rounded border-2 border-dashed px-5 py-6 ${over ? 'border-ink bg-paper-2' : 'border-edge'}`}
      >
        <Button look={replaces ? 'plain' : 'main'} onClick={() => field.current?.click()}>
          {replaces ? 'Choose another recording' : 'Choose the song’s file'}
        </Button>
        <p className="text-soft">or drop it here</p>
        <input
          ref={field}
          type="file"
          accept={ACCEPT}
          aria-label="The song’s file"
          tabIndex={-1}
          className="sr-only"
          onChange={(event) => {
            given(event.target.files?.[0]);
            event.target.value = '';
          }}
        />
      </section>
      <p className="text-sm text-soft">
        {MAY_BE_GIVEN}. It is listened to on this device first; your own file is never changed.{' '}
        {replaces
          ? 'Then you see what another recording changes, and are asked. What you take is kept'
          : 'Then it is kept'}{' '}
        for the people of this board only.
      </p>
      {taking.problem ? <Notice kind="wrong">{taking.problem}</Notice> : null}
      {taking.declined ? <Notice>The recording was not taken: everything is as it was.</Notice> : null}
      {taking.unheard ? (
        <div className="space-y-3">
          <Notice>{taking.unheard.sentence}</Notice>
          <div className="flex flex-wrap gap-3">
            <Button onClick={taking.unheard.drop}>Choose another</Button>
            <Button look="main" onClick={taking.unheard.keep}>
              Keep it, and tap along
            </Button>
          </div>
        </div>
      ) : null}
    </div>
  );
}
