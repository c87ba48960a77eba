'use client';

import { useBoard, useRoom } from '../_client/room.tsx';
import { Button } from './button.tsx';
import { keepFile } from './keepFile.ts';

/** Shown after the server refused a change: why, and what this page held, to keep. */
export function Refused({ night = false }: { night?: boolean }) {
  const { refusal } = useBoard('refusal');
  const room = useRoom();
  if (refusal === null) return null;
  return (
    <div
      role="alert"
      className={`mb-6 border-l-[3px] py-1 pl-3 ${night ? 'border-night-wine text-night-wine' : 'border-wine text-wine'}`}
    >
      <p>{refusal.sentence}</p>
      <p className="mt-2 flex flex-wrap gap-2">
        <Button
          look={night ? 'night' : 'plain'}
          onClick={() => keepFile(`larkstep-${refusal.area}-kept.json`, refusal.kept)}
        >
          Keep a copy of it
        </Button>
        <Button look={night ? 'night' : 'quiet'} onClick={() => room.dismissRefusal()}>
          Let it go
        </Button>
      </p>
    </div>
  );
}
