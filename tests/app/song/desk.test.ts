import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AudioDesk } from '../../../app/_client/audioDesk.ts';
import type { Job, Said } from '../../../app/_client/audioWork.ts';
import { wholeSong } from '../../../lib/core/edit/edit.ts';
import { floorTime } from '../../../lib/core/units.ts';
import { planOf } from '../../kit/board.ts';

const recording = planOf().recording!;

/** A worker that answers when the test lets it. */
class HeldWorker {
  static hired: HeldWorker[] = [];
  static answering = true;
  jobs: Job[] = [];
  ended = false;
  onmessage: ((event: { data: Said }) => void) | null = null;
  onerror: ((event: { preventDefault(): void }) => void) | null = null;
  constructor() {
    HeldWorker.hired.push(this);
  }
  postMessage(job: Job) {
    this.jobs.push(job);
    if (HeldWorker.answering) queueMicrotask(() => this.answer(job));
  }
  answer({ number, name }: Job) {
    const value = name === 'load' ? recording : new Blob(['sound']);
    this.onmessage?.({ data: { number, result: { ok: true, value: value as never } } });
  }
  terminate() {
    this.ended = true;
  }
}
const names = () => HeldWorker.hired.map((worker) => worker.jobs.map(({ name }) => name));
const source = { recording: recording.id };
const hear = (desk: AudioDesk) => desk.excerpt(source, wholeSong, floorTime(0), floorTime(4));
const newDesk = () => new AudioDesk((id) => `/api/boards/b/audio/${id}?as=dj`);

beforeEach(() => {
  HeldWorker.hired = [];
  HeldWorker.answering = true;
  vi.stubGlobal('Worker', HeldWorker);
  vi.stubGlobal('fetch', async () => new Response('bytes', { headers: { 'content-length': '5' } }));
});
afterEach(() => vi.unstubAllGlobals());

describe('the audio desk', () => {
  it('decodes a recording once, whatever is then asked of it', async () => {
    const desk = newDesk();
    const [a, b] = await Promise.all([hear(desk), hear(desk)]);
    expect([a.ok, b.ok]).toEqual([true, true]);
    expect(names()).toEqual([['load', 'excerpt', 'excerpt']]);
  });

  it('fetches from the address of the role', async () => {
    const fetched = vi.fn(async (_: string) => new Response('bytes'));
    vi.stubGlobal('fetch', fetched);
    await newDesk().load(source);
    expect(fetched.mock.calls[0]![0]).toBe(`/api/boards/b/audio/${recording.id}?as=dj`);
  });

  it('stopped, ends the worker and everything that waits; what is asked afterwards begins anew', async () => {
    HeldWorker.answering = false;
    const desk = newDesk();
    const asked = [hear(desk), hear(desk)];
    await vi.waitFor(() => expect(names()).toEqual([['load']]));
    desk.stop();
    const results = await Promise.all(asked);
    expect(results.map((r) => (r.ok ? 'done' : r.problem.code))).toEqual(['stopped', 'stopped']);
    expect(HeldWorker.hired[0]!.ended).toBe(true);
    HeldWorker.answering = true;
    expect((await hear(desk)).ok).toBe(true);
    expect(names()).toEqual([['load'], ['load', 'excerpt']]);
  });

  it('a worker that breaks gives a sentence, not silence', async () => {
    HeldWorker.answering = false;
    const desk = newDesk();
    const asked = hear(desk);
    await vi.waitFor(() => expect(names()).toEqual([['load']]));
    HeldWorker.hired[0]!.onerror?.({ preventDefault: () => {} });
    const result = await asked;
    expect(result.ok ? '' : result.problem.code).toBe('broken');
    expect(desk.getStage()).toBeNull();
  });

  it('without a network says so, and asks nothing of the worker', async () => {
    vi.stubGlobal('fetch', async () => Promise.reject(new TypeError('no network')));
    const result = await hear(newDesk());
    expect(result.ok ? '' : result.problem.code).toBe('offline');
    expect(HeldWorker.hired).toEqual([]);
  });

  it('does one thing after the other, in the order asked', async () => {
    const desk = newDesk();
    await Promise.all([hear(desk), desk.load(new Blob(['other'])), hear(desk)]);
    // The stand-in knows every file as the same recording: it is held, and not decoded a third time.
    expect(names()).toEqual([['load', 'excerpt', 'load', 'excerpt']]);
  });
});
