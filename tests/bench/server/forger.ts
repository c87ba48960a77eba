import { once } from 'node:events';
import { setPriority } from 'node:os';
import { type Forged, forgedFrames, send } from './forged.ts';
import type { Seat } from './light.ts';

export interface Victims {
  member: Seat;
  other: Seat;
  reader: Seat;
}
export interface Attack {
  count: number;
  /** Frames a second, at most. */
  rate: number;
}
/** For each kind how many were closed with the right code, and with which other ones. */
export type Answers = Record<string, { right: number; wrong: number[] }>;

/** Connections that it holds at once: no more than a link may have in one room. */
const AT_ONCE = 20;

/** Sends forged frames from a process of its own, which gives way to the others: a real one has a computer of its own. */
setPriority(10);
const [{ member, other, reader }] = (await once(process, 'message')) as [Victims];
const kinds = await forgedFrames(member, other, reader);
process.send!('ready');
let sent = 0;
process.on('message', async ({ count, rate }: Attack) => {
  const answers: Answers = {};
  const began = performance.now();
  const running = new Set<Promise<void>>();
  for (let index = 0; index < count; index++) {
    const due = began + (index / rate) * 1000 - performance.now();
    if (due > 0) await new Promise((resolve) => setTimeout(resolve, due));
    while (running.size >= AT_ONCE) await Promise.race(running);
    const sending = one(nextKind(), answers).finally(() => running.delete(sending));
    running.add(sending);
  }
  await Promise.all(running);
  process.send!(answers);
});

function nextKind(): Forged {
  const round = Math.floor(sent / kinds.length);
  const kind = kinds[sent++ % kinds.length]!;
  return kind.seldom !== undefined && round % kind.seldom !== 0 ? nextKind() : kind;
}

async function one(kind: Forged, answers: Answers): Promise<void> {
  const code = await send(kind);
  answers[kind.name] ??= { right: 0, wrong: [] };
  if (code === kind.code) answers[kind.name]!.right += 1;
  else answers[kind.name]!.wrong.push(code);
}
