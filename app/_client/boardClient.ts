import type * as Y from 'yjs';
import { ageOf } from '@/lib/board/migrate.ts';
import { writeRichText } from '@/lib/board/richText.ts';
import { tickTask } from '@/lib/board/tasks.ts';
import type { RichText } from '@/lib/core/areas/area.ts';
import { type AreaName, areas } from '@/lib/core/areas/board.ts';
import { emptyBoard } from '@/lib/core/areas/empty.ts';
import { boardScore } from '@/lib/core/areas/score.ts';
import type { StepLog } from '@/lib/core/areas/steps.ts';
import type { Result } from '@/lib/core/result.ts';
import { closings } from '@/lib/protocol/close.ts';
import { dayIn } from '@/lib/zone/dayIn.ts';
import { whenIdle } from '../_ui/whenIdle.ts';
import type { AreaLink } from './areaLink.ts';
import { BoardLinks } from './boardLinks.ts';
import type { BoardState, Me } from './boardState.ts';
import { Changes } from './changes.ts';
import { Checks } from './checks.ts';
import { whenDayTurns } from './dayTurns.ts';
import type { ChangeTo, How } from './gate.ts';
import { Losses, type LostHere } from './losses.ts';
import { myName } from './myName.ts';
import { newId } from './newId.ts';
import { noteOwn } from './ownSince.ts';
import { loadPolicy, policyHere } from './policy.ts';
import { People } from './presence.ts';
import { waitingPlace } from './waitingChanges.ts';
import { Writers } from './writers.ts';

/** What was done here, by board and membership: it can be undone on another page of the board, which opens it anew. */
const logs = new Map<string, StepLog>();

function logOf({ board, membership }: Me): StepLog {
  const key = `${board}/${membership}`;
  const log = logs.get(key) ?? { done: [], undone: [] };
  logs.set(key, log);
  return log;
}

/** A board as one page has it open: its parts put together, and one state that screens subscribe to. Knows no React. */
export class BoardClient {
  private readonly losses: Losses;
  private readonly links: BoardLinks;
  private readonly people: People;
  private readonly checks = new Checks(() => this.show(this.derive()));
  private readonly changes: Changes;
  private readonly listeners = new Set<() => void>();
  private state: BoardState;
  private queued = false;
  private later: ReturnType<typeof setTimeout> | null = null;
  private readonly stopDays = whenDayTurns(
    () => dayIn(this.state?.board.show?.zone),
    () => this.touch(),
  );

  constructor(
    readonly me: Me,
    server: string,
    /** The page is to be asked for anew: what it may do has changed. */
    onRight: () => void,
  ) {
    this.losses = new Losses(`${me.board}/${me.membership}`);
    this.links = new BoardLinks(me, server, this.losses, {
      onChange: () => this.touchLater(),
      onOwn: () => this.touch(),
      onPresence: () => this.touchLater(),
      onRight,
      onAnew: (area) => {
        if (area === 'plan') this.changes.steps.forget();
        this.people.callMe(myName(me));
        this.touch();
      },
    });
    this.people = new People(me, this.links);
    this.changes = new Changes(
      {
        role: me.role,
        read: () => this.links.read(this.state.board),
        mayWrite: (area) => this.links.mayWrite(area),
        write: (area, changes) => {
          const written = this.links.write(area, changes);
          if (written.ok) noteOwn(me, area, changes);
          return written;
        },
      },
      { here: policyHere, load: loadPolicy },
      newId,
      logOf(me),
      () => this.touch(),
      waitingPlace(me.board, me.membership),
    );
    const board = emptyBoard();
    for (const name of Object.keys(areas) as AreaName[])
      if (!this.links.of(name)) board[name] = null as never;
    this.state = {
      me,
      board,
      score: null,
      checked: null,
      isChecked: false,
      today: dayIn(null),
      ready: false,
      saving: 'saving',
      kept: false,
      people: [],
      refusal: null,
      closed: null,
      apart: '',
      passing: null,
      question: null,
      canUndo: false,
      canRedo: false,
      left: '',
      lost: [],
    };
    this.people.callMe(myName(me));
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };
  readonly getState = (): BoardState => this.state;

  mayWrite(area: AreaName): boolean {
    return this.links.mayWrite(area);
  }

  /** See `Changes`: all of it in one step, or nothing; where something agreed would be undone, the person is asked first. */
  change<N extends AreaName>(area: N, changes: readonly ChangeTo<N>[], how: How = {}): Result<true> {
    return this.changes.change(area, changes, how);
  }
  /** The answer to the question that the state holds. */
  agree(): void {
    this.changes.gate.agree();
  }
  decline(): void {
    this.changes.gate.decline();
  }

  /** Creates an entry that carries a rich text, with its first words. */
  write<N extends 'lessons' | 'remarks'>(
    area: N,
    changes: readonly ChangeTo<N>[],
    id: string,
    { text, done }: { text?: RichText; done?(): void } = {},
  ): Result<true> {
    return this.change(area, changes, {
      done: () => {
        const fragment = text ? this.text(area, id) : null;
        if (fragment && text) writeRichText(fragment, text);
        done?.();
      },
    });
  }
  text(area: 'lessons' | 'remarks', id: string): Y.XmlFragment | null {
    return this.links.text(area, id);
  }
  /** Ticks a line of homework on a lesson's page, or takes the tick away; false where it is not there, or may not be. */
  tick(lesson: string, place: number, done: boolean): boolean {
    const text = this.mayWrite('lessons') ? this.text('lessons', lesson) : null;
    return text !== null && tickTask(text, place, done);
  }
  /** Who else writes in this text; null when it is none of this board's. */
  writersOf(text: Y.XmlFragment): Writers | null {
    const link = this.links.all().find(({ doc }) => doc === text.doc);
    return link ? new Writers(link.provider.awareness, text) : null;
  }

  /** Of this page's own changes to the plan. */
  undo(): void {
    this.changes.turn('undo');
  }
  redo(): void {
    this.changes.turn('redo');
  }
  /** One listener hears of each gesture of this page on the plan, null of what ends the last one. */
  onGesture(listener: NonNullable<Changes['onGesture']>): () => void {
    this.changes.onGesture = listener;
    return () => {
      this.changes.onGesture = null;
    };
  }
  dismissLeft(): void {
    this.changes.left = '';
    this.touch();
  }

  /** What stands is left standing. */
  dismissLost(lost: LostHere): void {
    this.losses.dismiss(lost);
    this.touch();
  }

  callMe(name: string): void {
    this.people.callMe(name);
  }
  lookAt(at: string): void {
    this.people.lookAt(at);
  }

  dismissRefusal(): void {
    this.links.refusal = null;
    this.touch();
  }

  destroy(): void {
    this.checks.end();
    this.stopDays();
    if (this.later !== null) clearTimeout(this.later);
    this.links.destroy();
    this.listeners.clear();
  }

  /** From here on changes can be judged: first those that a page was left with. */
  private async resume(): Promise<void> {
    try {
      await loadPolicy();
      this.changes.gate.resume();
    } catch {
      // There is no network: the first change asks for it again.
    }
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
    });
  }

  /** In a task of its own: a key that is typed is on the page before it. */
  private touchLater(): void {
    this.later ??= setTimeout(() => this.touch());
  }

  private show(state: BoardState): void {
    const names = Object.keys(state) as (keyof BoardState)[];
    if (!names.every((name) => state[name] === this.state[name])) {
      this.state = state;
      for (const listener of this.listeners) listener();
    }
    this.checks.begin();
  }

  private derive(): BoardState {
    const links = this.links.all();
    const whole = links.filter((link) => !link.apart);
    // Without the plan there is no board; what else is set apart stops nothing.
    const ended = links.find(
      ({ closed, apart, shape }) => closed !== null && (!apart || shape.name === 'plan'),
    );
    const closed = ended?.closed ?? null;
    const isNewer = links.some((link) => ageOf(link.doc, link.shape) === 'newer');
    const ready =
      this.state.ready ||
      (whole.every((link) => link.provider.synced || link.loaded) && links.some(hasBeenRead));
    // Nobody sees it before it is all there: until then it is not read.
    const board = ready ? this.links.read(this.state.board) : this.state.board;
    const today = dayIn(board.show?.zone);
    if (ready) this.checks.see(board, today);
    // After what is first seen; soon, since the network may go and changes are made all the same.
    if (ready && !this.state.ready) whenIdle(() => void this.resume());
    return {
      me: this.me,
      board,
      score: boardScore(board.plan),
      checked: this.checks.said,
      isChecked: this.checks.isChecked,
      today,
      ready,
      saving: !whole.every((link) => link.connected)
        ? 'offline'
        : whole.every((link) => link.saved)
          ? 'saved'
          : 'saving',
      kept: links.every((link) => link.loaded),
      people: this.people.here(),
      refusal: this.links.refusal,
      apart: links
        .filter(({ apart }) => apart)
        .map(({ shape }) => shape.name)
        .join(' '),
      closed: closed ?? (isNewer ? closings.reload.sentence : null),
      passing: links.find((link) => link.passing !== null)?.passing ?? null,
      question: this.changes.gate.question,
      canUndo: this.changes.steps.canUndo,
      canRedo: this.changes.steps.canRedo,
      left: this.changes.left,
      lost: ready ? this.losses.now(board) : this.state.lost,
    };
  }
}

/** From the server just now, or on this device from before; then an area that is empty here is empty. */
const hasBeenRead = (link: AreaLink): boolean =>
  link.shape.name === 'plan' && (link.provider.synced || link.doc.store.clients.size > 0);
