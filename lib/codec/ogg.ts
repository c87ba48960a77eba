/** Bytes of a packet's beginning that are given: enough for the headers that are read here. */
const HEAD = 64;

/**
 * The beginnings of all packets of an Ogg file, in order, and how long each packet is (RFC 3533, section 6); of several streams
 * in one file all are given, one page's after the other's.
 */
export function* oggPackets(bytes: Uint8Array): Generator<{ head: Uint8Array; length: number }> {
  let head: number[] = [];
  let length = 0;
  for (let page = 0; page + 27 <= bytes.length; ) {
    if (!isPage(bytes, page)) {
      page = bytes.indexOf(0x4f, page + 1);
      if (page < 0) return;
      continue;
    }
    const lacing = bytes.subarray(page + 27, page + 27 + bytes[page + 26]!);
    let at = page + 27 + lacing.length;
    for (const size of lacing) {
      if (head.length < HEAD) head.push(...bytes.subarray(at, at + Math.min(size, HEAD - head.length)));
      length += size;
      at += size;
      if (size === 255) continue;
      yield { head: Uint8Array.from(head), length };
      head = [];
      length = 0;
    }
    page = at;
  }
}

const isPage = (bytes: Uint8Array, at: number): boolean =>
  bytes[at] === 0x4f && bytes[at + 1] === 0x67 && bytes[at + 2] === 0x67 && bytes[at + 3] === 0x53;
