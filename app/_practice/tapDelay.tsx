'use client';

import { useEffect, useRef, useState } from 'react';
import { encodeWav } from '@/lib/codec/wav.ts';
import { sound, takeTurn } from '../_client/audioOut.ts';
import { Button } from '../_ui/button.tsx';
import { CLICK_EVERY, CLICK_FIRST, delayOf, keepDelay, TAPS, useDelay } from './delay.ts';
import { late } from './words.ts';

/** More clicks than are asked for: some let a few go by before they tap. */
const CLICKS = 16;
const RATE = 16_000;
/** Seconds of a click, and its pitch. */
const LENGTH = 0.03;
const HERTZ = 1250;

/** Sound that is heard late, as by headphones without a wire: tapping along once tells by how much. */
export function TapDelay() {
  const delay = useDelay();
  const clicks = useClicks();
  const { taps, said } = clicks;
  return (
    <section aria-labelledby="late" className="mt-8">
      <h3 id="late" className="text-xl">
        {late.title}
      </h3>
      <p className="mt-1 max-w-prose">{late.why}</p>
      <p className="mt-3 flex flex-wrap items-center gap-3">
        {taps === null ? (
          <Button autoFocus={clicks.ended} onClick={clicks.start}>
            {delay > 0 ? late.anew : late.start}
          </Button>
        ) : (
          <>
            <Button
              look="main"
              autoFocus
              className="min-h-24! min-w-48!"
              onPointerDown={(event) => clicks.tap(event.timeStamp)}
              onKeyDown={(event) => {
                if ((event.key === ' ' || event.key === 'Enter') && !event.repeat)
                  clicks.tap(event.timeStamp);
              }}
            >
              {late.tap}
            </Button>
            <Button onClick={clicks.stop}>{late.stop}</Button>
          </>
        )}
        {delay > 0 && taps === null ? (
          <Button look="quiet" onClick={() => keepDelay(0)}>
            {late.forget}
          </Button>
        ) : null}
      </p>
      <p role="status" className="mt-3 min-h-6">
        {taps !== null ? late.taps(taps.length, TAPS) : said || (delay > 0 ? late.found(delay) : '')}
      </p>
    </section>
  );
}

/** Plays the clicks as the music is played, and notes the taps on their clock. */
function useClicks() {
  const [taps, setTaps] = useState<number[] | null>(null);
  const [said, setSaid] = useState('');
  const [ended, setEnded] = useState(false);
  const held = useRef<{ element: HTMLAudioElement; address: string } | null>(null);

  const silent = useRef(() => {
    held.current?.element.pause();
    if (held.current) URL.revokeObjectURL(held.current.address);
    held.current = null;
  });
  useEffect(() => silent.current, []);

  const end = (words: string) => {
    silent.current();
    setTaps(null);
    setSaid(words);
    setEnded(true);
  };
  const start = async () => {
    silent.current();
    // Before there is a new sound: the turn that ends may be that of the try before.
    takeTurn(() => end(''));
    const address = URL.createObjectURL(new Blob([clickTrack()], { type: 'audio/wav' }));
    const element = new Audio(address);
    held.current = { element, address };
    element.onended = () => end(late.few);
    setSaid('');
    setTaps([]);
    try {
      await sound(element);
    } catch {
      if (held.current?.element === element) end(late.blocked);
    }
  };
  /** @param stamp when the finger came down: the page may hear of it later. Milliseconds. */
  const tap = (stamp: number) => {
    const element = held.current?.element;
    if (!element || taps === null) return;
    const ago = Math.min(0.2, Math.max(0, (performance.now() - stamp) / 1000));
    const all = [...taps, element.currentTime - ago];
    setTaps(all);
    if (all.length < TAPS) return;
    const delay = delayOf(all);
    if (delay === null) return end(late.uneven);
    keepDelay(delay);
    end(delay === 0 ? late.inTime : '');
  };
  return { taps, said, ended, start: () => void start(), stop: () => end(''), tap };
}

/** A WAV with a click every so often. */
function clickTrack(): Uint8Array<ArrayBuffer> {
  const channel = new Float32Array(Math.ceil((CLICK_FIRST + CLICKS * CLICK_EVERY) * RATE));
  for (let click = 0; click < CLICKS; click++) {
    const from = Math.round((CLICK_FIRST + click * CLICK_EVERY) * RATE);
    for (let i = 0; i < LENGTH * RATE; i++) {
      const left = 1 - i / (LENGTH * RATE);
      channel[from + i] = 0.5 * left * left * Math.sin((2 * Math.PI * HERTZ * i) / RATE);
    }
  }
  return encodeWav({ rate: RATE, channels: [channel] }, 16);
}
