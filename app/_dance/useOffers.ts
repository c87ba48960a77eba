import { useCallback, useEffect, useRef, useState } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { laterWorker } from '../_client/laterParts.ts';
import type { Asked, Offers, Said } from './proposal.ts';

export type Offering =
  | { state: 'idle' }
  | { state: 'at work'; share: number }
  | { state: 'done'; offers: Offers; of: Plan; anew: boolean }
  | { state: 'failed' };

/** What the proposal reads: marks, imprint and what was said to others stay with the page. */
const asAsked = (plan: Plan): Plan => ({ ...plan, marks: [], imprint: null, replies: [] });

const hire = laterWorker(
  () => new Worker(new URL('./proposal.worker.ts', import.meta.url), { type: 'module' }),
);

/** Dances from the worker: asked for, cancelled, and let go of with the panel. */
export function useOffers(): {
  offering: Offering;
  ask(asked: Asked): void;
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
    (asked: Asked) => {
      end();
      setOffering({ state: 'at work', share: 0 });
      const started = hire();
      worker.current = started;
      started.onmessage = ({ data }: MessageEvent<Said>) => {
        if (worker.current !== started || 'files' in data) return;
        if ('share' in data) return setOffering({ state: 'at work', share: data.share });
        end();
        setOffering({ state: 'done', offers: data.offers, of: asked.plan, anew: asked.anew });
      };
      started.onerror = () => {
        end();
        setOffering({ state: 'failed' });
      };
      started.postMessage({ ...asked, plan: asAsked(asked.plan) } satisfies Asked);
    },
    [end],
  );
  const cancel = useCallback(() => {
    end();
    setOffering({ state: 'idle' });
  }, [end]);
  return { offering, ask, cancel };
}
