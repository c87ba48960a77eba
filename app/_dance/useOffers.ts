import { useCallback, useEffect, useRef, useState } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { Wishes } from '@/lib/core/dance/proposeDance.ts';
import type { Asked, Offers, Said } from './proposal.ts';

export type Offering =
  | { state: 'idle' }
  | { state: 'at work'; share: number }
  | { state: 'done'; offers: Offers; of: Plan; anew: boolean }
  | { state: 'failed' };

/** What the proposal reads: marks, imprint and what was said to others stay with the page. */
const asAsked = (plan: Plan): Plan => ({ ...plan, marks: [], imprint: null, replies: [] });

/** Dances from the worker: asked for, cancelled, and let go of with the panel. */
export function useOffers(): {
  offering: Offering;
  ask(plan: Plan, wishes: Wishes, anew: boolean): void;
  cancel(): void;
} {
  const [offering, setOffering] = useState<Offering>({ state: 'idle' });
  const worker = useRef<Worker | null>(null);
  const end = useCallback(() => {
    worker.current?.terminate();
    worker.current = null;
  }, []);
  useEffect(() => end, [end]);
  const ask = useCallback(
    (plan: Plan, wishes: Wishes, anew: boolean) => {
      end();
      setOffering({ state: 'at work', share: 0 });
      const started = new Worker(new URL('./proposal.worker.ts', import.meta.url), { type: 'module' });
      worker.current = started;
      started.onmessage = ({ data }: MessageEvent<Said>) => {
        if (worker.current !== started) return;
        if ('share' in data) return setOffering({ state: 'at work', share: data.share });
        end();
        setOffering({ state: 'done', offers: data.offers, of: plan, anew });
      };
      started.onerror = () => {
        end();
        setOffering({ state: 'failed' });
      };
      const asked: Asked = { plan: asAsked(plan), wishes, anew };
      started.postMessage(asked);
    },
    [end],
  );
  const cancel = useCallback(() => {
    end();
    setOffering({ state: 'idle' });
  }, [end]);
  return { offering, ask, cancel };
}
