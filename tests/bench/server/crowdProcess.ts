import { once } from 'node:events';
import { Crowd, type Run } from './crowd.ts';
import type { Seat } from './light.ts';

/** What it is told: first who comes and who of them (by place in the list) edits, then how often and how long. */
export interface Coming {
  seats: Seat[];
  editors: number[];
}
export interface Editing {
  rate: number;
  seconds: number;
}
/** What it says at the end; first, when all have come, how many did. */
export interface Heard extends Run {
  refused: [number, number][];
}

/** A crowd in a process of its own. */
const [{ seats, editors }] = (await once(process, 'message')) as [Coming];
const crowd = await Crowd.open(seats);
process.send!(crowd.people.length);
const wanted = new Set(editors.map((index) => seats[index]!));
const writing = crowd.people.filter(({ seat }) => wanted.has(seat));
process.on('message', async ({ rate, seconds }: Editing) => {
  const run = await crowd.edit(writing, rate, seconds);
  process.send!({ ...run, refused: [...crowd.refused] } satisfies Heard);
});
