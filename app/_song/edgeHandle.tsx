import type { Edit } from '@/lib/core/edit/edit.ts';
import type { RecordTime } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import type { Edge } from './edges.ts';
import { nearestLine } from './seamMoves.ts';
import { percent } from './stripPicture.tsx';
import { strip as words } from './stripWords.ts';
import { useEdge } from './useEdge.ts';
import type { SongChange } from './useSongChange.tsx';

/** A mark under the strip where the song begins, stops, goes on or ends: to be drawn, or moved by keys. */
export function EdgeHandle({
  edge,
  change,
  timeAt,
  onDrawn,
}: {
  edge: Edge;
  change: SongChange;
  timeAt(x: number): RecordTime;
  onDrawn(edit: Edit | null): void;
}) {
  const { recording } = usePlan();
  const handle = useEdge(edge, change, {
    lineAt: (x, grasp, lines) => nearestLine(lines, lines[grasp.line]! + timeAt(x) - timeAt(grasp.x)),
    onDrawn,
  });
  if (!handle) return null;
  const share = handle.at / Math.max(recording?.duration ?? 1, 1);
  // What is played lies on that side, and so does the mark: two that meet do not cover each other.
  const isLeft = edge.kind === 'from' || edge.kind === 'end';
  return (
    <div
      {...handle.slider}
      title={`${words.short[handle.role]} ${handle.said}`}
      className={`absolute inset-y-0 w-8 cursor-ew-resize touch-none ${isLeft ? '-translate-x-full' : ''}`}
      style={{ left: isLeft ? `max(2rem, ${percent(share)})` : `min(100% - 2rem, ${percent(share)})` }}
    >
      <svg viewBox="0 0 32 32" className="size-8" aria-hidden="true">
        <path
          d={isLeft ? 'M31 0 V24 M31 2 L13 14 L31 24 Z' : 'M1 0 V24 M1 2 L19 14 L1 24 Z'}
          className="fill-ink stroke-ink"
          strokeWidth={2}
        />
      </svg>
    </div>
  );
}
