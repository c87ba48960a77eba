import { expect, test } from 'vitest';
import { FuzzedNode } from '../fuzz/node.ts';
import { Line } from './line.ts';
import { MemoryStore } from './memoryStore.ts';
import { honestEntry } from './siege.ts';
import { grantFor, turn } from './site.ts';
import { Speaker } from './speaker.ts';

/** A message between nodes may be late or lost; whoever changes over meanwhile brings what the next node has not heard yet. */
test('one who has heard more than the next node is not refused there, and loses nothing', async () => {
  const kept = new MemoryStore();
  const nodes: FuzzedNode[] = [];
  for (let left = 2; left > 0; left--) nodes.push(new FuzzedNode(kept, () => nodes));
  const lines: Line[] = [];
  const come = async (speaker: Speaker, node: FuzzedNode, membership: string): Promise<Line> => {
    const line = new Line(true);
    lines.push(line);
    speaker.connect(line);
    await node.site.enter(grantFor('b', 'instructor', membership), 'lessons', line);
    return line;
  };
  const settle = async () => {
    for (let round = 0; round < 20; round++) {
      for (const line of lines) line.flow();
      for (const node of nodes) node.commit();
      await turn();
    }
  };
  const [ida, tomas, rosa] = [new Speaker('lessons'), new Speaker('lessons'), new Speaker('lessons')];
  await come(ida, nodes[0]!, 'ida');
  const first = await come(tomas, nodes[0]!, 'tomas');
  await come(rosa, nodes[1]!, 'rosa');
  await settle();
  ida.write(['x'], honestEntry('lessons', 'x', 'ida'));
  await settle();
  first.leave();
  tomas.write(['y'], honestEntry('lessons', 'y', 'tomas'));
  const next = await come(tomas, nodes[1]!, 'tomas');
  await settle();
  expect(next.code).toBeNull();
  expect([...tomas.promised]).toEqual(['y']);
  for (const node of nodes) node.look();
  await settle();
  expect(rosa.read()).toEqual(tomas.read());
});
