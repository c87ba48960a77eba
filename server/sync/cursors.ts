import type { Person } from '../../lib/store/nodes.ts';

/** Some fifteen times a second: a cursor that moves still seems to move. */
const TICK_MS = 66;

/** Sends on who is where, so many times a second and all in one frame: of each person the newest, since only that counts. */
export class Cursors {
  private readonly changed = new Map<number, { person: Person; charge(ms: number): void }>();
  private last = Number.NEGATIVE_INFINITY;
  private timer: NodeJS.Timeout | null = null;

  constructor(
    private readonly send: (people: Person[]) => void,
    private readonly now: () => number = () => performance.now(),
  ) {}

  /** At once after a pause. @param charge told the milliseconds that sending this one on has cost */
  show(person: Person, charge: (ms: number) => void = () => undefined): void {
    this.changed.set(person.client, { person, charge });
    if (this.timer) return;
    const wait = this.last + TICK_MS - this.now();
    if (wait <= 0) this.flush();
    else this.timer = setTimeout(() => this.flush(), wait);
  }

  stop(): void {
    if (this.timer) clearTimeout(this.timer);
    this.timer = null;
    this.changed.clear();
  }

  private flush(): void {
    this.timer = null;
    this.last = this.now();
    const shown = [...this.changed.values()];
    this.changed.clear();
    this.send(shown.map(({ person }) => person));
    const each = (this.now() - this.last) / shown.length;
    for (const { charge } of shown) charge(each);
  }
}
