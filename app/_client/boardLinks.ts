import type * as Y from 'yjs';
import { applyChanges, readArea, textOf } from '@/lib/board/area.ts';
import { ageOf } from '@/lib/board/migrate.ts';
import type { AreaShape } from '@/lib/core/areas/area.ts';
import { type AreaName, areas, type Board } from '@/lib/core/areas/board.ts';
import type { Change } from '@/lib/core/areas/change.ts';
import { may } from '@/lib/core/areas/rights.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import { closings } from '@/lib/protocol/close.ts';
import { AreaLink } from './areaLink.ts';
import type { Me, Refusal } from './boardState.ts';
import { forgetCaches } from './forget.ts';
import type { ChangeTo } from './gate.ts';
import { isWatched, type Losses } from './losses.ts';
import { forgetSeen } from './ownSince.ts';
import { Refusals } from './refusals.ts';
import { waitingPlace } from './waitingChanges.ts';

export interface LinksTold {
  /** Something of a connection or of what others wrote has changed; it can wait for a turn. */
  onChange(): void;
  /** A change of this page has been written: it is drawn at once. */
  onOwn(): void;
  /** The area was opened anew after a refusal. */
  onAnew(area: AreaName): void;
  /** Who is here has changed. */
  onPresence(): void;
  /** What this page may do has changed, and nothing would be lost by opening it anew. */
  onRight(): void;
}

const names = Object.keys(areas) as AreaName[];

/** The areas of one board as this page may read them: documents, connections, copies on this device, and what is refused. */
export class BoardLinks {
  private readonly links: Partial<Record<AreaName, AreaLink>> = {};
  private readonly refusals = new Refusals();
  private forgotten = false;
  private writing = false;
  refusal: Refusal | null = null;

  constructor(
    private readonly me: Me,
    private readonly server: string,
    private readonly losses: Losses,
    private readonly told: LinksTold,
  ) {
    for (const name of names) if (may(me.role, name, 'read')) this.links[name] = this.open(name);
  }

  all(): AreaLink[] {
    return Object.values(this.links);
  }

  of(area: AreaName): AreaLink | undefined {
    return this.links[area];
  }

  /** The same object as before where nothing has changed; areas that may not be read stay as they are there. */
  read(before: Board): Board {
    const board: Board = { ...before };
    for (const [name, { reader }] of this.entries()) board[name] = reader.read() as never;
    return this.entries().some(([name]) => board[name] !== before[name]) ? board : before;
  }

  /**
   * A document of another version is read, not written; so is one of which nothing is kept any longer, or that is damaged, and
   * all of them by a link that was stopped.
   */
  mayWrite(area: AreaName): boolean {
    const link = this.links[area];
    const isOwn = may(this.me.role, area, 'write') && !this.me.frozen && !this.forgotten;
    return isOwn && link !== undefined && !link.apart && ageOf(link.doc, areas[area]) === 'same';
  }

  /** Writes changes that may be made; problems `gone` and `version` where this page's document can take none. */
  write<N extends AreaName>(area: N, changes: readonly ChangeTo<N>[]): Result<true> {
    const link = this.links[area];
    if (!link || this.forgotten) return bad('gone', link?.closed ?? closings.revoked.sentence);
    if (ageOf(link.doc, areas[area]) !== 'same')
      return bad('version', 'This copy is of another version: reload the page while you are online.');
    this.losses.changed(area, changes as unknown as readonly Change<AreaShape>[]);
    this.writing = true;
    try {
      applyChanges(link.doc, areas[area], changes);
    } finally {
      this.writing = false;
    }
    return good(true);
  }

  /**
   * The rich text of an entry, for the editor to bind to; null while it is not there, and in a document of another version: the
   * editor would remove from it what it does not know.
   */
  text(area: 'lessons' | 'remarks', id: string): Y.XmlFragment | null {
    const link = this.links[area];
    return link && ageOf(link.doc, areas[area]) === 'same' ? textOf(link.doc, area, id) : null;
  }

  destroy(): void {
    for (const link of this.all()) link.destroy();
  }

  private entries(): [AreaName, AreaLink][] {
    return Object.entries(this.links) as [AreaName, AreaLink][];
  }

  private open(name: AreaName): AreaLink {
    const link = new AreaLink(areas[name], {
      server: this.server,
      board: this.me.board,
      membership: this.me.membership,
      role: this.me.role,
      onChange: () => this.told.onChange(),
      onUpdate: () => {
        // What a hand has moved is drawn at once where it lies; what is written draws itself, and others can wait for a turn.
        if (this.writing) this.told.onOwn();
        else this.told.onChange();
      },
      onRefused: (reason, doc) => void this.refused(name, reason, doc),
      onForget: () => void this.forget(),
      onRight: () => {
        if (this.all().every((one) => one.isKept)) this.told.onRight();
      },
      // Only who may write can take the other.
      onLost:
        isWatched(name) && may(this.me.role, name, 'write')
          ? (lost) => this.losses.tell(name, lost)
          : undefined,
    });
    link.provider.on('sync', (synced) => {
      if (synced) this.refusals.exchanged(name);
    });
    if (name === 'plan') link.provider.awareness.on('change', () => this.told.onPresence());
    return link;
  }

  /** The words are kept for the person first, then the copy here is dropped and the area opened anew. */
  private async refused(name: AreaName, reason: string, doc: Y.Doc): Promise<void> {
    this.refusal = {
      area: name,
      sentence: reason,
      kept: JSON.stringify(readArea(doc, areas[name]), null, 1),
    };
    const link = this.links[name];
    if (!link) return;
    if (!this.refusals.mayOpenAnew(name)) {
      link.closed = reason;
      this.told.onChange();
      return;
    }
    await link.forget();
    link.destroy();
    this.links[name] = this.open(name);
    this.told.onAnew(name);
  }

  /** What may have been written here is kept for the person first, then nothing of the board stays on this device. */
  private async forget(): Promise<void> {
    if (this.forgotten) return;
    this.forgotten = true;
    // The server may refuse before this device's copy has been read, and what was written is in the copy.
    await Promise.all(this.all().map((link) => link.whenRead()));
    const written = this.entries().filter(([name]) => may(this.me.role, name, 'write'));
    const closed = this.all().find((link) => link.closed !== null)?.closed;
    if (written[0] && closed) {
      const words = written.map(([name, { doc }]) => [name, readArea(doc, areas[name])]);
      this.refusal = {
        area: written[0][0],
        sentence: closed,
        kept: JSON.stringify(Object.fromEntries(words), null, 1),
      };
    }
    const { board, role, membership } = this.me;
    await Promise.all(this.all().map((link) => link.forget()));
    waitingPlace(board, membership).write([]);
    forgetSeen(this.me);
    await forgetCaches(board, role, membership);
    this.told.onChange();
  }
}
