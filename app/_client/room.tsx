'use client';

import { createContext, type ReactNode, useContext, useEffect, useState, useSyncExternalStore } from 'react';
import { BoardClient, type BoardState, type Me } from './boardClient.ts';

const Room = createContext<BoardClient | null>(null);

/** Opens the board for everything inside; shows `waiting` until it can be read. */
export function BoardRoom({ me, waiting, children }: { me: Me; waiting: ReactNode; children: ReactNode }) {
  const [client, setClient] = useState<BoardClient | null>(null);
  useEffect(() => {
    const server = `${window.location.protocol === 'https:' ? 'wss' : 'ws'}://${window.location.host}`;
    const opened = new BoardClient(me, server);
    setClient(opened);
    return () => opened.destroy();
  }, [me]);
  if (client === null) return waiting;
  return (
    <Room value={client}>
      <WhenReady waiting={waiting}>{children}</WhenReady>
    </Room>
  );
}

function WhenReady({ waiting, children }: { waiting: ReactNode; children: ReactNode }) {
  return useBoard().ready ? children : waiting;
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
