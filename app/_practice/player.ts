'use client';

import { useSyncExternalStore } from 'react';
import { encodeWav } from '@/lib/codec/wav.ts';
import type { Rounds } from '@/lib/core/handover/rounds.ts';
import type { Stretch } from '@/lib/core/handover/stretch.ts';
import { type FloorTime, floorTime } from '@/lib/core/units.ts';
import { sound, takeTurn } from '../_client/audioOut.ts';
import type { Music } from '../_client/audioWork.ts';
import { stopsBy } from '../_client/silence.ts';
import { keptDelay } from './delay.ts';

/** A stretch that is played again and again; each round begins at `start`, before it where it has a run-up. */
export interface Loop extends Stretch {
  start: FloorTime;
}

export interface PlayerState {
  /** Where the music is now; null before anything was played. Negative while it is counted in. */
  at: FloorTime | null;
  playing: boolean;
  /** There is music to play. */
  ready: boolean;
  /** Somebody wants to hear it, and it is being made ready. */
  making: boolean;
  /** What there is to play is kept on this device. */
  kept: boolean;
  /** Why there is none, where making it failed. */
  problem: string | null;
  loop: Loop | null;
  /** Each round of a loop begins with a run-up. */
  runUp: boolean;
  /** What changes from round to round. */
  rounds: Rounds;
  /** 0.6 to 1.1 of the tempo, pitch kept. */
  speed: number;
  /** Seconds still to wait before the music starts, to get into place; 0 when it does not wait. */
  wait: number;
  /** The music should have a bar counted in and its counts clicked. */
  counted: boolean;
  /** How a move is called ahead of time. */
  calls: Calls;
}

export const CALLS = ['silent', 'spoken', 'sounded'] as const;
export type Calls = (typeof CALLS)[number];

const AT_FIRST: PlayerState = {
  at: null,
  playing: false,
  ready: false,
  making: false,
  kept: false,
  problem: null,
  loop: null,
  runUp: true,
  rounds: { buildsUp: false, grows: false },
  speed: 1,
  wait: 0,
  counted: false,
  calls: 'silent',
};

/** Seconds between two reports of the place: often enough for the eye, seldom enough for a phone. */
const REPORT = 0.06;
/** Before any count-in: a seek there ends at the file's beginning. */
export const BEFORE_ALL = floorTime(-1000);
export const SPEEDS = { least: 0.6, most: 1.1, step: 0.05 } as const;

/**
 * Plays a finished render by a media element. Knows floor time only; who renders hands the music in with `put`, and is called
 * by `onWanted` when somebody wants to hear it before it is there.
 */
export class Player {
  private state = AT_FIRST;
  private listeners = new Set<() => void>();
  private element: HTMLAudioElement | null = null;
  private address: string | null = null;
  /** Seconds that are counted in before floor time 0. */
  private lead = 0;
  /** Speed of the edit against the file, which is always made at the recording's own. */
  private tempo = 1;
  private key: string | null = null;
  private frame = 0;
  private countdown = 0;
  /** Seconds in the file to go to as soon as the element knows it; null where it stands there. */
  private place: number | null = null;
  /** Where to start as soon as the music is there. */
  private wanted: FloorTime | null = null;
  /** The element sounds of nothing, only to be let sound later. */
  private isPriming = false;
  private make: (() => void) | null = null;
  /** Asked for before there was anybody to make it: the bar comes a moment after the page. */
  private isAsked = false;
  /** A round of what is played again and again has ended; it may change what the next one is. */
  onRound: (() => void) | null = null;

  /** Makes the music, when somebody wants it: who does so may come after the wish. */
  set onWanted(make: (() => void) | null) {
    this.make = make;
    if (make && this.isAsked) make();
    if (make) this.isAsked = false;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };
  readonly getState = (): PlayerState => this.state;

  /** Hands in the music of an edit, `key` being its digest and kind of mix; null when what was there is outdated. */
  put(key: string | null, music: Music | null, kept = false): void {
    if (key !== null && key === this.key) return;
    const { at } = this.state;
    const { wanted } = this;
    this.pause();
    if (this.address) URL.revokeObjectURL(this.address);
    this.key = key;
    this.address = music ? URL.createObjectURL(music.file) : null;
    if (!music || !this.address) {
      this.set({ ready: false, kept: false });
      return;
    }
    this.lead = music.lead;
    this.tempo = music.tempo;
    const element = this.own();
    this.isPriming = false;
    element.src = this.address;
    this.setSpeed(this.state.speed);
    this.set({ ready: true, kept });
    const start = wanted ?? at;
    if (start !== null) this.seek(start);
    if (wanted !== null) void this.play();
  }

  /** Tells why the music could not be made; null as soon as it is tried again. */
  fail(problem: string | null): void {
    this.set({ problem });
  }

  /** The music is being made ready, or no longer. */
  setMaking(making: boolean): void {
    this.set({ making });
  }

  /** Somebody has pressed play, and the music is not there yet. */
  get isWaiting(): boolean {
    return this.wanted !== null;
  }

  has(key: string): boolean {
    return this.key === key;
  }

  /** Asks for the music, so that it is there when somebody presses play. */
  prepare(): void {
    if (this.state.ready) return;
    if (this.make) this.make();
    else this.isAsked = true;
  }

  setCounted(counted: boolean): void {
    this.pause();
    this.set({ counted });
  }

  setCalls(calls: Calls): void {
    this.set({ calls });
  }

  /** What is heard at this very moment, between two reports. */
  now(): FloorTime | null {
    const { element, place } = this;
    return element && place === null && this.state.playing ? this.heard(element.currentTime) : this.state.at;
  }

  seek(at: FloorTime): void {
    const seconds = Math.max(0, at * this.tempo + this.lead);
    this.place = seconds;
    this.takePlace();
    this.set({ at: this.floorOf(seconds) });
  }

  /** Starts where it stands, or from the beginning (counted in, where the mix has a count-in). */
  async play(): Promise<void> {
    if (!this.state.ready) {
      this.wanted = this.state.at ?? BEFORE_ALL;
      this.prime();
      this.make?.();
      return;
    }
    const element = this.own();
    takeTurn(this.pause);
    try {
      await sound(element);
    } catch {
      // The browser wants a fresh press of a button: the bar shows "play" and waits for it.
      this.pause();
    }
  }

  readonly pause = (): void => {
    window.clearInterval(this.countdown);
    cancelAnimationFrame(this.frame);
    this.wanted = null;
    this.element?.pause();
    this.set({ playing: false, wait: 0 });
  };

  toggle(): void {
    if (this.state.playing || this.state.wait > 0) this.pause();
    else void this.play();
  }

  /** Starts after so many seconds, from the beginning of the music or of what is played again and again. */
  playAfter(seconds: number): void {
    this.pause();
    const until = performance.now() + seconds * 1000;
    this.set({ wait: seconds });
    this.countdown = window.setInterval(() => {
      const left = Math.ceil((until - performance.now()) / 1000);
      if (left > 0) {
        this.set({ wait: left });
        return;
      }
      window.clearInterval(this.countdown);
      this.set({ wait: 0 });
      this.seek(this.state.loop?.start ?? BEFORE_ALL);
      void this.play();
    }, 200);
  }

  setSpeed(speed: number): void {
    const within = Math.min(SPEEDS.most, Math.max(SPEEDS.least, Math.round(speed * 100) / 100));
    if (this.element) {
      this.element.playbackRate = this.element.defaultPlaybackRate = within * this.tempo;
    }
    this.set({ speed: within });
  }

  setLoop(loop: Loop | null): void {
    this.set({ loop });
    const { at } = this.state;
    if (loop && (at === null || at < loop.start || at >= loop.to)) this.seek(loop.start);
  }

  setRunUp(runUp: boolean): void {
    this.set({ runUp });
  }

  setRounds(rounds: Rounds): void {
    this.set({ rounds });
  }

  /**
   * Some browsers let an element sound only where its first sound began within a press, and the music may be there only later: so
   * it begins with a moment of silence.
   */
  private prime(): void {
    if (this.element) return;
    const element = this.own();
    this.isPriming = true;
    const silence = encodeWav({ rate: 8000, channels: [new Float32Array(80)] }, 16);
    element.src = URL.createObjectURL(new Blob([silence], { type: 'audio/wav' }));
    element.play().catch(() => undefined);
  }

  /** WebKitGTK 2.50 never starts, or says it cannot read the file, where a place is set before it knows the file. */
  private takePlace(): void {
    const { element, place } = this;
    if (!element || place === null || element.readyState === element.HAVE_NOTHING) return;
    this.place = null;
    element.currentTime = place;
  }

  private floorOf(seconds: number): FloorTime {
    return floorTime((seconds - this.lead) / this.tempo);
  }

  /** What reaches the ear while the file is played at a place: a moment earlier, where this device's sound is late. */
  private heard(seconds: number): FloorTime {
    const { loop, speed } = this.state;
    const floor = this.floorOf(seconds);
    const heard = floor - keptDelay() * speed;
    // Just after a start it is the start that will be heard first.
    const start = loop && floor >= loop.start ? loop.start : this.floorOf(0);
    return floorTime(Math.max(start, heard));
  }

  private own(): HTMLAudioElement {
    if (this.element) return this.element;
    const element = new Audio();
    element.preservesPitch = true;
    element.playbackRate = element.defaultPlaybackRate = this.state.speed * this.tempo;
    element.onplay = () => {
      if (this.isPriming) return;
      this.set({ playing: true });
      this.follow();
    };
    element.onloadedmetadata = () => {
      if (!this.isPriming) this.takePlace();
    };
    element.onpause = () => this.set({ playing: false });
    element.onended = () => {
      if (this.isPriming) return;
      if (!this.state.loop) {
        this.set({ playing: false, at: floorTime(0) });
        return;
      }
      // What goes round to the very end of the file.
      this.goRound();
      void this.play();
    };
    // A page in the background gets no animation frames, but these.
    element.ontimeupdate = () => this.report();
    this.element = element;
    return element;
  }

  private follow = (): void => {
    cancelAnimationFrame(this.frame);
    this.report();
    if (this.state.playing) this.frame = requestAnimationFrame(this.follow);
  };

  private report(): void {
    if (!this.element || this.place !== null || !this.state.playing) return;
    const { loop } = this.state;
    if (loop && this.floorOf(this.element.currentTime) >= loop.to) {
      this.goRound();
      return;
    }
    const at = this.heard(this.element.currentTime);
    if (this.state.at === null || Math.abs(at - this.state.at) >= REPORT) this.set({ at });
  }

  private goRound(): void {
    this.onRound?.();
    this.seek(this.state.loop?.start ?? floorTime(0));
  }

  private set(change: Partial<PlayerState>): void {
    const keys = Object.keys(change) as (keyof PlayerState)[];
    if (keys.every((key) => change[key] === this.state[key])) return;
    this.state = { ...this.state, ...change };
    for (const listener of this.listeners) listener();
  }
}

/** One sound at a time in a page, whichever screen shows it. */
export const player = new Player();
stopsBy(player.pause);

export function usePlayer(which: Player = player): PlayerState {
  return useSyncExternalStore(which.subscribe, which.getState, which.getState);
}

/** Goes to a moment, playing or not; out of a stretch that is played again and again, it is no more. */
export function goTo(at: FloorTime): void {
  const { loop } = player.getState();
  if (loop && (at < loop.start || at >= loop.to)) player.setLoop(null);
  player.seek(at);
}

/** Plays from a moment on; renders the music first where that is still to be done. */
export function playFrom(at: FloorTime): void {
  player.setLoop(null);
  player.seek(at);
  void player.play();
}
