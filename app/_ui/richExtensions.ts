import type { Extensions } from '@tiptap/core';
import Collaboration from '@tiptap/extension-collaboration';
import { TaskItem, TaskList } from '@tiptap/extension-list';
import { CharacterCount, Placeholder } from '@tiptap/extensions';
import StarterKit from '@tiptap/starter-kit';
import type { XmlFragment } from 'yjs';

/** A little below what the server takes, so that two people writing at once stay within it. */
export const ROOM_FOR_TEXT = 38_000;

/**
 * What the editor knows: exactly what lib/board/richText.ts lets stand in a note. Whatever it did not know it would delete,
 * and whatever it knew besides the server would refuse.
 */
export function richExtensions(fragment: XmlFragment, placeholder: string): Extensions {
  return [
    StarterKit.configure({
      // The shared document has undo of one's own changes.
      undoRedo: false,
      code: false,
      codeBlock: false,
      horizontalRule: false,
      link: false,
      underline: false,
      // It would write an empty line into a text that was only opened.
      trailingNode: false,
      heading: { levels: [2, 3, 4] },
    }),
    TaskList,
    TaskItem.configure({
      nested: true,
      a11y: { checkboxLabel: (node) => `Done: ${node.firstChild?.textContent || 'a task'}` },
    }),
    Placeholder.configure({ placeholder }),
    CharacterCount.configure({ limit: ROOM_FOR_TEXT, autoTrim: false }),
    Collaboration.configure({ fragment }),
  ];
}
