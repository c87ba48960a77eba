import * as Y from 'yjs';
import { stateOf } from '../../lib/board/compare.ts';
import { AreaGuard } from '../../lib/board/guard.ts';
import { readUpdate } from '../../lib/board/possible.ts';
import type { AreaData, AreaShape } from '../../lib/core/areas/area.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import type { Closing } from '../../lib/protocol/close.ts';
import { type Nodes, noOthers, type Person, type Stored } from '../../lib/store/nodes.ts';
import { type Claim, ClaimTaken, type Store, type StoredArea } from '../../lib/store/store.ts';
import { Answers } from './answers.ts';
import { type Audits, rebuilt, sampled } from './audit.ts';
import { Cursors } from './cursors.ts';
import { awarenessFrame, updateFrame } from './frames.ts';
import { type Judging, judging } from './judging.ts';
import { Limits, type Sender } from './limits.ts';
import { Owners } from './owners.ts';
import { Presence } from './presence.ts';

/** An end of the room: a connection, as the room sees it. */
export interface Member {
  /** @param passing whether the next of its kind replaces it, so that a slow reader may go without */
  send(frame: Uint8Array, passing?: boolean): void;
  close(closing: Closing): void;
}

/** An update that may be: whether it changes anything, whose ids it uses first, how many structs it has. */
interface Judged {
  changed: boolean;
  claims: Claim[];
  structs: number;
}

/** Why a room ends before its time: something could not be stored, or it does not hold what is stored. */
export type Failure = 'storing' | 'mismatch';

/** Updates beside the snapshot from which on a closing room writes a new one. */
const LOOSE = 50;

/**
 * One area of one board while somebody has it open. What holds:
 * 1. An update is checked, judged by what was agreed, applied and given to the store in one step without an await, so all have
 *    one order.
 * 2. It is acknowledged and sent on only after its commit. Whoever asks for the state is told after the commits that it
 *    holds. So nobody ever sees what a crash could take back.
 * 3. It is not sent back to its sender.
 * 4. When storing fails, the document is ahead of what is kept: the room ends, everybody comes back to a new one.
 * 5. Other nodes may write the same area. Everything stored up to `head` is in the document; where the store gives a later
 *    number than the next one, what lies between is read, applied and sent on.
 */
export class Room {
  readonly presence: Presence;
  readonly answers = new Answers();
  private readonly cursors = new Cursors((people) => {
    this.tell(awarenessFrame(people), null, true);
    void this.nodes.tell({ kind: 'here', board: this.board, area: this.area, people });
  });
  private readonly guard: AreaGuard;
  private readonly owners: Owners;
  private readonly members = new Set<Member>();
  private lastCommit: Promise<void> = Promise.resolve();
  private head: number;
  /** Numbers after `head` that are in the document already, while what lies between is being read. */
  private readonly ahead = new Set<number>();
  private reading: Promise<void> | null = null;
  private readAgain = false;
  private loose: number;
  /** It is being held against what is stored. */
  private auditing: Promise<void> | null = null;
  /** Updates since that was begun. */
  private unaudited = 0;
  /** Updates beside the snapshot from which on it writes a new one while it is in use. */
  readonly manyLoose: number;
  private readonly limits: Limits;
  private state: 'open' | 'failed' | 'closed' = 'open';

  constructor(
    private readonly store: Store,
    readonly board: string,
    readonly area: AreaName,
    stored: StoredArea,
    opened: Y.Doc,
    private readonly onFailure: (room: Room, reason: string, why: Failure) => void,
    private readonly nodes: Nodes = noOthers,
    private readonly judge: Judging = judging(area, () => null),
    private readonly audits: Audits = sampled,
    roots = new Map<string, string>(),
  ) {
    this.guard = new AreaGuard(areas[area], opened);
    this.owners = new Owners(stored.claims);
    this.presence = new Presence(this.owners);
    this.head = stored.head;
    this.loose = stored.loose;
    this.manyLoose = Math.ceil(audits.long * (1 + spreadOf(`${board}/${area}`) / 2));
    this.limits = new Limits(this.owners, roots);
  }

  get doc(): Y.Doc {
    return this.guard.doc;
  }

  /** What its document holds, durable or not yet. */
  read(): AreaData<AreaShape> {
    return this.guard.read();
  }

  /** Number of the last stored update that it knows of. */
  get at(): number {
    return this.head;
  }

  get isOpen(): boolean {
    return this.state === 'open';
  }

  get isEmpty(): boolean {
    return this.members.size === 0;
  }

  get size(): number {
    return this.members.size;
  }

  /** Resolves when all that the document holds now is durable. */
  get settled(): Promise<void> {
    return this.lastCommit;
  }

  join(member: Member): void {
    this.members.add(member);
  }

  leave(member: Member): void {
    this.members.delete(member);
  }

  /** To everybody here, except one. */
  tell(frame: Uint8Array, except: Member | null = null, passing = false): void {
    for (const member of this.members) if (member !== except) member.send(frame, passing);
  }

  /**
   * The promise resolves when the update is durable and was sent on. What is refused has touched nothing, whatever threw on the way:
   * up to the guard's yes nothing is noted anywhere, and from there on whatever goes wrong ends the room.
   */
  write(update: Uint8Array, writer: Sender, from: Member | null): Result<Promise<void>> {
    if (this.state !== 'open') return bad('failed', 'This room has ended.');
    let judged: Result<Judged>;
    try {
      judged = this.judged(update, writer);
    } catch (error) {
      this.fail(`a change could not be judged: ${String(error)}`);
      return bad('failed', 'This room has ended.');
    }
    if (!judged.ok) return judged;
    if (!judged.value.changed) return good(this.settled);
    this.lastCommit = this.stored(update, judged.value, writer.membership, from);
    this.lastCommit.catch(() => undefined);
    return good(this.lastCommit);
  }

  /** Without a wait in it. Throws where the document is of no use any more. */
  private judged(update: Uint8Array, writer: Sender): Result<Judged> {
    const tooLarge = Limits.tooLarge(update);
    if (tooLarge) return { ok: false, problem: tooLarge };
    const read = readUpdate(update);
    if (read === null) return bad('malformed', 'This change cannot be read.');
    const claims = this.owners.claims(this.doc, read.structs, writer.membership);
    if (!claims.ok) return claims;
    const full = this.limits.problem(this.doc, update, read, writer);
    if (full) return { ok: false, problem: full };
    const checked = this.guard.check(update, writer, read, (tried) => this.judge(tried, writer.role));
    if (!checked.ok) return checked;
    return good({ changed: checked.value.changed, claims: claims.value, structs: read.structs.length });
  }

  private async stored(
    update: Uint8Array,
    { claims, structs }: Judged,
    membership: string,
    from: Member | null,
  ): Promise<void> {
    try {
      this.owners.add(claims);
      this.limits.add(update.length, structs);
      const writing = { membership, at: new Date().toISOString() };
      const number = await this.store.areas.append(this.board, this.area, update, claims, writing);
      this.loose += 1;
      this.advance(number);
      // Other nodes first: theirs have the longer way.
      await this.nodes.tell({ kind: 'stored', board: this.board, area: this.area, number, update, claims });
      this.tell(updateFrame(update), from);
      this.lookAfter();
    } catch (error) {
      // Known only to the store, because it was claimed at another node at the same time.
      if (error instanceof ClaimTaken) from?.close('invalid');
      this.fail(String(error));
      throw error;
    }
  }

  /**
   * Shows everybody, here and at other nodes, one who is connected here.
   * @param charge told the milliseconds that it has cost
   */
  show(person: Person, charge?: (ms: number) => void): void {
    this.cursors.show(person, charge);
  }

  /** People connected to other nodes. */
  hear(people: readonly Person[]): void {
    const news = this.presence.hear(people);
    if (news.length > 0) this.tell(awarenessFrame(news), null, true);
  }

  /** Asks other nodes who is connected there, and tells them who is here. */
  meet(): void {
    void this.nodes.tell({ kind: 'who is here', board: this.board, area: this.area });
    this.tellWhoIsHere();
  }

  /** Tells other nodes who is connected here. */
  tellWhoIsHere(): void {
    const people = this.presence.own();
    if (people.length > 0) void this.nodes.tell({ kind: 'here', board: this.board, area: this.area, people });
  }

  /** Another node has stored this. What comes next and is told whole need not be read. */
  async hearStored({ number, update, claims }: Stored): Promise<void> {
    if (this.state !== 'open' || number <= this.head) return;
    if (update === null || number !== this.head + 1 || this.reading !== null) return this.follow();
    // The other node has checked it and it is stored: people need not wait until it is taken in here.
    this.tell(updateFrame(update));
    this.take({ updates: [update], head: number, loose: 1, claims: [...claims] }, (told) =>
      this.guard.add(told),
    );
  }

  /** Reads what other nodes have stored since, and sends it on; resolves when everything stored before is in the document. */
  follow(): Promise<void> {
    this.readAgain = true;
    this.reading ??= this.readOn();
    return this.reading;
  }

  /** Sends everybody away. */
  closeAll(closing: Closing): void {
    for (const member of [...this.members]) member.close(closing);
  }

  /** Lets the document go, with a snapshot in place of a long log. */
  async end(): Promise<void> {
    if (this.state === 'closed') return;
    const whole = this.state === 'open';
    this.state = 'closed';
    this.cursors.stop();
    const durable = await this.settled.then(
      () => true,
      () => false,
    );
    await this.auditing;
    try {
      const isLong = this.loose >= LOOSE;
      if (whole && durable && (isLong || Math.random() < this.audits.share)) await this.audit(isLong);
    } finally {
      this.guard.destroy();
    }
  }

  /** Looks after so many updates whether all is well, and puts a snapshot in place of a log that has grown long. */
  private lookAfter(): void {
    this.unaudited += 1;
    const isLong = this.loose >= this.manyLoose;
    if (!isLong && this.unaudited < this.audits.each) return;
    this.unaudited = 0;
    this.auditing ??= this.audit(isLong)
      // The log is still whole, and a later commit tries again, or finds that nothing can be stored.
      .catch(() => undefined)
      .finally(() => {
        this.auditing = null;
      });
  }

  /**
   * Holds the document against what the store gives back, which others may be writing to meanwhile; where they differ, the room ends
   * and everybody comes back with what they hold. A snapshot is only ever made of what the store gave back.
   */
  private async audit(compacts: boolean): Promise<void> {
    const earlier = { ...stateOf(this.doc), head: this.head };
    await this.settled;
    const stored = await this.store.areas.load(this.board, this.area);
    // Removed meanwhile.
    if (this.state === 'failed' || (stored.head === 0 && earlier.head > 0)) return;
    const now = { doc: this.doc, head: this.head, read: () => this.read() };
    const { doc, differs } = rebuilt(areas[this.area], stored, earlier, now);
    if (differs !== null) {
      this.fail(differs, 'mismatch');
      return;
    }
    const snapshot = compacts ? Y.encodeStateAsUpdate(doc) : null;
    doc.destroy();
    if (snapshot === null) return;
    await this.store.areas.compact(this.board, this.area, stored.head, snapshot);
    this.loose = Math.max(0, this.loose - stored.loose);
  }

  /** An update with this number, and so those before it, is stored; it is in the document. */
  private advance(number: number): void {
    if (number > this.head) this.ahead.add(number);
    while (this.ahead.delete(this.head + 1)) this.head += 1;
    // When reading fails the store is away, which the next write or look will find out.
    if (this.ahead.size > 0) this.follow().catch(() => undefined);
  }

  private async readOn(): Promise<void> {
    try {
      while (this.readAgain && this.state === 'open') {
        this.readAgain = false;
        const stored = await this.store.areas.load(this.board, this.area, this.head);
        if (this.state === 'open') this.take(stored);
      }
    } finally {
      // In the same step in which it was seen that nobody asks for more.
      this.reading = null;
    }
  }

  private take(
    { updates, head, claims }: StoredArea,
    // Our own that are on their way are among them: they are not new here, and are sent on when they are answered.
    add = (update: Uint8Array) => {
      for (const news of this.guard.take(update)) this.tell(updateFrame(news));
    },
  ): void {
    this.owners.add(claims);
    try {
      for (const update of updates) {
        add(update);
        this.limits.add(update.length, readUpdate(update)?.structs.length ?? 0);
      }
      if (this.guard.hasGap)
        throw new Error('What another node has stored builds on something that is missing.');
    } catch (error) {
      // The next room sets aside what cannot be used.
      this.fail(String(error));
      return;
    }
    this.loose += updates.length;
    this.head = Math.max(this.head, head);
    for (const number of this.ahead) if (number <= this.head) this.ahead.delete(number);
  }

  private fail(reason: string, why: Failure = 'storing'): void {
    if (this.state === 'failed') return;
    const wasOpen = this.state === 'open';
    if (wasOpen) this.state = 'failed';
    // One that is ending has nobody left to send away.
    if (wasOpen || why === 'mismatch') this.onFailure(this, reason, why);
    if (wasOpen) this.closeAll('failed');
  }
}

/** From 0 up to 1, the same for a room each time: rooms that were opened together do not all take their snapshot together. */
function spreadOf(key: string): number {
  const parts = 1009;
  let sum = 0;
  for (const letter of key) sum = (sum * 31 + letter.codePointAt(0)!) % parts;
  return sum / parts;
}
