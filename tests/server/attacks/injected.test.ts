import { afterAll, afterEach, beforeAll, expect, test, vi } from 'vitest';
import * as Y from 'yjs';
import * as area from '../../../lib/board/area.ts';
import { AreaGuard } from '../../../lib/board/guard.ts';
import * as placed from '../../../lib/board/placed.ts';
import * as possible from '../../../lib/board/possible.ts';
import { Touched } from '../../../lib/board/touched.ts';
import * as policy from '../../../lib/core/agreed/policy.ts';
import { type AreaName, areas } from '../../../lib/core/areas/board.ts';
import type { Store } from '../../../lib/store/store.ts';
import { Answers } from '../../../server/sync/answers.ts';
import { Connection } from '../../../server/sync/connection.ts';
import * as frames from '../../../server/sync/frames.ts';
import { Owners } from '../../../server/sync/owners.ts';
import { Room } from '../../../server/sync/room.ts';
import { type Call, Fault } from './fault.ts';
import { Line } from './line.ts';
import { MemoryStore } from './memoryStore.ts';
import { difference, grantFor, rebuilt, Site, turn } from './site.ts';
import { Speaker } from './speaker.ts';

/**
 * One call on a frame's way, from reading it to its acknowledgement, throws: each in its turn, before or after it did its work.
 * Afterwards the room holds what the store gives back, and so does everybody honest; nothing acknowledged is lost; what people write
 * next is acknowledged.
 */
const fault = new Fault();
const AT = '2031-05-01T10:00:00.000Z';

/** By a name that is known only here. */
const spyOn = vi.spyOn as unknown as (
  module: object,
  name: string,
) => { mockImplementation(call: Call): void };

beforeAll(() => {
  // Left out are two that are nothing but the place where whatever is thrown within is caught.
  for (const one of [AreaGuard, Touched, area.AreaReader, Owners, Answers, Room, Connection])
    fault.around(one, ['constructor', 'receive', 'stored']);
  fault.wrap(Y.Doc.prototype as never, 'transact', 'Doc.transact');
  fault.wrap(Y.Doc.prototype as never, 'emit', 'Doc.emit');
  fault.wrap(Y.Item.prototype as never, 'integrate', 'Item.integrate');
  for (const module of [area, placed, possible, policy, frames] as unknown as Record<string, unknown>[])
    for (const [name, original] of Object.entries(module))
      if (typeof original === 'function' && !('prototype' in original && /^[A-Z]/.test(name)))
        spyOn(module, name).mockImplementation(fault.through(original as Call, name));
});
afterAll(() => {
  fault.restore();
  vi.restoreAllMocks();
});

/** Somebody honest, on lines that are let through as the test wants. */
class Person {
  readonly speaker: Speaker;
  line: Line | null = null;

  constructor(
    private readonly site: Site,
    area: AreaName,
    private readonly membership: string,
  ) {
    this.speaker = new Speaker(area);
  }

  async come(): Promise<void> {
    if (this.speaker.isConnected) return;
    const { code } = this.line ?? { code: null };
    // As a page does that was refused for good.
    if (code !== null && code >= 4400 && code < 4500) this.speaker.beginAnew();
    this.line = new Line(true);
    this.speaker.connect(this.line);
    const grant = grantFor('b', 'instructor', this.membership);
    // The room may have ended this very moment: then they try again.
    await this.site.enter(grant, this.speaker.area, this.line).catch(() => this.line!.leave());
  }
}

/** Lets everything through until there is nothing more to come; the server's part of it under the fault. */
async function settle(site: Site, people: readonly Person[], withFault: boolean): Promise<void> {
  const under = async (work: () => Promise<void>) => {
    fault.active = withFault;
    await work();
    fault.active = false;
  };
  for (let round = 0; round < 60; round++) {
    if (!withFault) for (const person of people) await person.come();
    await under(async () => {
      for (const { line } of people) line?.flowUp();
      for (const name of Object.keys(areas) as AreaName[]) {
        const room = await site.rooms.find('b', name);
        await room?.settled.catch(() => undefined);
      }
      await turn();
    });
    for (const { line } of people) line?.flowDown();
    const done = people.every(({ speaker, line }) => !line!.waits && (withFault || speaker.isSaved));
    if (done && round > 2) return;
  }
  if (!withFault) throw new Error('people do not come to rest');
}

interface Scene {
  area: AreaName;
  /** Written by the first of two people before; and what is tried. */
  before(one: Speaker): void;
  act(one: Speaker): void;
  /** Frames of somebody hostile. */
  hostile?(): Uint8Array;
}
const lesson = { date: '2031-05-01', title: 'Third lesson', writtenAt: AT };
const remark = { writer: 'm1', name: 'Ida', role: 'couple', at: AT, about: '' };
const note = (collection: string, id: string, words: string) => (doc: Y.Doc) => {
  const text = area.textOf(doc, collection, id)!;
  const paragraph = new Y.XmlElement('paragraph');
  text.insert(0, [paragraph]);
  paragraph.insert(0, [new Y.XmlText(words)]);
};
const written = (collection: string, fields: object) => (one: Speaker) => {
  one.write(['a'], { collection, id: 'a', fields } as never);
  one.gesture([], note(collection, 'a', 'Before'));
};
/** Words in an entry that is there, and another entry. */
const wordsIn = (area: 'lessons' | 'remarks', fields: object): Scene => ({
  area,
  before: written(area, fields),
  act(one) {
    one.write(['b'], { collection: area, id: 'b', fields } as never);
    one.gesture([], note(area, 'a', 'Now'));
  },
});
const scenes: Record<string, Scene> = {
  'words in a lesson': wordsIn('lessons', lesson),
  'words in a remark': wordsIn('remarks', remark),
  'what is settled': {
    area: 'plan',
    before: (one) => one.write([], { register: 'phraseBars', value: 8 } as never),
    act: (one) =>
      one.write(['b'], { collection: 'cues', id: 'b', fields: { at: 5, word: 'bell' } }, {
        register: 'settled',
        value: { by: 'Marta', at: AT, word: '' },
      } as never),
  },
  'a hostile frame': {
    area: 'remarks',
    before: written('remarks', remark),
    act: (one) => one.write(['b'], { collection: 'remarks', id: 'b', fields: remark } as never),
    hostile() {
      const doc = new Y.Doc();
      doc.getMap('remarks').set('c', new Y.Map(Object.entries({ ...remark, writer: 'hostile' })));
      const text = new Y.XmlFragment();
      (doc.getMap('remarks').get('c') as Y.Map<unknown>).set('text', text);
      const element = new Y.XmlElement('constructor');
      element.setAttribute('level', 'x');
      text.insert(0, [element]);
      return frames.updateFrame(Y.encodeStateAsUpdate(doc));
    },
  },
};

const ids = (one: Y.Doc, name: AreaName): Set<string> =>
  new Set(
    Object.values(area.readArea(one, areas[name]) as Record<string, unknown>).flatMap((part) =>
      Array.isArray(part) ? part.map(({ id }: { id: string }) => id) : [],
    ),
  );

/** A scene in which the n-th call throws: the call, and what does not hold afterwards. */
async function played(
  scene: Scene,
  n: number,
  when: 'before' | 'after',
): Promise<{ thrown: string | null; failure: string | null }> {
  const { port } = new MemoryStore();
  const store = { ...port, areas: { ...port.areas } } as Store;
  for (const name of ['append', 'load'] as const)
    store.areas[name] = fault.through(port.areas[name] as never, `store.${name}`) as never;
  const site = new Site(store);
  const people = ['m1', 'm2'].map((membership) => new Person(site, scene.area, membership));
  const [one, other] = people.map(({ speaker }) => speaker);
  let failure: string | null = null;
  try {
    for (const person of people) await person.come();
    await settle(site, people, false);
    scene.before(one!);
    await settle(site, people, false);
    fault.arm(n, when);
    scene.act(one!);
    const hostile = new Line(true);
    if (scene.hostile) {
      await site.enter(grantFor('b', 'dj', 'hostile'), scene.area, hostile);
      hostile.say(scene.hostile());
      fault.active = true;
      hostile.flowUp();
      fault.active = false;
    }
    await settle(site, people, true);
    hostile.leave();
    for (const [index, speaker] of [one!, other!].entries())
      speaker.write([`after${index}`], entryIn(scene.area, `after${index}`, `m${index + 1}`) as never);
    await settle(site, people, false);
    // What was written as somebody was sent away is theirs to write again.
    const stored = await rebuilt(port, 'b', scene.area);
    const kept = ids(stored, scene.area);
    const lost = people.flatMap(({ speaker }) => [...speaker.promised].filter((id) => !kept.has(id)));
    if (lost.length > 0) failure = `lost: ${lost.join(' ')}`;
    for (const doc of [(await site.rooms.find('b', scene.area))!.doc, one!.doc, other!.doc])
      failure ??= difference(scene.area, doc, stored);
  } catch (error) {
    failure = String(error);
  }
  fault.active = false;
  await site.stop();
  return { thrown: fault.thrown, failure };
}

const entryIn = (name: AreaName, id: string, membership: string) =>
  ({
    plan: { collection: 'cues', id, fields: { at: 7, word: id } },
    lessons: { collection: 'lessons', id, fields: lesson },
    remarks: { collection: 'remarks', id, fields: { ...remark, writer: membership } },
    answer: null,
    show: null,
  })[name];

afterEach(() => fault.arm(0, 'before'));

for (const [what, scene] of Object.entries(scenes))
  test.each(['before', 'after'] as const)(`${what}: each call throws %s its work`, async (when) => {
    const failures: string[] = [];
    const calls = new Set<string>();
    for (let n = 1; ; n++) {
      const { thrown, failure } = await played(scene, n, when);
      if (thrown === null) break;
      calls.add(thrown);
      if (failure !== null) failures.push(`${n}, ${thrown}: ${failure.slice(0, 200)}`);
    }
    // Otherwise it would have shown little.
    expect(calls.size).toBeGreaterThan(15);
    expect(failures).toEqual([]);
  });
