import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { keepDelay } from '../../../app/_practice/delay.ts';
import { type Loop, Player } from '../../../app/_practice/player.ts';
import { floorTime } from '../../../lib/core/units.ts';

/**
 * As much of a media element as the player uses; time stands still unless a test moves it. A file is known from when it is read: at
 * the latest when it plays (HTML Standard, 4.8.11.5 to 4.8.11.8: readyState, loadedmetadata, play).
 */
class StillElement {
  static last: StillElement;
  /** Times that the file will be said to be one that cannot be read. */
  static unread = 0;
  readonly HAVE_NOTHING = 0;
  readyState = 0;
  error: object | null = null;
  paused = true;
  currentTime = 0;
  playbackRate = 1;
  defaultPlaybackRate = 1;
  preservesPitch = false;
  onplay: (() => void) | null = null;
  onloadedmetadata: (() => void) | null = null;
  onpause: (() => void) | null = null;
  onended: (() => void) | null = null;
  ontimeupdate: (() => void) | null = null;
  constructor() {
    StillElement.last = this;
  }
  private held = '';
  get src() {
    return this.held;
  }
  set src(address: string) {
    this.held = address;
    this.load();
  }
  load() {
    this.readyState = 0;
    this.currentTime = 0;
    this.error = null;
    this.paused = true;
  }
  read() {
    if (this.readyState > 0) return;
    this.readyState = 1;
    this.onloadedmetadata?.();
  }
  async play() {
    this.paused = false;
    this.onplay?.();
    if (StillElement.unread > 0) {
      StillElement.unread -= 1;
      this.error = {};
      throw new DOMException('', 'NotSupportedError');
    }
    this.read();
  }
  pause() {
    this.paused = true;
    this.onpause?.();
  }
  to(seconds: number) {
    this.currentTime = seconds;
    this.ontimeupdate?.();
  }
}

const verse = (start = 10): Loop => ({
  ...{ name: 'verse', scope: 'section', start: floorTime(start) },
  ...{ from: floorTime(10), to: floorTime(20) },
});

const music = (lead = 0, tempo = 1) => ({ file: new Blob(['x']), lead, tempo });

beforeEach(() => {
  StillElement.unread = 0;
  vi.stubGlobal('Audio', StillElement);
  vi.stubGlobal('window', { clearInterval, setInterval });
  vi.stubGlobal('requestAnimationFrame', () => 1);
  vi.stubGlobal('cancelAnimationFrame', () => {});
  URL.createObjectURL = () => 'blob:x';
  URL.revokeObjectURL = () => {};
});
afterEach(() => vi.unstubAllGlobals());

describe('the player', () => {
  it('asked before there is music, wants it made and then starts where it was asked to', async () => {
    const player = new Player();
    const wanted = vi.fn();
    player.onWanted = wanted;
    player.seek(floorTime(30));
    await player.play();
    expect(wanted).toHaveBeenCalledOnce();
    expect(player.getState().playing).toBe(false);
    player.put('a', music());
    expect(player.getState()).toMatchObject({ playing: true, at: 30 });
    expect(StillElement.last.currentTime).toBe(30);
  });

  it('asked to have the music ready before anybody makes any, has it made once somebody does', () => {
    const player = new Player();
    player.prepare();
    const wanted = vi.fn();
    player.onWanted = wanted;
    expect(wanted).toHaveBeenCalledOnce();
    player.onWanted = null;
    player.onWanted = wanted;
    expect(wanted).toHaveBeenCalledOnce();
    expect(player.getState().playing).toBe(false);
  });

  it('does not start when it was stopped while the music was made', async () => {
    const player = new Player();
    await player.play();
    player.pause();
    player.put('a', music());
    expect(player.getState().playing).toBe(false);
  });

  it('tells floor time: less the count-in, and by the edit’s own speed', async () => {
    const player = new Player();
    player.put('a', music(2, 0.95));
    await player.play();
    StillElement.last.to(2 + 0.95 * 40);
    expect(player.getState().at).toBeCloseTo(40, 9);
    player.seek(floorTime(10));
    expect(StillElement.last.currentTime).toBeCloseTo(2 + 9.5, 9);
    expect(StillElement.last.playbackRate).toBeCloseTo(0.95, 9);
  });

  it('starts with the count-in when nothing else was asked for', async () => {
    const player = new Player();
    await player.play();
    player.put('a', music(2));
    expect(player.getState().at).toBe(-2);
  });

  it('tells what is heard, where this device’s sound is late, and never what lies before a start', async () => {
    keepDelay(0.2);
    const player = new Player();
    player.put('a', music());
    player.setSpeed(0.8);
    await player.play();
    StillElement.last.to(30);
    expect(player.getState().at).toBeCloseTo(30 - 0.2 * 0.8, 9);
    StillElement.last.to(0.1);
    expect(player.getState().at).toBe(0);
    player.setLoop(verse());
    StillElement.last.to(10.05);
    expect(player.getState().at).toBe(10);
    // The file goes round by its own clock, not by the ear's.
    StillElement.last.to(20.01);
    expect(StillElement.last.currentTime).toBe(10);
    keepDelay(0);
  });

  it('goes round in a loop', async () => {
    const player = new Player();
    player.put('a', music());
    player.setLoop(verse());
    expect(player.getState().at).toBe(10);
    await player.play();
    StillElement.last.to(20.01);
    expect(StillElement.last.currentTime).toBe(10);
  });

  it('goes round from its run-up on, and to the very end of the file', async () => {
    const player = new Player();
    player.put('a', music());
    player.setLoop(verse(6));
    expect(player.getState().at).toBe(6);
    await player.play();
    StillElement.last.to(20.01);
    expect(StillElement.last.currentTime).toBe(6);
    StillElement.last.currentTime = 19.9;
    StillElement.last.onended?.();
    expect(StillElement.last.currentTime).toBe(6);
    expect(player.getState().playing).toBe(true);
  });

  it('tells that a round has ended before the next one begins, which may be another', async () => {
    const player = new Player();
    player.put('a', music());
    player.setLoop(verse());
    await player.play();
    player.onRound = () => player.setLoop(verse(2));
    StillElement.last.to(20.01);
    expect(StillElement.last.currentTime).toBe(2);
  });

  it('waits in silence within the press, and is not taken for playing', async () => {
    const player = new Player();
    await player.play();
    expect(StillElement.last.src).toBe('blob:x');
    expect(player.getState().playing).toBe(false);
    StillElement.last.onended?.();
    expect(player.getState().playing).toBe(false);
    player.put('a', music());
    expect(player.getState().playing).toBe(true);
  });

  it('keeps the pitch, and the speed within 60 to 110 %', () => {
    const player = new Player();
    player.put('a', music());
    expect(StillElement.last.preservesPitch).toBe(true);
    player.setSpeed(0.2);
    expect(player.getState().speed).toBe(0.6);
    player.setSpeed(2);
    expect(StillElement.last.playbackRate).toBe(1.1);
  });

  it('the music of an older edit is taken away, the place stays', () => {
    const player = new Player();
    player.put('a', music());
    player.seek(floorTime(12));
    player.put(null, null);
    expect(player.getState()).toMatchObject({ ready: false, playing: false, at: 12 });
  });

  it('goes to a place only once the file is known, and says where it will be meanwhile', () => {
    const player = new Player();
    player.put('a', music(2));
    player.seek(floorTime(12));
    expect(StillElement.last.currentTime).toBe(0);
    expect(player.getState().at).toBe(12);
    StillElement.last.ontimeupdate?.();
    expect(player.now()).toBe(12);
    StillElement.last.read();
    expect(StillElement.last.currentTime).toBe(14);
  });

  it('reads a file again that the browser says it cannot read, and then goes to the place', async () => {
    const player = new Player();
    player.put('a', music());
    player.seek(floorTime(12));
    StillElement.unread = 2;
    await player.play();
    expect(player.getState()).toMatchObject({ playing: true, at: 12 });
    expect(StillElement.last.currentTime).toBe(12);
  });

  it('stops where a file cannot be read at all, or was stopped meanwhile', async () => {
    const player = new Player();
    player.put('a', music());
    StillElement.unread = 3;
    await player.play();
    expect(player.getState().playing).toBe(false);
    StillElement.unread = 1;
    const begun = player.play();
    player.pause();
    await begun;
    expect(player.getState().playing).toBe(false);
  });
});
