import { Light, type Seat } from './light.ts';

/** How many connect at the same time. */
const AT_ONCE = 40;

/** People in areas, in one process: opened together, of whom some edit, with the time until each other one has seen it. */
export class Crowd {
  readonly people: Light[] = [];
  /** By their closing codes, those that were not let in or were sent away. */
  readonly refused = new Map<number, number>();
  /** Milliseconds from sending an edit to each other person's seeing it. */
  latencies: number[] = [];
  edits = 0;
  /** The last clock of each client that somebody else has seen, and how many were. */
  readonly seen = new Map<number, number>();
  seenCount = 0;
  private readonly timers = new Set<NodeJS.Timeout>();
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

  /** Each of these edits so many times a second, at moments of their own; resolves when the last edits had time to arrive. */
  async edit(people: readonly Light[], rate: number, seconds: number): Promise<void> {
    const { timers } = this;
    for (const person of people) {
      const begin = setTimeout(
        () => {
          const one = () => {
            // Before the sending itself, whose cost is so counted.
            const now = performance.now();
            const sent = person.edit();
            if (!sent) return;
            this.edits += 1;
            this.sentAt.set(`${sent.client} ${sent.clock}`, now);
          };
          one();
          timers.add(setInterval(one, 1000 / rate));
        },
        Math.random() * (1000 / rate),
      );
      timers.add(begin);
    }
    await wait(seconds * 1000);
    this.stop();
    await wait(1000);
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
    if (sentAt !== undefined) this.latencies.push(performance.now() - sentAt);
  }
}

export const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
