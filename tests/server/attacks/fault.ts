export type Call = (this: unknown, ...words: unknown[]) => unknown;
type Names = Record<string, unknown>;

/** Thrown in place of whatever may be wrong with a disk, a library or ourselves. */
class Injected extends Error {
  constructor(where: string) {
    super(`injected: ${where}`);
  }
}

/** Lets one call of many throw: the n-th of all the functions that it is wrapped around, before or after it did its work. */
export class Fault {
  private calls = 0;
  private at = 0;
  private when: 'before' | 'after' = 'before';
  private readonly restoring: (() => void)[] = [];
  /** Only what the server does counts. */
  active = false;
  /** The call that has thrown; null while none has. */
  thrown: string | null = null;

  /** Every method of a class but these. */
  around(one: { name: string; prototype: object }, except: readonly string[]): void {
    const own = Object.getOwnPropertyDescriptors(one.prototype);
    for (const [name, { value }] of Object.entries(own))
      if (!except.includes(name) && typeof value === 'function')
        this.wrap(one.prototype as Names, name, `${one.name}.${name}`);
  }

  wrap(holder: Names, name: string, where = name): void {
    const original = holder[name] as Call;
    holder[name] = this.through(original, where);
    this.restoring.push(() => {
      holder[name] = original;
    });
  }

  through(original: Call, where: string): Call {
    const fault = this;
    return function (this: unknown, ...words: unknown[]) {
      const throws = fault.active && ++fault.calls === fault.at;
      if (throws) fault.thrown = `${where}, ${fault.when}`;
      if (throws && fault.when === 'before') {
        // What is asynchronous never throws at once.
        if (original.constructor.name === 'AsyncFunction') return Promise.reject(new Injected(where));
        throw new Injected(where);
      }
      const answer = original.apply(this, words);
      if (!throws) return answer;
      if (answer instanceof Promise)
        return answer.then(() => {
          throw new Injected(where);
        });
      throw new Injected(where);
    };
  }

  arm(at: number, when: 'before' | 'after'): void {
    this.calls = 0;
    this.at = at;
    this.when = when;
    this.thrown = null;
  }

  restore(): void {
    for (const restore of this.restoring.splice(0).reverse()) restore();
  }
}
