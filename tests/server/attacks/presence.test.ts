import { afterAll, expect, test } from 'vitest';
import { awarenessFrame, readFrame, readShown } from '../../../server/sync/frames.ts';
import { Line } from './line.ts';
import { MemoryStore } from './memoryStore.ts';
import { grantFor, Site } from './site.ts';

const site = new Site(new MemoryStore().port);
afterAll(() => site.stop());

const inherited = Object.getOwnPropertyNames(Object.prototype);
const states: [string, string][] = [
  ...inherited.flatMap((name): [string, string][] => [
    [`${name} as a key`, `{${JSON.stringify(name)}:{"user":1},"user":{"name":"Jo"}}`],
    [`${name} as a key of the user`, `{"user":{${JSON.stringify(name)}:{"name":"Jo"},"name":"Jo"}}`],
    [`${name} as the name`, `{"user":{"name":${JSON.stringify(name)}}}`],
  ]),
  ['a user that is none', '{"user":[1]}'],
  ['half a letter', '{"user":{"name":"\\ud800"}}'],
  ['a list', '[1]'],
  ['a number', '1e999'],
  ['no JSON', '{'],
  ['3,000 deep', `{"a":${'['.repeat(1500)}${']'.repeat(1500)}}`],
];

test.each(states)('who is here is told after %s, by whom the server knows it is', async (_what, json) => {
  const [hostile, honest] = [new Line(), new Line()];
  const heard: { client: number; json: string }[] = [];
  honest.hear = (frame) => {
    const read = readFrame(frame);
    if (read?.kind === 'awareness')
      heard.push(...readShown(read.update).filter(({ json: told }) => told !== 'null'));
  };
  await site.enter(grantFor('b', 'crew', 'hostile'), 'plan', hostile);
  await site.enter(grantFor('b', 'couple', 'honest'), 'plan', honest);
  hostile.say(awarenessFrame([{ client: 7, clock: 1, json }]));
  honest.say(awarenessFrame([{ client: 9, clock: 1, json: '{"user":{"name":"Ida"}}' }]));
  expect(honest.isOpen).toBe(true);
  // Cursors are told together, a moment later.
  await expect.poll(() => heard.map(({ client }) => client), { interval: 5 }).toContain(9);
  for (const { client, json: told } of heard) {
    const { user } = JSON.parse(told) as { user: object };
    expect(user).toMatchObject(
      client === 9 ? { role: 'couple', membership: 'honest' } : { role: 'crew', membership: 'hostile' },
    );
    expect(Object.keys(user).sort()).toEqual(['color', 'membership', 'name', 'role']);
  }
  hostile.leave();
  honest.leave();
});
