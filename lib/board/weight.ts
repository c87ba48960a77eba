import * as Y from 'yjs';

/** How much there is of something: bytes in round numbers, and the structs that a document keeps it as. */
export interface Weight {
  bytes: number;
  structs: number;
}

/** What a struct takes beside its content: ids, neighbours, a place. */
const STRUCT_BYTES = 20;

/** What these clients have put into a document, as far as it is still there; of all clients where none are named. */
export function weightOf(doc: Y.Doc, clients: Iterable<number> = doc.store.clients.keys()): Weight {
  const weight = { bytes: 0, structs: 0 };
  for (const client of clients) {
    const structs = doc.store.clients.get(client) ?? [];
    weight.structs += structs.length;
    for (const struct of structs)
      weight.bytes += STRUCT_BYTES + (struct instanceof Y.Item ? bytesOf(struct) : 0);
  }
  return weight;
}

function bytesOf({ content }: Y.Item): number {
  if (content instanceof Y.ContentString) return Buffer.byteLength(content.str);
  if (content instanceof Y.ContentAny) return Buffer.byteLength(JSON.stringify(content.arr));
  return 0;
}
