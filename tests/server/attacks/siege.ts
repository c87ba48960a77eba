import type * as Y from 'yjs';
import { readArea } from '../../../lib/board/area.ts';
import type { AreaShape } from '../../../lib/core/areas/area.ts';
import { areas } from '../../../lib/core/areas/board.ts';
import type { Change } from '../../../lib/core/areas/change.ts';
import { messageType } from '../../../lib/protocol/messages.ts';
import { step2Frame, updateFrame } from '../../../server/sync/frames.ts';
import type { Attack } from './corpus.ts';
import { Forge } from './forge.ts';
import { AT, type Attacked, attackers, putHarmless } from './harmless.ts';
import { Line } from './line.ts';
import { difference, grantFor, rebuilt, type Site, turn } from './site.ts';
import { Speaker } from './speaker.ts';
import { unfitIn } from './unfit.ts';

/** How an attack is sent: in one frame with something harmless, or after it; as an update or as step 2. */
export const ways = ['with', 'with, as step 2', 'after', 'after, as step 2'] as const;
export type Way = (typeof ways)[number];

export interface Try {
  attack: Attack;
  way: Way;
}

/** Each attack in one of the ways, by turns. */
export const triesOf = (attacks: readonly Attack[]): Try[] =>
  attacks.map((attack, index) => ({ attack, way: ways[index % ways.length]! }));

/** The frames of an attack: the first alone is harmless where there are two. */
export function framesOf(
  { area, put }: Attack,
  way: Way,
  id: string,
  membership: string,
  client: number,
): Uint8Array[] {
  const forge = new Forge(client);
  const frame = way.endsWith('step 2') ? step2Frame : updateFrame;
  const spots = putHarmless(forge, area, id, membership);
  const frames = way.startsWith('after') ? [updateFrame(forge.take())] : [];
  put(forge, spots);
  return [...frames, frame(forge.take())];
}

/** Collections in which honest and harmless entries lie. */
export const collections = { plan: 'cues', lessons: 'lessons', remarks: 'remarks' } as const;

export const idsIn = (doc: Y.Doc, area: Attacked): Set<string> => {
  const entries = (readArea(doc, areas[area] as AreaShape) as Record<string, { id: string }[]>)[
    collections[area]
  ]!;
  return new Set(entries.map(({ id }) => id));
};

/** A word of somebody honest, in an entry of its own. */
export function honestEntry(area: Attacked, id: string, membership: string): Change<AreaShape> {
  const fields = {
    plan: { at: 5, word: id },
    lessons: { date: '2031-05-01', title: 'Honest', writtenAt: AT },
    remarks: { writer: membership, name: 'Ida', role: 'couple', at: AT, about: '' },
  }[area];
  return { collection: collections[area], id, fields };
}

let made = 0;

/** One board under attack, with somebody honest in each area. */
export class Siege {
  readonly board = `besieged${++made}`;
  /** What anybody saw acknowledged, by area. */
  readonly promised: Record<Attacked, Set<string>> = {
    plan: new Set(),
    lessons: new Set(),
    remarks: new Set(),
  };
  private readonly honest = new Map<Attacked, Speaker>();
  private attacks = 0;

  constructor(readonly site: Site) {}

  /** Sends them one by one, with a word of somebody honest after each; in a sentence what does not hold afterwards, or null. */
  async withstands(tries: readonly Try[]): Promise<string | null> {
    try {
      for (const { attack, way } of tries) {
        const number = ++this.attacks;
        await this.send(attack, way, number);
        await this.speak(attack.area, `honest${number}`);
      }
      for (const area of new Set(tries.map(({ attack }) => attack.area))) {
        const failure = await this.compare(area);
        if (failure) return failure;
      }
      return null;
    } catch (error) {
      return String(error);
    }
  }

  /** What does not hold in an area, in a sentence; null when all does. */
  async compare(area: Attacked): Promise<string | null> {
    const { site, board } = this;
    const stored = await rebuilt(site.store, board, area);
    const kept = idsIn(stored, area);
    const lost = [...this.promised[area]].filter((id) => !kept.has(id));
    if (lost.length > 0) return `lost: ${lost.join(' ')}`;
    const room = await site.rooms.find(board, area);
    const apart = room && difference(area, room.doc, stored);
    if (apart) return `the room differs from the store: ${apart.slice(0, 200)}`;
    const honest = this.honest.get(area);
    const behind = honest && difference(area, honest.doc, stored);
    if (behind) return `somebody honest differs from the store: ${behind.slice(0, 200)}`;
    JSON.stringify(await site.rooms.read(board, area));
    const unfit = unfitIn(stored);
    return unfit && `it is stored, and fits no page: ${unfit}`;
  }

  private async send(attack: Attack, way: Way, number: number): Promise<void> {
    const { site, board } = this;
    const { area } = attack;
    const membership = `attacker${number}`;
    const line = new Line();
    let acknowledged = 0;
    line.hear = (frame) => {
      if (frame[0] === messageType.acknowledged) acknowledged = frame[1]!;
    };
    await site.enter(grantFor(board, attackers[area], membership), area, line);
    const frames = framesOf(attack, way, `harmless${number}`, membership, 2 ** 32 - number);
    for (const frame of frames) {
      line.say(frame);
      await this.settled(area);
    }
    line.leave();
    if (acknowledged > 0) this.promised[area].add(`harmless${number}`);
    else if (frames.length > 1)
      throw new Error(`something harmless was refused: ${line.code} ${line.reason}`);
  }

  private async speak(area: Attacked, word: string): Promise<void> {
    const honest = this.honest.get(area) ?? new Speaker(area);
    this.honest.set(area, honest);
    if (!honest.isConnected) await this.connect(area, honest);
    honest.write([word], honestEntry(area, word, 'honest'));
    for (let tries = 0; !honest.isSaved; tries++) {
      if (tries > 20) throw new Error('what somebody honest wrote is not acknowledged');
      await this.settled(area);
      if (!honest.isConnected) await this.connect(area, honest);
    }
    for (const id of honest.promised) this.promised[area].add(id);
  }

  private async connect(area: Attacked, honest: Speaker): Promise<void> {
    const line = new Line();
    honest.connect(line);
    await this.site.enter(grantFor(this.board, 'instructor', 'honest'), area, line);
    if (line.code !== null) throw new Error(`somebody honest was sent away: ${line.code} ${line.reason}`);
  }

  private async settled(area: Attacked): Promise<void> {
    const room = await this.site.rooms.find(this.board, area);
    await room?.settled.catch(() => undefined);
    await turn();
    await turn();
  }
}
