import { createHmac, createSecretKey, randomUUID, timingSafeEqual } from 'node:crypto';
import { createClient } from '@redis/client';
import type { Nodes, Told } from '../nodes.ts';

/** Where nodes say their names. What each tells goes by a channel of its own, so that it need not hear itself. */
const NAMES = 'larkstep';
const channelOf = (node: string): string => `${NAMES}:${node}`;
const LONGEST_PAUSE_MS = 1000;
const CONNECTING_MS = 2000;
/** A line that is dead without a word is found out by asking. */
const ASKING_MS = 5000;
/** Bytes of an update, at most, that go along. */
const LONGEST_UPDATE = 16 * 1024;
/** Characters of a signature: SHA-256 in base64. */
const SIGNATURE = 44;
/** Messages that wait for an answer, at most, when the line is slow or dead. */
const MOST_WAITING = 10_000;

/**
 * The nodes' line over Redis 7: publish and subscribe only, so that Redis keeps nothing and may be restarted. It need not be
 * there at the start; the line is tried again and again. What is not signed with `key` (HMAC, RFC 2104), which only those know
 * who may use the database, is not heard.
 */
export function openRedisNodes(url: string, key: string): Nodes {
  const self: string = randomUUID();
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
  const say = (channel: string, text: string) => {
    if (speaker.isReady) void speaker.publish(channel, signatureOf(text) + text).catch(() => undefined);
  };
  const hear = (channel: string, onText: (text: string) => void) =>
    listener.subscribe(channel, (signed) => {
      const text = signed.slice(SIGNATURE);
      if (areEqual(signed.slice(0, SIGNATURE), signatureOf(text))) onText(text);
    });
  const sayName = (asking: boolean) => say(NAMES, JSON.stringify({ node: self, asking } satisfies Name));
  speaker.on('ready', () => sayName(true));
  void speaker.connect().catch(() => undefined);
  return {
    async tell(message) {
      say(channelOf(self), JSON.stringify(written(message)));
      // The client writes when the loop comes round: before whatever was put there after it.
      await new Promise((resolve) => setImmediate(resolve));
    },
    listen(onTold, onConnected) {
      const known = new Set<string>([self]);
      const meet = async ({ node, asking }: Name) => {
        if (asking && node !== self) sayName(false);
        if (known.has(node)) return;
        known.add(node);
        await hear(channelOf(node), (text) => onTold(read(JSON.parse(text) as Written))).catch((error) => {
          known.delete(node);
          throw error;
        });
        onConnected();
      };
      const begin = async () => {
        await listener.connect();
        await hear(NAMES, (text) => void meet(JSON.parse(text) as Name).catch(() => undefined));
        const onReady = () => {
          sayName(true);
          onConnected();
        };
        onReady();
        // It subscribes again by itself before it says that it is ready.
        listener.on('ready', onReady);
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

/** A node that speaks, and whether it asks who else does. */
interface Name {
  node: string;
  asking: boolean;
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
