'use client';

import { useEffect, useRef } from 'react';
import { clock } from '@/lib/core/units.ts';
import { Button } from '../_ui/button.tsx';
import { Count } from './count.tsx';
import { Fitted } from './fitted.tsx';
import type { Moment } from './followed.ts';
import { player, usePlayer } from './player.ts';

/**
 * Nothing but the count and what to do, as large as the screen lets it: to be read from three metres. Everything else is out of
 * the way, of eyes and keys. Escape leads back.
 */
export function FullScreen({
  moment,
  begun,
  onClose,
}: {
  moment: Moment;
  begun: boolean;
  onClose: () => void;
}) {
  const { at, playing, wait } = usePlayer();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  const sounding = playing || wait > 0;
  const move = moment.call?.name ?? 'basic step';
  const when = moment.call ? moment.callWhen : 'to the end';
  const heard = begun ? moment.now || moment.section : 'press play';
  return (
    <dialog
      ref={dialog}
      onClose={onClose}
      aria-label="Follow the music"
      className="m-0 h-dvh max-h-none w-full max-w-none bg-night p-4 text-night-ink md:p-8"
    >
      <div className="flex h-full flex-col gap-3">
        <div className="flex flex-wrap items-center gap-x-4 gap-y-2">
          <Button look="night-main" autoFocus className="min-w-24" onClick={() => player.toggle()}>
            {sounding ? 'Pause' : 'Play'}
          </Button>
          <span className="flex-1 font-serif text-3xl">{clock(Math.max(0, at ?? 0))}</span>
          <Button look="night" onClick={() => dialog.current?.close()}>
            Back
          </Button>
        </div>
        <div className="flex min-h-0 flex-1 items-stretch gap-x-4">
          <Fitted
            words={heard}
            most={0.13}
            className={`flex flex-1 items-center leading-[1.1] ${moment.now ? 'sung' : 'text-night-soft'}`}
          >
            <p dir="auto" className="min-w-0 text-left">
              <span className="sr-only">Heard now: </span>
              {heard}
            </p>
          </Fitted>
          <p className="self-center font-serif text-[min(44vw,32vh)] leading-[0.8]">
            {wait > 0 ? wait : <Count moment={moment} />}
          </p>
        </div>
        <Fitted
          words={`${when} ${moment.call?.on ?? ''} ${move}`}
          most={0.18}
          className="flex-1 border-t border-night-rule pt-3"
        >
          <p className="text-[0.45em] leading-tight text-night-soft">
            {when}
            {moment.call?.on ? (
              <>
                , on <bdi className="sung text-night-ink">{moment.call.on}</bdi>
              </>
            ) : null}
          </p>
          <p dir="auto" className="text-left leading-[1.1] font-semibold">
            {move}
          </p>
        </Fitted>
      </div>
    </dialog>
  );
}
