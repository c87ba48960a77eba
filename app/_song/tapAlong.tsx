'use client';

import { useState } from 'react';
import { median } from '@/lib/core/signal/statistics.ts';
import { type RecordTime, recordTime } from '@/lib/core/units.ts';
import { usePlayer } from '../_practice/player.ts';
import { Button } from '../_ui/button.tsx';
import { recordSound } from './recordSound.ts';
import { useSongSound } from './songSound.tsx';
import { tap as words } from './words.ts';

/** So many taps tell the tempo well. */
const ENOUGH = 8;
/** A stop this long begins anew: the person lost the beat and starts again. Seconds. */
const ANEW = 3;

/** One button that starts the recording, and then is tapped with the beats: by thumb, mouse or the space bar. */
export function TapAlong({ busy, onTaps }: { busy: boolean; onTaps: (taps: RecordTime[]) => void }) {
  const { playing } = usePlayer(recordSound);
  const { now: heardNow, hear } = useSongSound();
  const [taps, setTaps] = useState<RecordTime[]>([]);
  const tap = () => {
    const now = recordSound.now();
    if (now === null || !playing) return;
    setTaps((before) => {
      const last = before.at(-1);
      const goesOn = last !== undefined && now > last && now - last < ANEW;
      return goesOn ? [...before, recordTime(now)] : [recordTime(now)];
    });
  };
  const enough = taps.length >= ENOUGH;
  const tempo = taps.length > 2 ? 60 / median(taps.slice(1).map((t, i) => t - taps[i]!)) : null;
  return (
    <div>
      <h3 className="text-lg">{words.title}</h3>
      <p className="text-sm text-soft">{words.lead}</p>
      <div className="mt-2 flex flex-wrap items-center gap-3">
        <button
          type="button"
          // When a finger comes down, not when it is lifted; the press that starts the recording is no tap.
          onPointerDown={tap}
          onClick={() => playing || hear(heardNow(), 'recording')}
          onKeyDown={(event) => {
            if (!playing || (event.key !== ' ' && event.key !== 'Enter')) return;
            event.preventDefault();
            if (!event.repeat) tap();
          }}
          onKeyUp={(event) => playing && event.preventDefault()}
          className="min-h-16 min-w-40 touch-manipulation rounded border-2 border-ink px-6 text-lg font-semibold select-none active:bg-ink active:text-paper"
        >
          {playing ? (
            <>
              {words.tap} <span className="font-normal">{words.orSpace}</span>
            </>
          ) : (
            words.start
          )}
        </button>
        <p role="status">{words.taps(taps.length, tempo)}</p>
      </div>
      {taps.length > 0 ? (
        <div className="mt-2 flex flex-wrap gap-3">
          <Button
            look="main"
            disabled={!enough || busy}
            onClick={() => {
              onTaps(taps);
              setTaps([]);
            }}
          >
            {words.use}
          </Button>
          <Button onClick={() => setTaps([])}>{words.forget}</Button>
        </div>
      ) : null}
    </div>
  );
}
