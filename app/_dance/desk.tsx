'use client';

import { createContext, type ReactNode, useCallback, useContext, useMemo, useState } from 'react';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { How } from '../_client/gate.ts';
import { usePlan, useRoom } from '../_client/room.tsx';
import { type Drawer, type Hand, nothing } from './hand.ts';

/** What the sheet and the panels beside it share: the dance, what is in hand, and how to change it. */
export interface Desk {
  plan: Plan;
  score: FloorScore;
  mayWrite: boolean;
  hand: Hand;
  take(hand: Hand): void;
  /** The count that has the focus or was chosen; null when none was. */
  cursor: number | null;
  moveCursor(at: number): void;
  drawer: Drawer | null;
  open(drawer: Drawer | null): void;
  /** The mark that the sheet shows in place of the present dance; null for that. */
  looking: string | null;
  lookAt(mark: string | null): void;
  /** One step of undo. False when it was refused, the sentence then stands on the desk; or while the person is asked. */
  change(changes: readonly PlanChange[], how?: How): boolean;
  /** Why the last change was refused; empty when it was not. */
  refused: string;
}

const DeskContext = createContext<Desk | null>(null);

export function DeskRoom({ score, children }: { score: FloorScore; children: ReactNode }) {
  const room = useRoom();
  const plan = usePlan();
  const [hand, setHand] = useState<Hand>(nothing);
  const [cursor, moveCursor] = useState<number | null>(null);
  const [drawer, setDrawer] = useState<Drawer | null>(null);
  const [looking, setLooking] = useState<string | null>(null);
  const [refused, setRefused] = useState('');
  const mayWrite = room.mayWrite('plan');

  const take = useCallback(
    (next: Hand) => {
      setHand(next);
      // One thing at a time: what is in hand closes the drawer, and the other way round.
      if (next.kind !== 'nothing') setDrawer(null);
      setRefused('');
      // A triangle under the ruler shows the chosen count, nothing else.
      moveCursor(next.kind === 'count' ? next.at : null);
      room.lookAt(next.kind === 'placed' ? next.id : next.kind === 'move' ? `move:${next.move}` : '');
    },
    [room],
  );
  const open = useCallback(
    (next: Drawer | null) => {
      if (next !== null) take(nothing);
      setDrawer(next);
    },
    [take],
  );
  const lookAt = useCallback(
    (mark: string | null) => {
      take(nothing);
      setDrawer(null);
      setLooking(mark);
    },
    [take],
  );
  const change = useCallback(
    (changes: readonly PlanChange[], how?: How) => {
      if (changes.length === 0) {
        how?.done?.();
        return true;
      }
      const result = room.change('plan', changes, how);
      setRefused(result.ok ? '' : result.problem.sentence);
      return result.ok;
    },
    [room],
  );
  const desk = useMemo(
    () => ({
      ...{ plan, score, mayWrite, hand, take, cursor, moveCursor },
      ...{ drawer, open, looking, lookAt, change, refused },
    }),
    [plan, score, mayWrite, hand, take, cursor, drawer, open, looking, lookAt, change, refused],
  );
  return <DeskContext value={desk}>{children}</DeskContext>;
}

export function useDesk(): Desk {
  const desk = useContext(DeskContext);
  if (desk === null) throw new Error('useDesk outside of DeskRoom');
  return desk;
}
