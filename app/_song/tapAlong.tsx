'use client';

import { useEffect, useRef, useState } from 'react';
import { median } from '@/lib/core/signal/statistics.ts';
import { type RecordTime, recordTime } from '@/lib/core/units.ts';
import { usePlayer } from '../_practice/player.ts';
import { Button } from '../_ui/button.tsx';
import { recordSound } from './recordSound.ts';

/** So many taps tell the tempo well. */
const ENOUGH = 8;
/** A stop this long begins anew: the person lost the beat and starts again. Seconds. */
const ANEW = 3;

/** Tap the beats while the recording plays, beginning on a one: by thumb, mouse or the space bar. */
export function TapAlong({ busy, onTaps }: { busy: boolean; onTaps: (taps: RecordTime[]) => void }) {
  const { playing } = usePlayer(recordSound);
  const [taps, setTaps] = useState<RecordTime[]>([]);
  const button = useRef<HTMLButtonElement>(null);
  /** Who starts the recording here wants to tap; elsewhere the focus stays where it is. */
  const started = useRef(false);
  useEffect(() => {
    if (playing && started.current) button.current?.focus();
    started.current = false;
  }, [playing]);

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
      <h3 className="text-lg">Tap along</h3>
      <p className="text-sm text-soft">
        Start the recording, then tap each beat, beginning on a “one”; eight taps are enough.
      </p>
      <div className="mt-2 flex flex-wrap items-center gap-3">
        <Button
          onClick={() => {
            started.current = true;
            recordSound.toggle();
          }}
        >
          {playing ? 'Pause' : 'Hear the recording'}
        </Button>
        <button
          ref={button}
          type="button"
          // When a finger comes down, not when it is lifted.
          onPointerDown={tap}
          onKeyDown={(event) => {
            if ((event.key !== ' ' && event.key !== 'Enter') || event.repeat) return;
            event.preventDefault();
            tap();
          }}
          onKeyUp={(event) => event.preventDefault()}
          disabled={!playing}
          className="min-h-16 min-w-40 rounded border-2 border-ink px-6 text-lg font-semibold select-none active:bg-ink active:text-paper disabled:border-edge disabled:text-soft"
        >
          Tap <span className="font-normal">(or space)</span>
        </button>
        <p role="status">
          {taps.length === 0 ? '' : `${taps.length} taps`}
          {tempo === null ? '' : `, ${Math.round(tempo)} a minute`}
        </p>
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
            Use these taps
          </Button>
          <Button onClick={() => setTaps([])}>Forget them</Button>
        </div>
      ) : null}
    </div>
  );
}
