'use client';

import { useEffect, useRef, useState } from 'react';
import { recordTime } from '@/lib/core/units.ts';
import { usePlayer } from '../_practice/player.ts';
import { Button } from '../_ui/button.tsx';
import { MARK_KINDS, type Mark, type MarkKind, tallyOf } from './marking.ts';
import { MarkingResult } from './markingResult.tsx';
import { recordSound } from './recordSound.ts';
import { useSongSound } from './songSound.tsx';
import { mark as words } from './words.ts';

/** Keys that somebody types into a field. */
const isTyped = ({ target }: KeyboardEvent): boolean =>
  target instanceof Element && target.closest('input, textarea, select, [contenteditable]') !== null;

/** Marking by ear: one key or one big button each for beat, one, section, word and stop, while the recording plays. */
export function MarkingMode() {
  const [open, setOpen] = useState(false);
  const { hear, now } = useSongSound();
  if (open) return <Marking onEnd={() => setOpen(false)} />;
  return (
    <>
      <p className="max-w-3xl text-soft">{words.intro}</p>
      <Button
        className="mt-3"
        onClick={() => {
          setOpen(true);
          hear(now(), 'recording');
        }}
      >
        {words.begin}
      </Button>
    </>
  );
}

function Marking({ onEnd }: { onEnd: () => void }) {
  const { playing } = usePlayer(recordSound);
  const [marks, setMarks] = useState<Mark[]>([]);
  const [done, setDone] = useState(false);
  const panel = useRef<HTMLFieldSetElement>(null);
  useEffect(() => panel.current?.focus({ preventScroll: true }), []);

  const put = (kind: MarkKind) => {
    const now = recordSound.now();
    if (now === null || !recordSound.getState().playing) return;
    setMarks((before) => [...before, { kind, at: recordTime(Math.max(0, now)) }]);
  };
  const onKey = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === 'Backspace') {
      event.preventDefault();
      return setMarks((before) => before.slice(0, -1));
    }
    const kind = MARK_KINDS.find((one) => words.kinds[one].key === event.key.toLowerCase());
    if (!kind || event.repeat) return;
    // The space bar is a beat while the recording plays; before it, what the space bar always is.
    if (!playing) return;
    event.preventDefault();
    put(kind);
  };
  const latest = useRef(onKey);
  latest.current = onKey;
  // Wherever the focus is, since the bar that plays and pauses is elsewhere on the page; as long as this is open.
  useEffect(() => {
    const isHere = (event: KeyboardEvent) => panel.current?.offsetParent != null && !isTyped(event);
    const keys = (event: KeyboardEvent) => {
      if (isHere(event)) latest.current(event);
    };
    // A button is pressed as the space bar comes up.
    const up = (event: KeyboardEvent) => {
      if (isHere(event) && event.key === ' ' && recordSound.getState().playing) event.preventDefault();
    };
    window.addEventListener('keydown', keys, true);
    window.addEventListener('keyup', up, true);
    return () => {
      window.removeEventListener('keydown', keys, true);
      window.removeEventListener('keyup', up, true);
    };
  }, []);
  if (done) {
    return <MarkingResult marks={marks} onMore={() => setDone(false)} onEnd={onEnd} />;
  }
  const tally = tallyOf(marks);
  const stopped = marks.filter(({ kind }) => kind === 'stop').length % 2 === 1;
  return (
    <fieldset
      ref={panel}
      tabIndex={-1}
      aria-label={words.title}
      className="rounded border border-edge p-3 outline-offset-4"
    >
      <p className="text-sm text-soft">{words.keys}</p>
      <div className="mt-3 grid grid-cols-2 gap-2 sm:grid-cols-5">
        {MARK_KINDS.map((kind) => (
          <button
            key={kind}
            type="button"
            disabled={!playing}
            aria-keyshortcuts={kind === 'beat' ? 'Space' : words.kinds[kind].shown}
            // When a finger comes down, not when it is lifted; a click without one is a screen reader's.
            onPointerDown={() => put(kind)}
            onClick={(event) => {
              if (event.detail === 0) put(kind);
            }}
            className={`min-h-20 touch-manipulation rounded border-2 border-ink px-2 text-lg font-semibold select-none active:bg-ink active:text-paper disabled:border-edge disabled:text-soft ${kind === 'beat' ? 'order-last col-span-2 min-h-28 sm:order-first sm:col-span-1 sm:min-h-20' : ''}`}
          >
            <span className="block">
              {kind === 'stop' && stopped ? words.stopping : words.kinds[kind].name}
            </span>
            <span className="block text-sm font-normal">{words.kinds[kind].shown}</span>
          </button>
        ))}
      </div>
      <p role="status" className="mt-2 min-h-6">
        {marks.length === 0 ? words.none : words.tally(tally)}
      </p>
      <div className="mt-1 flex flex-wrap gap-2">
        <Button
          look="main"
          disabled={marks.length === 0}
          onClick={() => {
            recordSound.pause();
            setDone(true);
          }}
        >
          {words.done}
        </Button>
        <Button disabled={marks.length === 0} onClick={() => setMarks((before) => before.slice(0, -1))}>
          {words.back} <span className="font-normal">({words.backKey})</span>
        </Button>
        <Button onClick={onEnd}>{words.leave}</Button>
      </div>
    </fieldset>
  );
}
