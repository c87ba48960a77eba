'use client';

import dynamic from 'next/dynamic';
import { useRouter } from 'next/navigation';
import {
  createContext,
  type ReactNode,
  useContext,
  useEffect,
  useRef,
  useState,
  useSyncExternalStore,
} from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { PutRight } from '../_ui/putRight.tsx';
import { Waiting } from '../_ui/waiting.tsx';
import { BoardClient } from './boardClient.ts';
import type { BoardState, Me } from './boardState.ts';
import { laterPart } from './laterParts.ts';

const Room = createContext<BoardClient | null>(null);
/** Comes with the first question. */
const Asked = dynamic(
  laterPart(async () => (await import('./asked.tsx')).Asked),
  { ssr: false },
);

/** Opens the board for everything inside, which is shown once it can be read. */
export function BoardRoom({ me, children }: { me: Me; children: ReactNode }) {
  const [client, setClient] = useState<BoardClient | null>(null);
  const { refresh } = useRouter();
  useEffect(() => {
    const server = `${window.location.protocol === 'https:' ? 'wss' : 'ws'}://${window.location.host}`;
    const opened = new BoardClient(me, server, refresh);
    setClient(opened);
    return () => opened.destroy();
  }, [me, refresh]);
  if (client === null) return <Waiting />;
  return (
    <Room value={client}>
      <WhenReady>{children}</WhenReady>
    </Room>
  );
}

function WhenReady({ children }: { children: ReactNode }) {
  const { me, ready, apart, closed, passing, question } = useBoard(
    ...(['me', 'ready', 'apart', 'closed', 'passing', 'question'] as const),
  );
  const room = useRoom();
  if (!ready)
    return (
      <Waiting said={closed ?? passing} over={closed !== null}>
        {apart === '' ? null : <PutRight me={me} apart={apart} />}
      </Waiting>
    );
  return (
    <>
      {children}
      {question ? (
        <Asked
          key={JSON.stringify(question)}
          question={question}
          onYes={() => room.agree()}
          onNo={() => room.decline()}
        />
      ) : null}
    </>
  );
}

/** For changing the board: `change`, `undo`, `text`, `lookAt`. */
export function useRoom(): BoardClient {
  const client = useContext(Room);
  if (client === null) throw new Error('useRoom outside of BoardRoom');
  return client;
}

/** For showing it: these parts of the state, anew only when one of them changes. */
export function useBoard<K extends keyof BoardState>(...names: readonly K[]): Pick<BoardState, K> {
  const last = useRef<Pick<BoardState, K> | null>(null);
  return useSelected((state) => {
    const kept = last.current;
    if (kept !== null && names.every((name) => kept[name] === state[name])) return kept;
    last.current = Object.fromEntries(names.map((name) => [name, state[name]])) as Pick<BoardState, K>;
    return last.current;
  });
}

/** The plan, anew only when it changes. */
export const usePlan = (): Plan => useSelected((state) => state.board.plan);

/** @param select gives the same object as long as what is shown of it is the same */
function useSelected<T>(select: (state: BoardState) => T): T {
  const client = useRoom();
  const read = () => select(client.getState());
  return useSyncExternalStore(client.subscribe, read, read);
}
