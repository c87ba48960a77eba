import type { Editor } from '@tiptap/core';
import { useEffect, useState } from 'react';

/**
 * What a text's state means for what stands around it, in a task after the letter that changed it: the letter is there first.
 * @param of always the same function, and a plain value, so that nothing is drawn anew when it stays
 */
export function useSaidBy<T extends string | boolean>(editor: Editor, of: (editor: Editor) => T): T {
  const [said, setSaid] = useState(() => of(editor));
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | null = null;
    const look = () => {
      timer ??= setTimeout(() => {
        timer = null;
        setSaid(of(editor));
      });
    };
    look();
    editor.on('transaction', look);
    return () => {
      editor.off('transaction', look);
      if (timer !== null) clearTimeout(timer);
    };
  }, [editor, of]);
  return said;
}
