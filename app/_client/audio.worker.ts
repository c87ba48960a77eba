import { AudioBench } from './audioBench.ts';
import type { Job, Said } from './audioWork.ts';

/** Long work off the page's own thread; jobs are done one after the other. Cancelled by ending the worker. */
declare const self: DedicatedWorkerGlobalScope;

// The page's policy forbids fetching the copy that is inlined in the encoder's package.
const mp3Encoder = async (): Promise<ArrayBuffer> => {
  const program = await fetch(new URL('wasm-media-encoders/wasm/mp3', import.meta.url));
  return program.arrayBuffer();
};

// Only for an M4A, which may never come.
const aac = async (): Promise<ArrayBuffer> => {
  const program = await fetch(new URL('../../lib/codec/aac/aac.wasm', import.meta.url));
  return program.arrayBuffer();
};

/** GB of memory that a browser tells of; phones' browsers end a page that takes too much. */
const { deviceMemory = 8 } = self.navigator as { deviceMemory?: number };
const touch = /Android|iPhone|iPad/.test(self.navigator.userAgent);
const PHONE_BYTES = 200 * 1024 * 1024;

const bench = new AudioBench({
  aac,
  mp3Encoder,
  ...(touch || deviceMemory <= 2 ? { decodedBytes: PHONE_BYTES } : {}),
});

const say = (said: Said) => self.postMessage(said);
let turn: Promise<unknown> = Promise.resolve();
self.onmessage = ({ data }: MessageEvent<Job>) => {
  const { number, name, ...given } = data;
  turn = turn.then(async () => {
    const result = await bench.do(name, given as never, reporter(number));
    say({ number, result });
  });
  // A bug is not swallowed: the page hears of it by the worker's error event.
  turn.catch((error: unknown) =>
    setTimeout(() => {
      throw error;
    }),
  );
};

/** Reports at most so often: a message a percent is more than anybody sees. Milliseconds. */
const EVERY = 100;

function reporter(number: number) {
  let last = 0;
  let words = '';
  return (stage: { words: string; share: number | null }) => {
    const now = performance.now();
    if (stage.words === words && now - last < EVERY) return;
    last = now;
    words = stage.words;
    say({ number, stage });
  };
}
