/** First number of every frame on a sync connection: those of y-websocket, and one of our own. */
export const messageType = {
  sync: 0,
  awareness: 1,
  queryAwareness: 3,
  /**
   * Sent only to a client that connects with `?ack=1`: how many of this connection's update and step-2 frames, counted from
   * 1 in the order they were sent, are stored durably. "Saved" is: acknowledged equals sent, and connected.
   */
  acknowledged: 100,
} as const;

/** Second number of a sync frame, as y-protocols has it. */
export const syncType = { step1: 0, step2: 1, update: 2 } as const;

/** Where the areas of a board sync: for a stock client, the server address and the room's name. */
export const syncPath = (board: string): string => `/sync/${board}`;

/** A frame may carry a days-old backlog, so its limit is what an area holds at most (`server/sync/limits.ts`). */
export const LARGEST_FRAME = 4 * 1024 * 1024;
