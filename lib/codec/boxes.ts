/** A box of an ISO base media file (ISO/IEC 14496-12, 4.2): its type, what is in it, and where that begins in the file. */
export interface Box {
  type: string;
  body: Uint8Array;
  /** It claims more bytes than there are. */
  isCut: boolean;
}

export const view = (bytes: Uint8Array) => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** The boxes in a stretch of a file; the last may be cut off. */
export function boxes(bytes: Uint8Array): Box[] {
  const found: Box[] = [];
  const data = view(bytes);
  for (let at = 0; at + 8 <= bytes.length; ) {
    let size = data.getUint32(at);
    let head = 8;
    if (size === 1 && at + 16 <= bytes.length) {
      size = Number(data.getBigUint64(at + 8));
      head = 16;
    } else if (size === 0) size = bytes.length - at;
    if (size < head) break;
    const type = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    found.push({ type, body: bytes.subarray(at + head, at + size), isCut: at + size > bytes.length });
    at += size;
  }
  return found;
}

/** The first box along a path of types. */
export function inside(bytes: Uint8Array, ...path: string[]): Uint8Array | null {
  let here: Uint8Array | null = bytes;
  for (const type of path) here = here && (boxes(here).find((box) => box.type === type)?.body ?? null);
  return here;
}
