import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { messageType, syncType } from '../../lib/protocol/messages.ts';

/** What a client says, as y-websocket and y-protocols write it. */
export type Frame =
  | { kind: 'step 1'; vector: Uint8Array }
  | { kind: 'update'; update: Uint8Array; step2: boolean }
  | { kind: 'awareness'; update: Uint8Array }
  | { kind: 'query awareness' };

/** Throws on what cannot be read; null for a type that is none of ours. */
export function readFrame(bytes: Uint8Array): Frame | null {
  const decoder = decoding.createDecoder(bytes);
  const type = decoding.readVarUint(decoder);
  if (type === messageType.queryAwareness) return { kind: 'query awareness' };
  if (type === messageType.awareness) return { kind: 'awareness', update: readBytes(decoder) };
  if (type !== messageType.sync) return null;
  const step = decoding.readVarUint(decoder);
  const content = readBytes(decoder);
  if (step === syncType.step1) return { kind: 'step 1', vector: content };
  if (step === syncType.step2 || step === syncType.update)
    return { kind: 'update', update: content, step2: step === syncType.step2 };
  return null;
}

/**
 * A copy, and of this frame only: what is read from a view goes on beyond its end, into whatever lies there in memory. That may be
 * somebody else's, and is another the next time.
 */
function readBytes(decoder: decoding.Decoder): Uint8Array {
  const length = decoding.readVarUint(decoder);
  if (length > decoder.arr.length - decoder.pos) throw new RangeError('A frame ends before its content.');
  return decoding.readUint8Array(decoder, length).slice();
}

function syncFrame(step: number, content: Uint8Array): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, messageType.sync);
    encoding.writeVarUint(encoder, step);
    encoding.writeVarUint8Array(encoder, content);
  });
}

export const step1Frame = (vector: Uint8Array): Uint8Array => syncFrame(syncType.step1, vector);
export const step2Frame = (update: Uint8Array): Uint8Array => syncFrame(syncType.step2, update);
export const updateFrame = (update: Uint8Array): Uint8Array => syncFrame(syncType.update, update);

export function acknowledgedFrame(number: number): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, messageType.acknowledged);
    encoding.writeVarUint(encoder, number);
  });
}

/** One client's state as awareness has it: `json` is the text "null" when it has left. */
export interface Shown {
  client: number;
  clock: number;
  json: string;
}

export function awarenessFrame(shown: readonly Shown[]): Uint8Array {
  const content = encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, shown.length);
    for (const { client, clock, json } of shown) {
      encoding.writeVarUint(encoder, client);
      encoding.writeVarUint(encoder, clock);
      encoding.writeVarString(encoder, json);
    }
  });
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, messageType.awareness);
    encoding.writeVarUint8Array(encoder, content);
  });
}

export function readShown(update: Uint8Array): Shown[] {
  const decoder = decoding.createDecoder(update);
  const shown: Shown[] = [];
  for (let left = decoding.readVarUint(decoder); left > 0; left--)
    shown.push({
      client: decoding.readVarUint(decoder),
      clock: decoding.readVarUint(decoder),
      json: decoding.readVarString(decoder),
    });
  return shown;
}
