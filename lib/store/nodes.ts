import type { AreaName } from '../core/areas/board.ts';
import type { Claim } from './store.ts';

/** One person's cursor and name in an area, as awareness has it: `json` is the text "null" when they have left. */
export interface Person {
  client: number;
  clock: number;
  json: string;
  membership: string;
}

/** An update that is stored under this number, with the claims that came with it. */
export interface Stored {
  number: number;
  /** So that it need not be read from the store; null of one that is too long for the line. */
  update: Uint8Array | null;
  claims: readonly Claim[];
}

/** What nodes that share a store tell each other; `frozen` also of a link that is so no longer. `stored` and those that end something are also to be found in the store. */
export type Told =
  | ({ kind: 'stored'; board: string; area: AreaName } & Stored)
  | { kind: 'who is here'; board: string; area: AreaName }
  | { kind: 'here'; board: string; area: AreaName; people: Person[] }
  | { kind: 'revoked'; link: string }
  | { kind: 'frozen'; link: string }
  | { kind: 'signed out'; session: string }
  | { kind: 'removed'; board: string };

/** The line between the nodes. A message may be lost, and nothing that was promised to anybody rests on one. */
export interface Nodes {
  /** Resolves when it is on the line, where there is one. */
  tell(message: Told): Promise<void>;
  /** `onConnected` is called whenever messages may have been missed, also the first time. */
  listen(onTold: (message: Told) => void, onConnected: () => void): void;
  readonly connected: boolean;
  close(): Promise<void>;
}

/** For a server that is the only one. */
export const noOthers: Nodes = {
  tell: async () => undefined,
  listen: () => undefined,
  connected: true,
  close: async () => undefined,
};

/** For one of several on a database that have no line between them: each finds in the store what the others did. */
export const noLine: Nodes = { ...noOthers };
