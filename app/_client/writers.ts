import type { Awareness } from 'y-protocols/awareness';
import * as Y from 'yjs';

/** Those who write in one rich text at this moment: each has a caret in it. */
export class Writers {
  constructor(
    readonly awareness: Awareness,
    private readonly text: Y.XmlFragment,
  ) {}

  readonly subscribe = (listener: () => void): (() => void) => {
    this.awareness.on('change', listener);
    return () => this.awareness.off('change', listener);
  };

  /** What the others' pages say of themselves, as the server stamped it. */
  others(): Record<string, unknown>[] {
    return [...this.awareness.getStates()]
      .filter(([key, { cursor }]) => key !== this.awareness.clientID && this.holds(cursor?.anchor))
      .map(([, { user }]) => user);
  }

  /** @param anchor a relative position as JSON, from another page: it may be anything */
  private holds(anchor: unknown): boolean {
    const { doc } = this.text;
    if (!doc || typeof anchor !== 'object' || anchor === null) return false;
    try {
      const at = Y.createAbsolutePositionFromRelativePosition(Y.createRelativePositionFromJSON(anchor), doc);
      let type: unknown = at?.type;
      while (type instanceof Y.AbstractType && type !== this.text) type = type._item?.parent;
      return type === this.text;
    } catch {
      return false;
    }
  }
}
