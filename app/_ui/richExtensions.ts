import type { Extensions } from '@tiptap/core';
import Collaboration from '@tiptap/extension-collaboration';
import CollaborationCaret from '@tiptap/extension-collaboration-caret';
import { TaskItem, TaskList } from '@tiptap/extension-list';
import { CharacterCount, Placeholder } from '@tiptap/extensions';
import StarterKit from '@tiptap/starter-kit';
import type { XmlFragment } from 'yjs';
import type { Role } from '@/lib/core/areas/people.ts';
import type { Writers } from '../_client/writers.ts';
import { roleWords } from './roles.ts';

/** A little below what the server takes, so that two people writing at once stay within it. */
export const ROOM_FOR_TEXT = 38_000;

/**
 * What the editor knows: exactly what lib/board/richText.ts lets stand in a note. Whatever it did not know it would delete,
 * and whatever it knew besides the server would refuse.
 */
export function richExtensions(
  fragment: XmlFragment,
  placeholder: string,
  writers: Writers | null = null,
): Extensions {
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
    ...(writers ? [carets(writers)] : []),
  ];
}

/** The others' carets, each with its name; the page's policy lets no style in, so rich.css has their look. */
const carets = ({ awareness }: Writers) =>
  CollaborationCaret.configure({
    provider: { awareness },
    // What this page tells of itself stays as the board has set it.
    user: awareness.getLocalState()?.user ?? {},
    render: (user) => {
      const caret = document.createElement('span');
      caret.className = 'caret';
      // Read aloud it would stand in the middle of a word; the line under the text names them.
      caret.ariaHidden = 'true';
      const name = document.createElement('bdi');
      name.textContent = writerName(user);
      caret.append(name);
      return caret;
    },
    selectionRender: () => ({ class: 'chosen-by-other' }),
  });

/** "Inês", or "instructor" where no name is known. */
export function writerName({ name, role }: Record<string, unknown>): string {
  if (typeof name === 'string' && name !== '') return name;
  return roleWords[role as Role] ?? 'somebody';
}
