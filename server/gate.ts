/** Requests of one browser that wait; a page asks for a handful. */
const MOST_WAITING = 200;

/** Lets so many requests of one browser through at a time, the others in order: each costs some milliseconds even where its answer is shared. */
export class Gate {
  private readonly inside = new Map<string, { count: number; waiting: (() => void)[] }>();

  constructor(private readonly atOnce: number) {}

  /** What is to be called when the request is answered; null, when too many wait already. */
  async enter(key: string): Promise<(() => void) | null> {
    const own = this.inside.get(key) ?? { count: 0, waiting: [] };
    this.inside.set(key, own);
    if (own.waiting.length >= MOST_WAITING) return null;
    if (own.count >= this.atOnce) await new Promise<void>((resolve) => own.waiting.push(resolve));
    else own.count += 1;
    return () => {
      const next = own.waiting.shift();
      if (next) next();
      else own.count -= 1;
      if (own.count === 0) this.inside.delete(key);
    };
  }
}
