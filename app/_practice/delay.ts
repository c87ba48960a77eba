'use client';

import { useSyncExternalStore } from 'react';
import { median } from '@/lib/core/signal/statistics.ts';

/**
 * How much later this device's sound is heard than it is played, as with headphones and loudspeakers without a wire. Found by
 * tapping along with clicks; kept on this device, since it belongs to what is worn and not to the board.
 */

/** Seconds between two clicks, and before the first. */
export const CLICK_EVERY = 0.75;
export const CLICK_FIRST = 1;
/** Taps that are asked for; the first ones, with which people find the beat, are left out. */
export const TAPS = 8;
const TO_SETTLE = 2;
/** Seconds: a tap may come this much before its click is played; people tap a little ahead of a beat that they know. */
const EARLIEST = 0.15;
/** Seconds, the middle half of the taps: wider apart than this, they say nothing. */
const MOST_SPREAD = 0.08;
/** Seconds. Later than this is another click. */
export const MOST_DELAY = 0.55;
const STEP = 0.01;

/**
 * Seconds by which the sound is late: the median of the taps against the clicks as played, rounded to 10 ms; null when they lie
 * too far apart to say. Robust against a tap or two that went astray.
 * @param taps seconds on the clock of the clicks as played, in order
 */
export function delayOf(taps: readonly number[]): number | null {
  const late = taps
    .slice(TO_SETTLE)
    .map((tap) => {
      const since = (tap - CLICK_FIRST + EARLIEST) % CLICK_EVERY;
      return (since < 0 ? since + CLICK_EVERY : since) - EARLIEST;
    })
    .sort((a, b) => a - b);
  if (late.length < TAPS - TO_SETTLE) return null;
  const at = (share: number) => late[Math.round(share * (late.length - 1))]!;
  if (at(0.75) - at(0.25) > MOST_SPREAD) return null;
  return within(median(late));
}

/** To the nearest 10 ms, and no delay that cannot be. */
export const within = (seconds: number): number =>
  Math.min(MOST_DELAY, Math.max(0, Math.round(seconds / STEP) * STEP));

const NAME = 'larkstep sound delay';
const listeners = new Set<() => void>();
/** For a device that keeps nothing: as long as the page lives. */
let held: number | null = null;

export function keptDelay(): number {
  if (held !== null) return held;
  try {
    const kept = Number(localStorage.getItem(NAME));
    held = Number.isFinite(kept) ? within(kept) : 0;
  } catch {
    held = 0;
  }
  return held;
}

export function keepDelay(seconds: number): void {
  held = within(seconds);
  try {
    if (held === 0) localStorage.removeItem(NAME);
    else localStorage.setItem(NAME, held.toFixed(2));
  } catch {
    // A private window: the page remembers.
  }
  for (const listener of listeners) listener();
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

/** Seconds by which this device's sound is heard late. */
export const useDelay = (): number => useSyncExternalStore(subscribe, keptDelay, () => 0);
