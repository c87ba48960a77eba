import * as Y from 'yjs';

/**
 * Ticks a task in a text, or takes its tick away; false where there is none at that place.
 * @param place among the text's tasks in the order in which one reads them, from 0
 */
export function tickTask(text: Y.XmlFragment, place: number, done: boolean): boolean {
  const task = tasksIn(text)[place];
  task?.setAttribute('checked', done as unknown as string);
  return task !== undefined;
}

const tasksIn = (node: Y.XmlFragment | Y.XmlElement): Y.XmlElement[] =>
  node
    .toArray()
    .filter((child) => child instanceof Y.XmlElement)
    .flatMap((child) => [...(child.nodeName === 'taskItem' ? [child] : []), ...tasksIn(child)]);
