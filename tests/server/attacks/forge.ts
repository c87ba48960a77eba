import * as encoding from 'lib0/encoding';
import * as Y from 'yjs';

export type Content = Y.Item['content'];

/**
 * Writes updates struct by struct, as a raw client can: nothing is tried on a document first, so that what no honest one would
 * ever make can be sent too.
 */
export class Forge {
  private items: Y.Item[] = [];
  /** The last element at each place: what is put there comes after it, as when a page sets a value anew or goes on with a list. */
  private readonly last = new Map<string, Y.ID>();

  constructor(
    readonly client: number,
    private clock = 0,
  ) {}

  /** @param key of a map or an attribute; null for a place in a list */
  put(parent: string | Y.ID, key: string | null, content: Content): Y.ID {
    const id = Y.createID(this.client, this.clock);
    const place = JSON.stringify([parent, key]);
    // Of what is only written the parent may be a root's name, of which Yjs's types know nothing.
    const at = parent as Y.ID;
    this.items.push(new Y.Item(id, null, this.last.get(place) ?? null, null, null, at, key, content));
    this.clock += content.getLength();
    this.last.set(place, Y.createID(this.client, this.clock - 1));
    return id;
  }

  any(parent: string | Y.ID, key: string | null, value: unknown): Y.ID {
    return this.put(parent, key, new Y.ContentAny([value]));
  }

  type(
    parent: string | Y.ID,
    key: string | null,
    type: ConstructorParameters<typeof Y.ContentType>[0],
  ): Y.ID {
    return this.put(parent, key, new Y.ContentType(type));
  }

  /** All that was put since the last time, as one update in Yjs's first encoding. */
  take(): Uint8Array {
    const encoder = new Y.UpdateEncoderV1();
    encoding.writeVarUint(encoder.restEncoder, 1);
    encoding.writeVarUint(encoder.restEncoder, this.items.length);
    encoder.writeClient(this.client);
    encoding.writeVarUint(encoder.restEncoder, this.items[0]!.id.clock);
    for (const item of this.items) item.write(encoder, 0);
    this.items = [];
    // Nothing deleted.
    encoding.writeVarUint(encoder.restEncoder, 0);
    return encoder.toUint8Array();
  }
}
