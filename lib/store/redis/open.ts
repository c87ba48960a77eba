import { createHmac, createSecretKey, randomUUID, timingSafeEqual } from 'node:crypto';
import { createClient } from '@redis/client';
import type { Nodes, Told } from '../nodes.ts';

const CHANNEL = 'larkstep';
const LONGEST_PAUSE_MS = 1000;
const CONNECTING_MS = 2000;
/** A line that is dead without a word is found out by asking. */
const ASKING_MS = 5000;
/** Bytes of an update, at most, that go along. */
const LONGEST_UPDATE = 16 * 1024;
/** Characters of a signature: SHA-256 in base64; and of a node's name, a UUID. */
const SIGNATURE = 44;
const NAME = 36;
/** Messages that wait for an answer, at most, when the line is slow or dead. */
const MOST_WAITING = 10_000;

/**
 * The nodes' line over Redis 7: publish and subscribe only, so that Redis keeps nothing and may be restarted. It need not be
 * there at the start; the line is tried again and again. What is not signed with `key` (HMAC, RFC 2104), which only those know
 * who may use the database, is not heard.
 */
export function openRedisNodes(url: string, key: string): Nodes {
  const self = randomUUID();
  const secret = createSecretKey(key, 'utf8');
  const signatureOf = (text: string): string => createHmac('sha256', secret).update(text).digest('base64');
  const make = () => {
    const client = createClient({
      url,
      disableOfflineQueue: true,
      pingInterval: ASKING_MS,
      // No clock for each message, which costs more than the message: how many may wait is limited.
      commandOptions: { timeout: 0 },
      commandsQueueMaxLength: MOST_WAITING,
      socket: {
        connectTimeout: CONNECTING_MS,
        reconnectStrategy: (tries) => Math.min(50 * 2 ** tries, LONGEST_PAUSE_MS),
      },
    });
    // Said by `connected`; it comes back by itself.
    client.on('error', () => undefined);
    return client;
  };
  const speaker = make();
  const listener = make();
  let closed = false;
  void speaker.connect().catch(() => undefined);
  return {
    async tell(message) {
      if (!speaker.isReady) return;
      const text = self + JSON.stringify(written(message));
      void speaker.publish(CHANNEL, signatureOf(text) + text).catch(() => undefined);
      // The client writes when the loop comes round: before whatever was put there after it.
      await new Promise((resolve) => setImmediate(resolve));
    },
    listen(onTold, onConnected) {
      const hear = (signed: string) => {
        if (signed.startsWith(self, SIGNATURE)) return;
        const text = signed.slice(SIGNATURE);
        if (!areEqual(signed.slice(0, SIGNATURE), signatureOf(text))) return;
        onTold(read(JSON.parse(text.slice(NAME)) as Written));
      };
      const begin = async () => {
        await listener.connect();
        await listener.subscribe(CHANNEL, hear);
        onConnected();
        // It subscribes again by itself before it says that it is ready.
        listener.on('ready', onConnected);
      };
      void begin().catch(() => undefined);
    },
    get connected() {
      return !closed && speaker.isReady && listener.isReady;
    },
    async close() {
      closed = true;
      speaker.destroy();
      listener.destroy();
    },
  };
}

/** As it is on the line: an update in base64. */
type Written = Exclude<Told, { kind: 'stored' }> | (Omit<ToldStored, 'update'> & { update: string | null });
type ToldStored = Extract<Told, { kind: 'stored' }>;

function written(message: Told): Written {
  if (message.kind !== 'stored') return message;
  const { update } = message;
  const isShort = update !== null && update.length <= LONGEST_UPDATE;
  return { ...message, update: isShort ? Buffer.from(update).toString('base64') : null };
}

function read(message: Written): Told {
  if (message.kind !== 'stored') return message;
  return { ...message, update: message.update === null ? null : Buffer.from(message.update, 'base64') };
}

/** In a time that tells nothing. */
function areEqual(one: string, other: string): boolean {
  const [a, b] = [Buffer.from(one), Buffer.from(other)];
  return a.length === b.length && timingSafeEqual(a, b);
}
