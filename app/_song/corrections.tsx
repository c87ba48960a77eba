'use client';

import { useState } from 'react';
import { isUnsure } from '@/lib/core/song/confirmed.ts';
import {
  barStartsHere,
  countLevelsOf,
  halfAsFast,
  metreOf,
  shiftBy,
  tapAlong,
  twiceAsFast,
} from '@/lib/core/song/correct.ts';
import { type Correction, SAID } from '@/lib/core/song/evidence.ts';
import type { CountLevel, Grid } from '@/lib/core/song/grid.ts';
import { signed } from '@/lib/core/song/signing.ts';
import { clock, recordTime, wholeMicros } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { Choice } from '../_ui/field.tsx';
import { tempoOf } from './confirmWords.ts';
import { levelChanges } from './levelSteps.ts';
import { levelWords, METRES, metreWords } from './metreWords.ts';
import { Readings } from './readings.tsx';
import { useSongPlace, useSongSound } from './songSound.tsx';
import { TapAlong } from './tapAlong.tsx';
import { type HearAgain, useHearAgain } from './useHearAgain.tsx';
import { useSongChange } from './useSongChange.tsx';
import { bar } from './words.ts';

/** The one question that settles most, while the counts are not sure. */
export function OneQuestion() {
  const [me] = useMyName();
  const hearing = useHearAgain();
  return (
    <div className="mb-2">
      <Ways hearing={hearing} by={me} />
      {hearing.words}
    </div>
  );
}

/** In which ways the song may be counted. */
function Ways({ hearing, by }: { hearing: HearAgain; by: string }) {
  const unsure = isUnsure(usePlan());
  return (
    <Readings
      doubt={hearing.doubt}
      unsure={unsure}
      busy={hearing.busy}
      by={by}
      say={(said) => hearing.say(said, (now) => now)}
      look={hearing.look}
    />
  );
}

/**
 * Putting right what was heard: each is one gesture, and one step to undo.
 * @param asks whether it also asks in which ways the song may be counted
 */
export function Corrections({ asks }: { asks: boolean }) {
  const plan = usePlan();
  const { may, apply, words } = useSongChange();
  const [me] = useMyName();
  const hearing = useHearAgain();
  const sound = useSongSound();
  const { grid, heard, recording } = plan;
  if (!recording || !may) return words;
  const lastSound = recordTime(heard?.lastSound ?? recording.duration);
  return (
    <>
      {grid ? (
        <p className="max-w-3xl text-soft">
          The recording is listened to again with what you say. That you confirm, and nothing else: taps and
          speed the beats, a bar line the bars, a metre the metre. What else that changes is open again.
        </p>
      ) : null}
      {words}
      {hearing.words}
      {/* Where the bar at the foot has no room for it. */}
      {grid ? (
        <label className="flex min-h-11 items-center gap-2 lg:hidden">
          <input
            type="checkbox"
            className="size-5 accent-ink"
            checked={sound.clicked}
            onChange={({ target }) => sound.setClicked(target.checked)}
          />
          {bar.clicked}
        </label>
      ) : null}
      <div className="mt-3 grid gap-x-10 gap-y-6 lg:grid-cols-2">
        <TapAlong
          busy={hearing.busy}
          onTaps={(taps) =>
            hearing.say(
              [
                {
                  ...{ ...SAID, kind: 'beats', by: signed(me) },
                  ...{ times: taps.map((t) => recordTime(wholeMicros(t))), fromOne: true, byHand: true },
                },
              ],
              (now) => tapAlong(now, taps, me, lastSound),
            )
          }
        />
        {grid ? (
          <OfGrid
            grid={grid}
            by={me}
            busy={hearing.busy}
            say={hearing.say}
            setGrid={(next) => apply([{ register: 'grid', value: next }])}
          />
        ) : null}
        {grid && asks ? <Ways hearing={hearing} by={me} /> : null}
      </div>
    </>
  );
}

function OfGrid({
  grid,
  by,
  busy,
  say,
  setGrid,
}: {
  grid: Grid;
  by: string;
  busy: boolean;
  say: (said: Correction[], dry: (grid: Grid) => Grid) => void;
  setGrid: (grid: Grid) => void;
}) {
  const sound = useSongSound();
  const { at: here, playing } = useSongPlace();
  const own = { ...SAID, by: signed(by) };
  const interval = 60 / tempoOf(grid.beats);
  return (
    <div className="space-y-4">
      <div className="flex flex-wrap gap-2">
        <Button
          disabled={busy}
          onClick={() => {
            const time = recordTime(wholeMicros(Math.max(0, sound.now())));
            say([{ ...own, kind: 'bars', times: [time], byHand: playing }], (now) =>
              barStartsHere(now, time, by),
            );
          }}
        >
          A bar starts here ({clock(here, 1)})
        </Button>
        <Button
          disabled={busy}
          onClick={() =>
            say([{ ...own, kind: 'pace', interval: interval / 2 }], (now) => twiceAsFast(now, by))
          }
        >
          Twice as fast
        </Button>
        <Button
          disabled={busy}
          onClick={() =>
            say([{ ...own, kind: 'pace', interval: interval * 2 }], (now) => halfAsFast(now, by))
          }
        >
          Half as fast
        </Button>
      </div>
      <div className="grid items-baseline gap-4 sm:grid-cols-2">
        <Choice
          label="Metre"
          value={`${grid.beatsPerBar}/${grid.subdivision}`}
          disabled={busy}
          onChange={({ target }) => {
            const metre = METRES.find((m) => `${m.beatsPerBar}/${m.subdivision}` === target.value);
            if (metre)
              say([{ ...own, kind: 'metre', metre }], (now) =>
                metreOf(now, metre.beatsPerBar, metre.subdivision, by),
              );
          }}
        >
          {METRES.map((metre) => (
            <option key={metreWords(metre)} value={`${metre.beatsPerBar}/${metre.subdivision}`}>
              {metreWords(metre)}
            </option>
          ))}
        </Choice>
        <Level grid={grid} />
      </div>
      <Shift onShift={(ms) => setGrid(shiftBy(grid, ms, by))} />
    </div>
  );
}

/** Changing what the dancers count asks whether moves keep their seconds or their counts. */
function Level({ grid }: { grid: Grid }) {
  const plan = usePlan();
  const { apply, words } = useSongChange();
  const [asked, setAsked] = useState<CountLevel | null>(null);
  const set = (level: CountLevel, keep: 'seconds' | 'counts') => {
    setAsked(null);
    apply(levelChanges(plan, level, keep));
  };
  return (
    <>
      <Choice
        label="The dancers count"
        value={grid.countLevel}
        onChange={({ target }) => {
          const level = target.value as CountLevel;
          if (plan.placed.length === 0) set(level, 'seconds');
          else setAsked(level);
        }}
      >
        {countLevelsOf(grid).map((level) => (
          <option key={level} value={level}>
            {levelWords[level]}
          </option>
        ))}
      </Choice>
      {words}
      {asked ? (
        <Asking
          title={`Count ${levelWords[asked]}?`}
          no="Leave it as it is"
          yes="Keep seconds"
          onNo={() => setAsked(null)}
          onYes={() => set(asked, 'seconds')}
        >
          <p>
            Keep seconds: moves stay where they are heard and last as long; only their numbers change. Keep
            counts: a move stays on the same number of its phrase, and lasts as long as those counts now do.
          </p>
          <Button onClick={() => set(asked, 'counts')}>Keep counts</Button>
        </Asking>
      ) : null}
    </>
  );
}

function Shift({ onShift }: { onShift: (ms: number) => void }) {
  return (
    <fieldset className="flex flex-wrap items-center gap-2">
      <legend className="mb-1 text-sm text-soft">Move all beats</legend>
      {[-50, -10, 10, 50].map((ms) => (
        <Button key={ms} className="px-3" onClick={() => onShift(ms)}>
          {Math.abs(ms)} ms {ms < 0 ? 'earlier' : 'later'}
        </Button>
      ))}
    </fieldset>
  );
}
