/** What a WAV file's header says (RIFF; Microsoft and IBM, Multimedia Programming Interface and Data Specifications 1.0, 1991). */
export interface WavFacts {
  /** The registered number of the coding: 1 integers, 3 floats, 6 and 7 logarithmic, 2 and 17 ADPCM. */
  kind: number;
  rate: number;
  /** Bytes of a block, which is a sample of all channels, or many of them where it is packed. */
  block: number;
  bits: number;
  /** Samples a channel in a block. */
  perBlock: number;
  /** Bytes of sound that it says follow; null where a recorder did not know yet. */
  bytes: number | null;
}

const PACKED = [2, 0x11];
/** Codings that are decoded here. */
const KNOWN = [1, 3, 6, 7, ...PACKED];
const EXTENSIBLE = 0xfffe;

/** Null where there is no sound in it. */
export function wavFacts(file: Uint8Array): WavFacts | null {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  let facts: Omit<WavFacts, 'bytes'> | null = null;
  for (let at = 12; at + 8 <= file.length; ) {
    const [name, size] = [view.getUint32(at), view.getUint32(at + 4, true)];
    // 'fmt '
    if (name === 0x666d7420 && at + 24 <= file.length) facts = formatAt(view, at + 8);
    // 'data'; 0 and all ones are what a recorder writes that does not know its end yet.
    if (name === 0x64617461)
      return facts && { ...facts, bytes: size === 0 || size === 0xffffffff ? null : size };
    at += 8 + size + (size & 1);
  }
  return null;
}

function formatAt(view: DataView, at: number): Omit<WavFacts, 'bytes'> {
  const word = (offset: number) =>
    at + offset + 2 <= view.byteLength ? view.getUint16(at + offset, true) : 0;
  const given = word(0);
  const kind = given === EXTENSIBLE ? word(24) : given;
  return {
    kind,
    rate: view.getUint32(at + 4, true),
    block: word(12),
    bits: word(14),
    perBlock: PACKED.includes(kind) ? word(18) : 1,
  };
}

/** Seconds of sound that the header says there are; null where it does not. */
export function wavSeconds(file: Uint8Array): number | null {
  const facts = wavFacts(file);
  if (!facts?.bytes || !facts.block || !facts.perBlock) return null;
  const { bytes, block, perBlock, rate } = facts;
  return (Math.floor(bytes / block) * perBlock) / rate;
}

/** A coding inside a WAV that is not decoded here, as people call it; null where it is one that is. */
export function otherWavCoding(file: Uint8Array): string | null {
  const facts = wavFacts(file);
  if (!facts || KNOWN.includes(facts.kind)) return null;
  return (
    { 80: 'MPEG sound', 85: 'an MP3', 255: 'AAC', 49: 'a telephone coding' }[facts.kind] ?? 'a rare coding'
  );
}

/** Bits of the integer samples in a WAV file; 0 for other kinds. */
export function stepBits(file: Uint8Array): number {
  const facts = wavFacts(file);
  return facts?.kind === 1 ? facts.bits : 0;
}
