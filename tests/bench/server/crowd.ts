import { Light, type Seat } from './light.ts';

/** How many connect at the same time. */
const AT_ONCE = 40;
/** How long the last edits may take to arrive. */
const ARRIVING_MS = 10_000;

/** What was edited in one go. */
export interface Run {
  edits: number;
  /** How often an edit was to be seen by somebody else. */
  expected: number;
  /** Milliseconds from sending an edit to each other person's seeing it. */
  latencies: number[];
}

/** People in areas, in one process: opened together, of whom some edit, with the time until each other one has seen it. */
export class Crowd {
  readonly people: Light[] = [];
  /** By their closing codes, those that were not let in or were sent away. */
  readonly refused = new Map<number, number>();
  /** The last clock of each client that somebody else has seen, and how many were. */
  readonly seen = new Map<number, number>();
  seenCount = 0;
  private readonly timers = new Set<NodeJS.Timeout>();
  private run: Run = { edits: 0, expected: 0, latencies: [] };
  private readonly sentAt = new Map<string, number>();

  static async open(seats: readonly Seat[]): Promise<Crowd> {
    const crowd = new Crowd();
    const waiting = [...seats];
    const openNext = async () => {
      for (let seat = waiting.shift(); seat; seat = waiting.shift()) {
        const opened = await Light.open(seat, {
          onSeen: (client, clock) => crowd.note(client, clock),
          onClosed: (code) => crowd.refused.set(code, (crowd.refused.get(code) ?? 0) + 1),
        });
        if (opened instanceof Light) crowd.people.push(opened);
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, openNext));
    return crowd;
  }

  /** Each of these edits so many times a second, at moments of their own, until they stop. */
  begin(people: readonly Light[], rate: number): void {
    const sizes = new Map<string, number>();
    for (const { seat } of this.people) sizes.set(roomOf(seat), (sizes.get(roomOf(seat)) ?? 0) + 1);
    const run: Run = { edits: 0, expected: 0, latencies: [] };
    this.run = run;
    this.sentAt.clear();
    const { timers } = this;
    for (const person of people) {
      const one = () => {
        // Before the sending itself, whose cost is so counted.
        const now = performance.now();
        const sent = person.edit();
        if (!sent) return;
        run.edits += 1;
        run.expected += sizes.get(roomOf(person.seat))! - 1;
        this.sentAt.set(`${sent.client} ${sent.clock}`, now);
      };
      const begin = setTimeout(
        () => {
          one();
          timers.add(setInterval(one, 1000 / rate));
        },
        Math.random() * (1000 / rate),
      );
      timers.add(begin);
    }
  }

  /** The same for some seconds, and until something else is done; resolves when the last edits have arrived. */
  async edit(
    people: readonly Light[],
    rate: number,
    seconds: number,
    beside: Promise<unknown> | null = null,
  ): Promise<Run> {
    this.begin(people, rate);
    const { run } = this;
    await wait(seconds * 1000);
    await beside;
    this.stop();
    const until = performance.now() + ARRIVING_MS;
    while (run.latencies.length < run.expected && performance.now() < until) await wait(20);
    return run;
  }

  /** Nobody edits any more. */
  stop(): void {
    for (const timer of this.timers) clearTimeout(timer);
    this.timers.clear();
  }

  /** The last clock of each client that was acknowledged, and how many edits were. */
  promised(): { clocks: Map<number, number>; count: number } {
    const clocks = new Map<number, number>();
    let count = 0;
    for (const { hand, edits, acknowledged } of this.people)
      for (const { frame, clock } of edits)
        if (frame <= acknowledged) {
          clocks.set(hand.client, clock);
          count += 1;
        }
    return { clocks, count };
  }

  async leave(): Promise<void> {
    await Promise.all(this.people.map((person) => person.leave()));
  }

  private note(client: number, clock: number): void {
    this.seen.set(client, Math.max(clock, this.seen.get(client) ?? 0));
    this.seenCount += 1;
    const sentAt = this.sentAt.get(`${client} ${clock}`);
    if (sentAt !== undefined) this.run.latencies.push(performance.now() - sentAt);
  }
}

const roomOf = ({ board, area }: Seat): string => `${board}/${area}`;

export const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
