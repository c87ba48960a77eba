'use client';

import { useBoard, useRoom } from '../_client/room.tsx';
import { Button } from './button.tsx';

/** Says why an undo changed nothing, or not all: in sight wherever on the page the keys were pressed, until the next change. */
export function Left() {
  const { left } = useBoard('left');
  const room = useRoom();
  return (
    <div role="status" className="no-print sticky top-0 z-20">
      {left === '' ? null : (
        <p className="mb-6 flex flex-wrap items-center gap-x-4 border border-edge bg-paper py-1 pl-3">
          <span className="flex-1">{left}</span>
          <Button look="quiet" onClick={() => room.dismissLeft()}>
            All right
          </Button>
        </p>
      )}
    </div>
  );
}
