import type * as Y from 'yjs';
import { may } from '@/lib/access/roles.ts';
import { applyChanges, readArea, textOf } from '@/lib/board/area.ts';
import { checkChanges } from '@/lib/board/checkChanges.ts';
import { ageOf } from '@/lib/board/migrate.ts';
import { writeRichText } from '@/lib/board/richText.ts';
import type { AreaData, AreaShape, RichText } from '@/lib/core/areas/area.ts';
import { type AreaName, areas, type Board } from '@/lib/core/areas/board.ts';
import type { Change, PlanChange } from '@/lib/core/areas/change.ts';
import { emptyBoard } from '@/lib/core/areas/empty.ts';
import { type Role, role as roles } from '@/lib/core/areas/people.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { boardScore } from '@/lib/core/areas/score.ts';
import { OwnSteps, type StepLog } from '@/lib/core/areas/steps.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { bad, type Result } from '@/lib/core/result.ts';
import { closings } from '@/lib/protocol/close.ts';
import { AreaLink } from './areaLink.ts';
import { type Checked, checkSoon } from './checking.ts';
import { forgetCaches } from './forget.ts';
import { isWatched, Losses, type LostHere } from './losses.ts';
import { myName } from './myName.ts';
import { Refusals } from './refusals.ts';
import { Writers } from './writers.ts';

/** Who looks at the board in this page; from the server. */
export interface Me {
  board: string;
  role: Role;
  membership: string;
  name: string;
}

/** Somebody who is here now, and where they look. */
export interface Presence {
  key: number;
  name: string;
  role: Role;
  me: boolean;
  /** Id of the placed move, section, phrase (`phrase:3`) or page they have in hand; '' for nothing in particular. */
  at: string;
}

export interface Refusal {
  area: AreaName;
  sentence: string;
  /** What this page held when it was refused, as JSON to keep. */
  kept: string;
}

/** Everything a screen shows, derived anew after each change; the same object while nothing changes. */
export interface BoardState {
  me: Me;
  board: Board;
  score: FloorScore | null;
  /** Of this board, or for a moment of the one before; null until the checks have spoken for the first time. */
  checked: Checked | null;
  /** They have spoken of this very board. */
  isChecked: boolean;
  /** ISO date of today where this page is. */
  today: string;
  /** All readable areas have come from the server or from this device. */
  ready: boolean;
  /** saved: stored by the server. saving: on its way. offline: here only, until there is a network. */
  saving: 'saved' | 'saving' | 'offline';
  /** What is written here outlives the page on this device. */
  kept: boolean;
  people: Presence[];
  refusal: Refusal | null;
  /** Set when this page may not go on: the link is outdated, or the page must be loaded anew. */
  closed: string | null;
  /** Why the server is not there just now, when it said so; what is written is kept and sent later. */
  passing: string | null;
  canUndo: boolean;
  canRedo: boolean;
  /** Why the last undo or redo left something as it is; empty when it did not. */
  left: string;
  /** What does not stand because somebody else wrote at the same time. */
  lost: readonly LostHere[];
}

/** Carets are all of one ink, and told apart by the name at them; the protocol wants six digits. */
const CARET = '#26221c';
const isRole = (value: unknown): value is Role => roles.safeParse(value).success;

/** What stands against taking something back; loaded with the first change, before which there is nothing to take back. */
let rules: typeof import('@/lib/core/agreed/against.ts') | null = null;
async function loadRules(): Promise<void> {
  rules ??= await import('@/lib/core/agreed/against.ts');
}

/** What was done here, by board and membership: it can be undone on another page of the board, which opens it anew. */
const logs = new Map<string, StepLog>();

/** The one place that opens a board: documents, connections, derived state, changes, undo. Knows no React. */
export class BoardClient {
  private links = {} as Partial<Record<AreaName, AreaLink>>;
  private steps: OwnSteps;
  private left = '';
  private readonly losses: Losses;
  private listeners = new Set<() => void>();
  private state: BoardState;
  private queued = false;
  private later: ReturnType<typeof setTimeout> | null = null;
  private changing = false;
  private refusal: Refusal | null = null;
  private readonly refusals = new Refusals();
  private forgotten = false;
  private looking = '';
  /** The board is another than the one that the checks have seen, or are at. */
  private unchecked = false;
  private stopChecking: (() => void) | null = null;

  constructor(
    readonly me: Me,
    private readonly server: string,
  ) {
    this.steps = this.newSteps();
    this.losses = new Losses(`${me.board}/${me.membership}`);
    for (const name of Object.keys(areas) as AreaName[])
      if (may(me.role, name, 'read')) this.links[name] = this.open(name);
    const board = emptyBoard();
    for (const name of Object.keys(areas) as AreaName[]) if (!this.links[name]) board[name] = null as never;
    this.state = {
      me,
      board,
      score: null,
      checked: null,
      isChecked: false,
      today: localDate(),
      ready: false,
      saving: 'saving',
      kept: false,
      people: [],
      refusal: null,
      closed: null,
      passing: null,
      canUndo: false,
      canRedo: false,
      left: '',
      lost: [],
    };
    this.callMe(myName(me));
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };
  readonly getState = (): BoardState => this.state;

  /** A document of another version is read, not written; so is one of which nothing is kept any longer. */
  mayWrite(area: AreaName): boolean {
    const link = this.links[area];
    const isOwn = may(this.me.role, area, 'write') && !this.forgotten;
    return isOwn && link !== undefined && ageOf(link.doc, areas[area]) === 'same';
  }

  /** All of it in one step, or nothing and a sentence why. */
  change<N extends AreaName>(area: N, changes: readonly Change<(typeof areas)[N]>[]): Result<true> {
    this.left = '';
    loadRules().catch(() => undefined);
    return area === 'plan'
      ? this.steps.make(changes as unknown as readonly PlanChange[])
      : this.make(area, changes);
  }

  private make<N extends AreaName>(area: N, changes: readonly Change<(typeof areas)[N]>[]): Result<true> {
    const link = this.links[area];
    if (!link || !may(this.me.role, area, 'write'))
      return bad('no right', `Your link lets you read the ${area}, not change it.`);
    if (this.forgotten) return bad('gone', link.closed ?? closings.revoked.sentence);
    if (ageOf(link.doc, areas[area]) !== 'same')
      return bad('version', 'This copy is of another version: reload the page while you are online.');
    const data = link.reader.read() as AreaData<(typeof areas)[N]>;
    const checked = checkChanges(areas[area], data, changes);
    if (checked.ok) {
      this.changing = true;
      this.losses.changed(area, changes as unknown as readonly Change<AreaShape>[]);
      try {
        applyChanges(link.doc, areas[area], changes);
      } finally {
        this.changing = false;
      }
    }
    return checked;
  }

  /** Creates an entry that carries a rich text, with its first words. */
  write<N extends 'lessons' | 'remarks'>(
    area: N,
    changes: readonly Change<(typeof areas)[N]>[],
    id: string,
    text?: RichText,
  ): Result<true> {
    const done = this.change(area, changes);
    const fragment = done.ok && text ? this.text(area, id) : null;
    if (fragment && text) writeRichText(fragment, text);
    return done;
  }

  /**
   * The rich text of an entry, for the editor to bind to; null while it is not there, and in a document of another version: the
   * editor would remove from it what it does not know.
   */
  text(area: 'lessons' | 'remarks', id: string): Y.XmlFragment | null {
    const link = this.links[area];
    return link && ageOf(link.doc, areas[area]) === 'same' ? textOf(link.doc, area, id) : null;
  }

  /** Of this page's own changes to the plan. */
  undo(): void {
    this.turn('undo');
  }
  redo(): void {
    this.turn('redo');
  }
  private turn(way: 'undo' | 'redo'): void {
    if (!this.mayWrite('plan')) return;
    this.left = this.steps[way]();
    this.touch();
  }
  dismissLeft(): void {
    this.left = '';
    this.touch();
  }

  /** What stands is left standing. */
  dismissLost(lost: LostHere): void {
    this.losses.dismiss(lost);
    this.touch();
  }

  /** Under this name the others see this person: beside a row, and at the caret in a text. */
  callMe(name: string): void {
    const user = { name, color: CARET };
    for (const link of Object.values(this.links)) link.provider.awareness.setLocalStateField('user', user);
    this.lookAt(this.looking);
  }

  /** Who else writes in this text; null when it is none of this board's. */
  writersOf(text: Y.XmlFragment): Writers | null {
    const link = Object.values(this.links).find(({ doc }) => doc === text.doc);
    return link ? new Writers(link.provider.awareness, text) : null;
  }

  /** Tells the others where this person is. */
  lookAt(at: string): void {
    this.looking = at;
    this.links.plan?.provider.awareness.setLocalStateField('at', at);
  }

  dismissRefusal(): void {
    this.refusal = null;
    this.touch();
  }

  destroy(): void {
    this.stopChecking?.();
    if (this.later !== null) clearTimeout(this.later);
    for (const link of Object.values(this.links)) link.destroy();
    this.listeners.clear();
  }

  private open(name: AreaName): AreaLink {
    const link = new AreaLink(areas[name], {
      server: this.server,
      board: this.me.board,
      membership: this.me.membership,
      role: this.me.role,
      onChange: () => this.touchLater(),
      onUpdate: () => {
        // What a hand has moved is drawn at once where it lies; what is written draws itself, and others can wait for a turn.
        if (this.changing) this.touch();
        else this.touchLater();
      },
      onRefused: (reason, doc) => void this.refused(name, reason, doc),
      onForget: () => void this.forget(),
      // Only who may write can take the other.
      onLost:
        isWatched(name) && may(this.me.role, name, 'write')
          ? (lost) => this.losses.tell(name, lost)
          : undefined,
    });
    link.provider.on('sync', (synced) => {
      if (synced) this.refusals.exchanged(name);
    });
    if (name === 'plan') link.provider.awareness.on('change', () => this.touchLater());
    return link;
  }

  private newSteps(): OwnSteps {
    const { board, membership } = this.me;
    const key = `${board}/${membership}`;
    const log = logs.get(key) ?? { done: [], undone: [] };
    logs.set(key, log);
    return new OwnSteps(
      {
        read: () => this.links.plan!.reader.read() as unknown as Plan,
        make: (changes) => this.make('plan', changes),
        against: (changes) => rules?.against(this.read(), changes) ?? '',
      },
      log,
    );
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
      this.touch();
      return;
    }
    await link.forget();
    link.destroy();
    this.links[name] = this.open(name);
    if (name === 'plan') this.steps.forget();
    this.callMe(myName(this.me));
    this.touch();
  }

  /** What may have been written here is kept for the person first, then nothing of the board stays on this device. */
  private async forget(): Promise<void> {
    if (this.forgotten) return;
    this.forgotten = true;
    // The server may refuse before this device's copy has been read, and what was written is in the copy.
    await Promise.all(Object.values(this.links).map((link) => link.whenRead()));
    const written = (Object.keys(this.links) as AreaName[]).filter((name) =>
      may(this.me.role, name, 'write'),
    );
    const [first] = written;
    const closed = Object.values(this.links).find((link) => link.closed !== null)?.closed;
    if (first && closed) {
      const words = written.map((name) => [name, readArea(this.links[name]!.doc, areas[name])]);
      this.refusal = {
        area: first,
        sentence: closed,
        kept: JSON.stringify(Object.fromEntries(words), null, 1),
      };
    }
    const { board, role, membership } = this.me;
    await Promise.all(Object.values(this.links).map((link) => link.forget()));
    await forgetCaches(board, role, membership);
    this.touch();
  }

  /** Many changes in one turn are one new state. */
  private touch(): void {
    if (this.queued) return;
    this.queued = true;
    queueMicrotask(() => {
      this.queued = false;
      if (this.later !== null) clearTimeout(this.later);
      this.later = null;
      this.show(this.derive());
      this.checkLater();
    });
  }

  /** In a task of its own: a key that is typed is on the page before it. */
  private touchLater(): void {
    this.later ??= setTimeout(() => this.touch());
  }

  private show(state: BoardState): void {
    const names = Object.keys(state) as (keyof BoardState)[];
    if (names.every((name) => state[name] === this.state[name])) return;
    this.state = state;
    for (const listener of this.listeners) listener();
  }

  /** A change is shown first; what the checks say of it follows. What changes while they are at work is for the next time. */
  private checkLater(): void {
    if (!this.unchecked || this.stopChecking) return;
    this.unchecked = false;
    const { board, today } = this.state;
    this.stopChecking = checkSoon(board, today, (checked) => {
      this.stopChecking = null;
      if (checked) {
        this.show({ ...this.state, checked, isChecked: !this.unchecked });
        this.checkLater();
      } else this.unchecked = true;
    });
  }

  private derive(): BoardState {
    const links = Object.values(this.links);
    const closed = links.find((link) => link.closed !== null)?.closed ?? null;
    const isNewer = links.some((link) => ageOf(link.doc, link.shape) === 'newer');
    const today = localDate();
    const ready =
      this.state.ready ||
      (links.every((link) => link.provider.synced || link.loaded) && links.some((link) => hasBeenRead(link)));
    // Nobody sees it before it is all there: until then it is not read.
    const board = ready ? this.read() : this.state.board;
    if (ready && (board !== this.state.board || today !== this.state.today)) this.unchecked = true;
    const people = this.present();
    return {
      me: this.me,
      board,
      score: boardScore(board.plan),
      checked: this.state.checked,
      isChecked: !this.unchecked && this.stopChecking === null && this.state.checked !== null,
      today,
      ready,
      saving: !links.every((link) => link.connected)
        ? 'offline'
        : links.every((link) => link.saved)
          ? 'saved'
          : 'saving',
      kept: links.every((link) => link.loaded),
      people: JSON.stringify(people) === JSON.stringify(this.state.people) ? this.state.people : people,
      refusal: this.refusal,
      closed: closed ?? (isNewer ? closings.reload.sentence : null),
      passing: links.find((link) => link.passing !== null)?.passing ?? null,
      canUndo: this.steps.canUndo,
      canRedo: this.steps.canRedo,
      left: this.left,
      lost: ready ? this.losses.now(board) : this.state.lost,
    };
  }

  /** The same object as before where nothing has changed. */
  private read(): Board {
    const before = this.state.board;
    const links = Object.entries(this.links) as [AreaName, AreaLink][];
    const board = {
      ...before,
      ...Object.fromEntries(links.map(([name, { reader }]) => [name, reader.read()])),
    };
    return links.some(([name]) => board[name] !== before[name]) ? board : before;
  }

  private present(): Presence[] {
    const awareness = this.links.plan?.provider.awareness;
    if (!awareness) return [];
    return [...awareness.getStates()]
      .flatMap(([key, state]) => {
        const me = key === awareness.clientID;
        // The server writes who somebody is into what they tell of themselves; of oneself it is known.
        const { name, role } = me ? { name: state.user?.name, role: this.me.role } : (state.user ?? {});
        if (typeof name !== 'string' || !isRole(role)) return [];
        return [{ key, name, role, me, at: typeof state.at === 'string' ? state.at : '' }];
      })
      .sort((a, b) => a.key - b.key);
  }
}

/** From the server just now, or on this device from before; then an area that is empty here is empty. */
const hasBeenRead = (link: AreaLink): boolean =>
  link.shape.name === 'plan' && (link.provider.synced || link.doc.store.clients.size > 0);

/** The day where this page is, as `2027-06-12`. */
function localDate(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()]
    .map((n) => String(n).padStart(2, '0'))
    .join('-');
}
