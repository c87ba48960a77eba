import { useEffect, useRef } from 'react';
import { useBoard, useRoom } from '../_client/room.tsx';
import { Button } from './button.tsx';

const FIELDS = 'input:not([type=checkbox], [type=radio]), textarea, [contenteditable]';

/** Undo and redo of this person's own changes to the plan, also by the usual keys. */
export function UndoButtons() {
  const room = useRoom();
  const { canUndo, canRedo } = useBoard('canUndo', 'canRedo');
  const latest = useRef(room);
  latest.current = room;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      // A field has an undo of its own, and a question is answered first.
      const inField = event.target instanceof HTMLElement && event.target.closest(FIELDS);
      if (
        inField ||
        document.querySelector('dialog[open]') ||
        !(event.ctrlKey || event.metaKey) ||
        event.key.toLowerCase() !== 'z'
      )
        return;
      event.preventDefault();
      if (event.shiftKey) latest.current.redo();
      else latest.current.undo();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
  if (!room.mayWrite('plan')) return null;
  return (
    <div className="flex shrink-0 max-md:order-1 max-md:col-start-3 max-md:-mr-2 max-md:justify-self-end">
      <Button look="quiet" className={LOOK} title="Undo" disabled={!canUndo} onClick={() => room.undo()}>
        <Arrow path="M9 6 4 11l5 5M4 11h10a5 5 0 0 1 0 10h-3" />
        <span className="sr-only">Undo</span>
      </Button>
      <Button look="quiet" className={LOOK} title="Redo" disabled={!canRedo} onClick={() => room.redo()}>
        <Arrow path="M15 6l5 5-5 5M20 11H10a5 5 0 0 0 0 10h3" />
        <span className="sr-only">Redo</span>
      </Button>
    </div>
  );
}

const LOOK = 'w-11 px-2!';

/** It stands for the word, which shows under the pointer. */
function Arrow({ path }: { path: string }) {
  return (
    <svg
      viewBox="0 0 24 26"
      className="size-6 shrink-0 fill-none stroke-current"
      strokeWidth={2}
      strokeLinecap="round"
      aria-hidden="true"
    >
      <path d={path} />
    </svg>
  );
}
