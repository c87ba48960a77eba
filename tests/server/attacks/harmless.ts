import * as Y from 'yjs';
import type { Role } from '../../../lib/core/areas/people.ts';
import type { Forge } from './forge.ts';

export type Attacked = 'plan' | 'lessons' | 'remarks';
/** Whose link is used. */
export const attackers = { plan: 'couple', lessons: 'couple', remarks: 'dj' } as const satisfies Record<
  Attacked,
  Role
>;
export const AT = '2031-05-01T10:00:00.000Z';

/** Where in a harmless entry something else may be put. */
export interface Spots {
  entry: Y.ID;
  /** Of a lesson or a remark: its text, a heading in it, a task in a list, and words. */
  text: Y.ID;
  heading: Y.ID;
  task: Y.ID;
  words: Y.ID;
}

/** An entry that fits the shape, as its author's page would make it: alone it is accepted. */
export function putHarmless(forge: Forge, area: Attacked, id: string, membership: string): Spots {
  const collection = { plan: 'cues', lessons: 'lessons', remarks: 'remarks' }[area];
  const entry = forge.type(collection, id, new Y.Map());
  const fields = {
    plan: { at: 12, word: 'lantern' },
    lessons: { date: '2031-05-01', title: 'Third lesson', writtenAt: AT },
    remarks: { writer: membership, name: 'Jo', role: 'dj', at: AT, about: '' },
  }[area];
  for (const [field, value] of Object.entries(fields)) forge.any(entry, field, value);
  if (area === 'plan') return { entry, text: entry, heading: entry, task: entry, words: entry };
  const text = forge.type(entry, 'text', new Y.XmlFragment());
  const heading = forge.type(text, null, new Y.XmlElement('heading'));
  forge.any(heading, 'level', 2);
  const words = forge.type(heading, null, new Y.XmlText());
  forge.put(words, null, new Y.ContentString('Homework'));
  const list = forge.type(text, null, new Y.XmlElement('taskList'));
  const task = forge.type(list, null, new Y.XmlElement('taskItem'));
  forge.any(task, 'checked', false);
  return { entry, text, heading, task, words };
}
