import { describe, expect, test } from 'vitest';
import { Awareness } from 'y-protocols/awareness';
import * as Y from 'yjs';
import { People } from '../../../app/_client/presence.ts';

/** A page's plan link, as far as presence knows it, and a way to hear of somebody else. */
function opened() {
  const awareness = new Awareness(new Y.Doc());
  const link = { provider: { awareness } };
  const links = { of: () => link, all: () => [link] } as unknown as ConstructorParameters<typeof People>[1];
  const people = new People({ board: 'b', role: 'couple', membership: 'm', frozen: false, name: '' }, links);
  const hear = (key: number, state: Record<string, unknown> | null) => {
    if (state === null) awareness.states.delete(key);
    else awareness.states.set(key, state);
  };
  return { people, hear, end: () => awareness.destroy() };
}

describe('who is here', () => {
  test('is this person under their name, and others as the server says who they are', () => {
    const { people, hear, end } = opened();
    people.callMe('Noor');
    people.lookAt('phrase:3');
    hear(7, { user: { name: 'Marta', role: 'instructor' }, at: 'song' });
    expect(people.here().find(({ me }) => me)).toMatchObject({
      name: 'Noor',
      role: 'couple',
      at: 'phrase:3',
    });
    expect(people.here().find(({ key }) => key === 7)).toMatchObject({
      name: 'Marta',
      role: 'instructor',
      at: 'song',
    });
    end();
  });
  test('is nobody of whom no role is known, and the same list while nothing changes', () => {
    const { people, hear, end } = opened();
    people.callMe('Noor');
    hear(8, { user: { name: 'X', role: 'king' } });
    hear(9, {});
    expect(people.here().map(({ name }) => name)).toEqual(['Noor']);
    expect(people.here()).toBe(people.here());
    hear(7, { user: { name: 'Rui', role: 'dj' }, at: 4 });
    const both = people.here();
    expect(both.map(({ name, at }) => [name, at]).sort()).toEqual([
      ['Noor', ''],
      ['Rui', ''],
    ]);
    hear(7, null);
    expect(people.here()).not.toBe(both);
    end();
  });
});
