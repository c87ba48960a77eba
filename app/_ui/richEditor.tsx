'use client';

import type { Editor } from '@tiptap/core';
import type { Fragment } from '@tiptap/pm/model';
import type { EditorProps } from '@tiptap/pm/view';
import { EditorContent, useEditor } from '@tiptap/react';
import { memo, useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import { useRoom } from '../_client/room.tsx';
import type { Writers } from '../_client/writers.ts';
import type { RichProps } from './rich.tsx';
import { ROOM_FOR_TEXT, richExtensions, writerName } from './richExtensions.ts';
import { useSaidBy } from './useSaidBy.ts';

/** Writing in a shared text, with one small row of tools. What is written in it draws itself: not the page around it, nor it anew. */
export const RichEditor = memo(function RichEditor({
  fragment,
  label,
  placeholder,
  focus = false,
}: RichProps) {
  const room = useRoom();
  const writers = useMemo(() => room.writersOf(fragment), [room, fragment]);
  const [leftOut, setLeftOut] = useState(false);
  const editor = useEditor(
    {
      extensions: richExtensions(fragment, placeholder, writers),
      // The page's policy lets no style in; rich.css has what is needed.
      injectCSS: false,
      autofocus: focus ? 'end' : false,
      immediatelyRender: true,
      shouldRerenderOnTransaction: false,
      editorProps: propsOf(label, setLeftOut),
    },
    [fragment, writers],
  );
  // A page may be given another title while it is open.
  useEffect(() => editor.setOptions({ editorProps: propsOf(label, setLeftOut) }), [editor, label]);
  return (
    <div className="rounded border border-edge bg-paper">
      <Tools editor={editor} label={label} />
      <EditorContent editor={editor} />
      {writers ? <Others writers={writers} /> : null}
      <Room editor={editor} leftOut={leftOut} />
    </div>
  );
});

/** @param onLeftOut told whether what was pasted is more than the text can hold: then nothing of it is put in */
const propsOf = (label: string, onLeftOut: (leftOut: boolean) => void): EditorProps => ({
  attributes: { class: 'rich ProseMirror', role: 'textbox', 'aria-multiline': 'true', 'aria-label': label },
  handlePaste({ state: { doc, selection } }, _event, { content }) {
    const before = lettersIn(doc.content) - lettersIn(selection.content().content);
    const leftOut = before + lettersIn(content) > ROOM_FOR_TEXT;
    onLeftOut(leftOut);
    return leftOut;
  },
  handleTextInput() {
    onLeftOut(false);
    return false;
  },
});

/** As the extension counts that holds the limit. */
const lettersIn = (part: Fragment): number => part.textBetween(0, part.size, undefined, ' ').length;

const tools = [
  { words: 'Bold', is: 'bold', run: (e: Editor) => e.chain().focus().toggleBold().run(), look: 'font-bold' },
  {
    words: 'Italic',
    is: 'italic',
    run: (e: Editor) => e.chain().focus().toggleItalic().run(),
    look: 'italic',
  },
  {
    words: 'Heading',
    is: 'heading',
    run: (e: Editor) => e.chain().focus().toggleHeading({ level: 2 }).run(),
    look: 'font-serif text-lg',
  },
  {
    words: 'List',
    is: 'bulletList',
    run: (e: Editor) => e.chain().focus().toggleBulletList().run(),
    look: '',
  },
  {
    words: 'Numbers',
    is: 'orderedList',
    run: (e: Editor) => e.chain().focus().toggleOrderedList().run(),
    look: '',
  },
  { words: 'To do', is: 'taskList', run: (e: Editor) => e.chain().focus().toggleTaskList().run(), look: '' },
] as const;

const toolsOn = (e: Editor): string =>
  tools
    .filter((tool) => e.isActive(tool.is))
    .map((tool) => tool.is)
    .join();
const canUndo = (e: Editor): boolean => e.can().undo();

function Tools({ editor, label }: { editor: Editor; label: string }) {
  const on = useSaidBy(editor, toolsOn);
  const mayUndo = useSaidBy(editor, canUndo);
  return (
    <fieldset aria-label={`Tools for ${label}`} className="flex flex-wrap border-b border-rule">
      {tools.map((tool) => (
        <button
          key={tool.words}
          type="button"
          aria-pressed={on.includes(tool.is)}
          onClick={() => tool.run(editor)}
          className={`min-h-11 px-3 hover:bg-paper-2 aria-pressed:bg-ink aria-pressed:text-paper ${tool.look}`}
        >
          {tool.words}
        </button>
      ))}
      <button
        type="button"
        disabled={!mayUndo}
        onClick={() => editor.chain().focus().undo().run()}
        className="ml-auto min-h-11 px-3 hover:bg-paper-2 disabled:text-soft disabled:opacity-60"
      >
        Undo
      </button>
    </fieldset>
  );
}

/** Who else writes here just now: what the carets show, in words. */
function Others({ writers }: { writers: Writers }) {
  const names = useSyncExternalStore(writers.subscribe, () => writers.others().map(writerName).join(', '));
  return (
    <p role="status" className={names ? 'border-t border-rule px-4 py-2 text-soft' : 'sr-only'}>
      {names ? `Also writing here: ${names}` : ''}
    </p>
  );
}

/** Not there yet while the editor is being made. */
const spaceIn = (e: Editor): 'enough' | 'little' | 'none' => {
  const used = e.storage.characterCount?.characters() ?? 0;
  return used >= ROOM_FOR_TEXT ? 'none' : used >= ROOM_FOR_TEXT * 0.9 ? 'little' : 'enough';
};

/** Says so when a text comes near its limit. */
function Room({ editor, leftOut }: { editor: Editor; leftOut: boolean }) {
  const space = useSaidBy(editor, spaceIn);
  if (space === 'enough' && !leftOut) return null;
  return (
    <p role="status" className="border-t border-rule px-4 py-2 text-soft">
      {leftOut
        ? 'That was more than fits in here, and was left out. Please bring it in smaller parts.'
        : space === 'none'
          ? 'This text is full. Please go on in a new one.'
          : 'This text is nearly full. A new one would be easier to read, too.'}
    </p>
  );
}
