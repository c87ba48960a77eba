import * as Y from 'yjs';
import { messageType } from '../../../lib/protocol/messages.ts';
import { step2Frame, updateFrame } from '../../../server/sync/frames.ts';
import { kindsOfValue, marks, names, nested } from '../attacks/corpus.ts';
import { type Attacked, attackers } from '../attacks/harmless.ts';
import { Line } from '../attacks/line.ts';
import { MemoryStore } from '../attacks/memoryStore.ts';
import { collections, framesOf, idsIn, ways } from '../attacks/siege.ts';
import { difference, grantFor, rebuilt, turn } from '../attacks/site.ts';
import { unfitIn } from '../attacks/unfit.ts';
import { FuzzedNode } from './node.ts';
import { FuzzedPerson } from './person.ts';
import { Random } from './random.ts';

const BOARD = 'b';
const attacked = ['plan', 'lessons', 'remarks'] as const;
const NODES = 2;
const attacks = [names, kindsOfValue, marks, nested]
  .flatMap((family) => Object.entries(family))
  // What is very deep costs much, and is tried elsewhere.
  .filter(([name]) => !/^\d{4} deep$/.test(name))
  .flatMap(([, list]) => list);

/** How often each thing happens, beside the others. */
const weights = {
  write: 30,
  up: 24,
  down: 24,
  commit: 30,
  hear: 8,
  lose: 3,
  look: 1,
  come: 14,
  leave: 5,
  attack: 5,
  spoil: 2,
  steal: 1,
  revoke: 0.05,
  freeze: 0.3,
  drop: 0.3,
  stop: 0.2,
};
/** Rounds in which everything that is on its way must have arrived. */
const MOST_ROUNDS = 1000;

/**
 * People, honest and not, at two servers that share a store; what is said, stored and told lies on its way until it is let on, and
 * anybody, servers too, may go at any moment. One seed decides all of it.
 */
export class World {
  readonly counts = { steps: 0, promised: 0, attacks: 0, refused: 0, drops: 0, stops: 0 };
  private readonly random: Random;
  private readonly kept = new MemoryStore();
  private readonly nodes: FuzzedNode[];
  private readonly people: FuzzedPerson[];
  /** Harmless words of attackers that were acknowledged. */
  private readonly promised: Record<Attacked, Set<string>> = {
    plan: new Set(),
    lessons: new Set(),
    remarks: new Set(),
  };

  constructor(seed: number) {
    this.random = new Random(seed);
    this.nodes = Array.from({ length: NODES }, () => this.newNode());
    this.people = attacked.flatMap((area) =>
      [1, 2, 3].map((number) => new FuzzedPerson(`${area}${number}`, area, BOARD, this.random)),
    );
  }

  /** Throws, with a sentence, when something does not hold. */
  async run(steps: number, restEvery: number): Promise<void> {
    for (let step = 1; step <= steps; step++) {
      await this.step();
      if (step % restEvery === 0 || step === steps) await this.rest();
    }
    for (const node of this.nodes) await this.stopped(node);
  }

  private async step(): Promise<void> {
    const { random, people, nodes } = this;
    this.counts.steps += 1;
    const person = random.one(people);
    const node = random.one(nodes);
    switch (random.weighted(weights)) {
      case 'write':
        if (!person.isRevoked && !person.isFrozen) person.act();
        break;
      case 'up':
        person.line?.flowUp(1 + random.below(3));
        break;
      case 'down':
        person.line?.flowDown(1 + random.below(3));
        break;
      case 'commit':
        for (let left = random.below(4); left >= 0; left--) node.commit();
        break;
      case 'hear':
        node.hear(false);
        break;
      case 'lose':
        node.hear(true);
        break;
      case 'look':
        node.look();
        break;
      case 'come':
        await person.come(node);
        break;
      case 'leave':
        person.leave();
        break;
      case 'attack':
        await this.attack(node);
        break;
      case 'spoil':
        await this.spoil(node);
        break;
      case 'steal':
        await this.steal(node, person);
        break;
      case 'revoke':
        person.revoke();
        break;
      case 'freeze':
        person.freeze();
        break;
      case 'drop':
        this.drop(node);
        break;
      case 'stop':
        this.counts.stops += 1;
        await this.stopped(node);
        this.replace(node);
    }
    await turn();
  }

  private async attack(node: FuzzedNode): Promise<void> {
    const attack = this.random.one(attacks);
    const number = ++this.counts.attacks;
    const membership = `attacker${number}`;
    const id = `harmless${number}`;
    const frames = framesOf(attack, this.random.one(ways), id, membership, 2 ** 32 - number);
    await this.send(node, attack.area, membership, frames, () => this.promised[attack.area].add(id));
  }

  /** Sends frames by a link of its own. The line stays, so that what is acknowledged later is heard. */
  private async send(
    node: FuzzedNode,
    area: Attacked,
    membership: string,
    frames: readonly Uint8Array[],
    onAcknowledged: () => void = () => undefined,
  ): Promise<void> {
    const line = new Line();
    line.hear = (frame) => {
      if (frame[0] === messageType.acknowledged) onAcknowledged();
    };
    line.onClosed = () => {
      this.counts.refused += 1;
    };
    await node.site.enter(grantFor(BOARD, attackers[area], membership), area, line).catch(() => line.leave());
    for (const frame of frames) line.say(frame);
  }

  /**
   * Remarks that everybody has heard, with some bytes changed. In the other areas whoever sends this may also remove the words of
   * others, and a byte more or less does.
   */
  private async spoil(node: FuzzedNode): Promise<void> {
    const { random } = this;
    const { speaker, area } = random.one(this.people.filter((person) => person.area === 'remarks'));
    if (!speaker.isSaved) return;
    const frame = updateFrame(Y.encodeStateAsUpdate(speaker.doc)).slice();
    for (let left = 1 + random.below(3); left > 0; left--)
      frame[2 + random.below(frame.length - 2)] = random.below(256);
    await this.send(node, area, `spoiler${this.counts.steps}`, [frame]);
  }

  /** Goes on under the client id of somebody else, whose words under it are stored: of another nobody can know. */
  private async steal(node: FuzzedNode, { speaker, area }: FuzzedPerson): Promise<void> {
    if (!speaker.isSaved || Y.getState(speaker.doc.store, speaker.doc.clientID) === 0) return;
    const forged = new Y.Doc();
    Y.applyUpdate(forged, Y.encodeStateAsUpdate(speaker.doc));
    const before = Y.encodeStateVector(forged);
    forged.clientID = speaker.doc.clientID;
    forged.getMap(collections[area]).set('stolen', new Y.Map());
    const frame = step2Frame(Y.encodeStateAsUpdate(forged, before));
    await this.send(node, area, `thief${this.counts.steps}`, [frame]);
  }

  private drop(node: FuzzedNode): void {
    this.counts.drops += 1;
    node.drop();
    for (const person of this.people) if (person.node === node) person.leave();
    this.replace(node);
  }

  /** Its store goes on until all is done. */
  private async stopped(node: FuzzedNode): Promise<void> {
    let isDone = false;
    const stopping = node.stop().finally(() => {
      isDone = true;
    });
    while (!isDone) {
      node.commit();
      await turn();
    }
    await stopping;
  }

  private replace(node: FuzzedNode): void {
    this.nodes[this.nodes.indexOf(node)] = this.newNode();
  }

  private newNode(): FuzzedNode {
    return new FuzzedNode(this.kept, () => this.nodes);
  }

  /** Lets everything go on until nothing is on its way any more, and looks at what everybody holds then. */
  private async rest(): Promise<void> {
    const honest = this.people.filter(({ isRevoked }) => !isRevoked);
    for (let round = 0, isDone = false; !isDone; round++) {
      if (round === MOST_ROUNDS) throw new Error(`step ${this.counts.steps}: people do not come to rest`);
      for (const [index, person] of honest.entries()) await person.come(this.nodes[index % NODES]!);
      for (const node of this.nodes) {
        while (node.inbox.length > 0) node.hear(false);
        if (round % 5 === 4) node.look();
        node.commit();
      }
      for (const { line } of this.people) line?.flow();
      await turn();
      const isQuiet = honest.every(({ speaker, line }) => speaker.isSaved && !line!.waits);
      isDone = round > 10 && isQuiet && this.nodes.every((node) => !node.waits);
    }
    for (const node of this.nodes) {
      node.look();
      await turn();
      await turn();
    }
    for (const { line } of this.people) line?.flow();
    for (const area of attacked) await this.compare(area);
  }

  private async compare(area: Attacked): Promise<void> {
    const stored = await rebuilt(this.kept.port, BOARD, area);
    const kept = idsIn(stored, area);
    const people = this.people.filter((person) => person.area === area);
    const promised = [...this.promised[area], ...people.flatMap(({ speaker }) => [...speaker.promised])];
    this.counts.promised = Math.max(this.counts.promised, promised.length);
    const wrong = (what: string, why: string | null) => {
      if (why) throw new Error(`${area}, step ${this.counts.steps}: ${what}: ${why.slice(0, 400)}`);
    };
    wrong('refused, though honest', people.flatMap(({ refused }) => refused).join(' ') || null);
    wrong('acknowledged and lost', promised.filter((id) => !kept.has(id)).join(' ') || null);
    wrong('set aside', this.kept.setAside.map(({ reason }) => reason).join(' ') || null);
    wrong('stored, and fits no page', unfitIn(stored));
    for (const [index, { site }] of this.nodes.entries()) {
      const room = await site.rooms.find(BOARD, area);
      wrong(`node ${index} and the store`, room && difference(area, room.doc, stored));
      // It would have mended itself, and should not have had to.
      wrong(`node ${index}`, site.mismatches.join(' ') || null);
    }
    for (const { name, isRevoked, speaker } of people)
      if (!isRevoked) wrong(`${name} and the store`, difference(area, speaker.doc, stored));
    stored.destroy();
  }
}
