import { z } from '../../lib/core/zod.ts';
import { type BoardSummary, boardSummary } from '../../lib/protocol/api.ts';
import type { BoardTable } from '../../lib/store/store.ts';

/** `of`: the heads of all areas that it was made at, and the day. */
interface Known {
  of: string;
  summary: BoardSummary;
}
const stored = z.object({ program: z.string(), of: z.string(), summary: boardSummary });

/**
 * What was said of each board the last time: in memory, and with the board, for the process after this one. It holds as long as no
 * area has a later update, the day is the same, and so is the program.
 */
export class Summaries {
  private readonly known = new Map<string, Known>();
  private readonly added: Known[] = [];

  constructor(
    private readonly table: Pick<BoardTable, 'note' | 'summaries'>,
    private readonly program: string | null,
  ) {}

  get(id: string, of: string): BoardSummary | null {
    const known = this.known.get(id);
    return known?.of === of ? known.summary : null;
  }

  /** Fetches those of these that are not known here. */
  async look(wanted: readonly { id: string; of: string }[]): Promise<void> {
    if (this.program === null) return;
    const missing = wanted.filter(({ id, of }) => this.get(id, of) === null).map(({ id }) => id);
    for (const [id, text] of await this.table.summaries(missing)) {
      const kept = stored.safeParse(JSON.parse(text)).data;
      if (kept?.program === this.program) this.known.set(id, { of: kept.of, summary: kept.summary });
    }
  }

  /** What cannot be read may be mended without anything being written: that is looked at each time. */
  add(of: string, summary: BoardSummary): void {
    if (summary.apart !== null) return;
    this.known.set(summary.id, { of, summary });
    this.added.push({ of, summary });
  }

  /** Keeps what was added for the next process; lets go of boards that are no more. */
  async keep(there: ReadonlyMap<string, unknown>): Promise<void> {
    for (const id of this.known.keys()) if (!there.has(id)) this.known.delete(id);
    const { program } = this;
    const added = this.added.splice(0);
    if (program === null) return;
    const notes = added.map((one) => ({ id: one.summary.id, summary: JSON.stringify({ program, ...one }) }));
    // Only the next process is slower without them, as on a full disk.
    await this.table.note(notes).catch(() => undefined);
  }
}
