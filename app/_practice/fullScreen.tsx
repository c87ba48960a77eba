'use client';

import { useEffect, useRef } from 'react';
import { clock } from '@/lib/core/units.ts';
import { Button } from '../_ui/button.tsx';
import type { Following, Moment } from './followed.ts';
import { useMirrored } from './mirrored.ts';
import { NowNext } from './nowNext.tsx';
import { player, usePlayer } from './player.ts';
import { words } from './words.ts';

/**
 * Nothing but what is danced now and next, as large as the screen lets it: to be read from three metres. Everything else is out of
 * the way, of eyes and keys. Escape leads back.
 */
export function FullScreen({
  moment,
  follow,
  begun,
  onClose,
}: {
  moment: Moment;
  follow: Following;
  begun: boolean;
  onClose: () => void;
}) {
  const { at, playing, wait, making, problem } = usePlayer();
  const [mirrored] = useMirrored();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  const sounding = playing || wait > 0;
  return (
    <dialog
      ref={dialog}
      onClose={onClose}
      aria-label={words.region}
      className="m-0 h-dvh max-h-none w-full max-w-none bg-night px-2 py-3 text-night-ink md:p-6 short:p-2"
    >
      <div className="flex h-full flex-col gap-2 short:flex-row short:gap-4">
        <div className="flex items-center gap-x-4 short:w-24 short:flex-col short:items-stretch short:justify-between short:py-2">
          <Button
            look="night-main"
            autoFocus
            className="min-w-24"
            aria-disabled={making}
            onClick={() => making || player.toggle()}
          >
            {sounding ? words.pause : words.play}
          </Button>
          <p className="min-w-0 flex-1 truncate font-serif text-3xl short:flex-none short:text-center short:text-2xl short:whitespace-normal">
            {making ? words.oneMoment : problem ? words.noMusic : clock(Math.max(0, at ?? 0))}
          </p>
          <Button look="night" onClick={() => dialog.current?.close()}>
            {words.back}
          </Button>
        </div>
        <div className="flex min-h-0 min-w-0 flex-1 flex-col gap-2">
          {problem ? <p role="alert">{problem}</p> : null}
          <div data-mirrored={mirrored} className={`min-h-0 flex-1 ${mirrored ? '-scale-x-100' : ''}`}>
            <NowNext
              moment={moment}
              follow={follow}
              lead={wait > 0 ? String(wait) : begun || making ? null : '▸'}
            />
          </div>
        </div>
      </div>
    </dialog>
  );
}
