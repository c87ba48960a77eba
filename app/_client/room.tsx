'use client';

import { createContext, type ReactNode, useContext, useEffect, useState, useSyncExternalStore } from 'react';
import { Waiting } from '../_ui/waiting.tsx';
import { BoardClient, type BoardState, type Me } from './boardClient.ts';

const Room = createContext<BoardClient | null>(null);

/** Opens the board for everything inside, which is shown once it can be read. */
export function BoardRoom({ me, children }: { me: Me; children: ReactNode }) {
  const [client, setClient] = useState<BoardClient | null>(null);
  useEffect(() => {
    const server = `${window.location.protocol === 'https:' ? 'wss' : 'ws'}://${window.location.host}`;
    const opened = new BoardClient(me, server);
    setClient(opened);
    return () => opened.destroy();
  }, [me]);
  if (client === null) return <Waiting />;
  return (
    <Room value={client}>
      <WhenReady>{children}</WhenReady>
    </Room>
  );
}

function WhenReady({ children }: { children: ReactNode }) {
  const { ready, closed, passing } = useBoard();
  return ready ? children : <Waiting said={closed ?? passing} over={closed !== null} />;
}

/** For changing the board: `change`, `undo`, `text`, `lookAt`. */
export function useRoom(): BoardClient {
  const client = useContext(Room);
  if (client === null) throw new Error('useRoom outside of BoardRoom');
  return client;
}

/** For showing it: the state, anew after each change. */
export function useBoard(): BoardState {
  const client = useRoom();
  return useSyncExternalStore(client.subscribe, client.getState, client.getState);
}
