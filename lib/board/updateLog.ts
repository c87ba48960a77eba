/**
 * Updates one after the other in one stretch of memory. A busy area keeps hundreds: as arrays of their own, each with memory of its own,
 * they cost the engine's collector more than all else that an update takes.
 */
export class UpdateLog {
  private bytes = new Uint8Array(1024);
  /** Where each ends. */
  private readonly ends: number[] = [];

  constructor(first: Uint8Array) {
    this.push(first);
  }

  get length(): number {
    return this.ends.length;
  }

  /** Keeps a copy. */
  push(update: Uint8Array): void {
    const begin = this.ends.at(-1) ?? 0;
    const end = begin + update.length;
    if (end > this.bytes.length) {
      const larger = new Uint8Array(Math.ceil(1.5 * end));
      larger.set(this.bytes.subarray(0, begin));
      this.bytes = larger;
    }
    this.bytes.set(update, begin);
    this.ends.push(end);
  }

  /** In their order, each as memory of its own: Yjs may keep views of what it reads. */
  *[Symbol.iterator](): Generator<Uint8Array> {
    let begin = 0;
    for (const end of this.ends) {
      yield this.bytes.slice(begin, end);
      begin = end;
    }
  }
}
