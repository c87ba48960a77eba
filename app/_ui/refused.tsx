'use client';

import { useBoard, useRoom } from '../_client/room.tsx';
import { Button } from './button.tsx';

/** Shown after the server refused a change: why, and what this page held, to keep. */
export function Refused() {
  const { refusal } = useBoard();
  const room = useRoom();
  if (refusal === null) return null;
  const keep = () => {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([refusal.kept], { type: 'application/json' }));
    link.download = `larkstep-${refusal.area}-kept.json`;
    link.click();
    URL.revokeObjectURL(link.href);
  };
  return (
    <div role="alert" className="mb-6 border-l-[3px] border-wine py-1 pl-3">
      <p className="text-wine">{refusal.sentence}</p>
      <p className="mt-2 flex flex-wrap gap-2">
        <Button onClick={keep}>Keep a copy of it</Button>
        <Button look="quiet" onClick={() => room.dismissRefusal()}>
          Go on without
        </Button>
      </p>
    </div>
  );
}
