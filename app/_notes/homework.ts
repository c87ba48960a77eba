import type { RichText } from '../../lib/core/areas/area.ts';
import type { Lessons } from '../../lib/core/areas/lessons.ts';

/** A task on a lesson's page. */
export interface Task {
  lesson: string;
  /** Its place among that lesson's tasks. */
  place: number;
  words: string;
  done: boolean;
}

type Lesson = Lessons['lessons'][number];

/** Pages in the order in which one looks for them: the latest lesson first, of one day the last written. */
export const latestFirst = (lessons: readonly Lesson[]): Lesson[] =>
  [...lessons].sort((a, b) => b.date.localeCompare(a.date) || b.writtenAt.localeCompare(a.writtenAt));

/** All tasks of all pages, in that order; one without words is none. */
export function homework(lessons: readonly Lesson[]): Task[] {
  return latestFirst(lessons).flatMap(({ id, text }) =>
    tasksIn(text)

      .map((item, place) => ({
        lesson: id,
        place,
        words: ownWords(item),
        done: item.attrs?.checked === true,
      }))
      .filter((task) => task.words !== ''),
  );
}

const tasksIn = (node: RichText): RichText[] => [
  ...(node.type === 'taskItem' ? [node] : []),
  ...(node.content ?? []).flatMap(tasksIn),
];

/** A task's own words, without those of the tasks inside it. */
function ownWords(item: RichText): string {
  return (item.content ?? [])
    .filter(({ type }) => type === 'paragraph')
    .map(wordsOf)
    .join(' ')
    .replace(/\s+/g, ' ')
    .trim();
}

const wordsOf = (node: RichText): string =>
  node.type === 'hardBreak' ? ' ' : (node.text ?? (node.content ?? []).map(wordsOf).join(''));
