'use client';

import { useEffect, useRef } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { type FloorTime, floorTime } from '@/lib/core/units.ts';
import { BEFORE_ALL, type Player, usePlayer } from './player.ts';

/** What a device's lock screen and headphones show and do: the song, play and pause, a phrase back and on. */
export function useMediaSession(
  player: Player,
  score: FloorScore | null,
  title: string,
  artist: string,
): void {
  const { ready, playing, speed, at } = usePlayer(player);
  const latest = useRef(score);
  latest.current = score;

  useEffect(() => {
    if (!('mediaSession' in navigator) || !ready) return;
    const { mediaSession } = navigator;
    mediaSession.metadata = new MediaMetadata({
      title,
      artist,
      artwork: [{ src: '/icons/512.png', sizes: '512x512', type: 'image/png' }],
    });
    const step = (by: -1 | 1) => stepPhrase(player, latest.current, by);
    const actions: [MediaSessionAction, MediaSessionActionHandler][] = [
      ['play', () => void player.play()],
      ['pause', () => player.pause()],
      ['previoustrack', () => step(-1)],
      ['nexttrack', () => step(1)],
      ['seekto', ({ seekTime }) => seekTime !== undefined && player.seek(floorTime(seekTime))],
    ];
    for (const [action, handler] of actions) act(action, handler);
    return () => {
      for (const [action] of actions) act(action, null);
      mediaSession.metadata = null;
    };
  }, [player, ready, title, artist]);

  const second = at === null ? 0 : Math.max(0, Math.floor(at));
  useEffect(() => {
    if (!('mediaSession' in navigator) || !ready || !score) return;
    navigator.mediaSession.playbackState = playing ? 'playing' : 'paused';
    const duration = score.length;
    navigator.mediaSession.setPositionState({
      duration,
      playbackRate: speed,
      position: Math.min(second, duration),
    });
  }, [ready, playing, speed, second, score]);
}

function act(action: MediaSessionAction, handler: MediaSessionActionHandler | null): void {
  try {
    navigator.mediaSession.setActionHandler(action, handler);
  } catch {
    // A browser that does not know this one has no button for it.
  }
}

/** To the start of the phrase before or after what is heard now; out of a stretch that is played again and again, it is no more. */
export function stepPhrase(player: Player, score: FloorScore | null, by: -1 | 1): void {
  const to = phraseFrom(score, player.now() ?? floorTime(0), by);
  const { loop } = player.getState();
  if (loop && (to < loop.start || to >= loop.to)) player.setLoop(null);
  // Before the song's beginning it is counted in, where that is wished.
  player.seek(to > 0 || player.getState().loop ? to : BEFORE_ALL);
}

/** Pressed within so many seconds of a phrase's start, "back" means the phrase before. */
const JUST_BEGUN = 1.5;

/** The start of the phrase before or after; the present one's own start first, unless it has only just begun. */
export function phraseFrom(score: FloorScore | null, here: FloorTime, by: -1 | 1): FloorTime {
  const starts = score?.phrases.map((phrase) => phrase.floor) ?? [];
  if (by > 0) return starts.find((start) => start > here + 0.05) ?? here;
  return starts.findLast((start) => start < here - JUST_BEGUN) ?? floorTime(0);
}
