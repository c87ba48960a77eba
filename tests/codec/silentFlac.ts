/** Frames of 65,535 silent samples in two channels (RFC 9639): 14 bytes each. */
export function silentFlac(frames: number): Uint8Array {
  const info = new Uint8Array(34);
  const view = new DataView(info.buffer);
  view.setUint16(0, 65_535);
  view.setUint16(2, 65_535);
  // Rate, channels less one, bits less one; how many samples there are is left unknown.
  view.setUint32(10, (44_100 << 12) | (1 << 9) | (15 << 4));
  const parts = [Uint8Array.from([0x66, 0x4c, 0x61, 0x43, 0x80, 0, 0, 34]), info];
  for (let n = 0; n < frames; n++) {
    // Size in 16 bits at the end, 44.1 kHz, two channels, 16 bits.
    const header = [0xff, 0xf8, 0x79, 0x18, ...utf8(n), 0xff, 0xfe];
    header.push(crc(header, 8, 0x07));
    // Each channel: constant, of value 0.
    const frame = [...header, 0, 0, 0, 0, 0, 0];
    const sum = crc(frame, 16, 0x8005);
    parts.push(Uint8Array.from([...frame, sum >> 8, sum & 255]));
  }
  return Buffer.concat(parts);
}

/** A number as FLAC writes it: as UTF-8 writes a letter. */
const utf8 = (n: number): number[] => [
  ...new TextEncoder().encode(String.fromCodePoint(n < 0xd800 ? n : n + 0x800)),
];

function crc(bytes: readonly number[], bits: number, polynomial: number): number {
  let sum = 0;
  for (const byte of bytes) {
    sum ^= byte << (bits - 8);
    for (let bit = 0; bit < 8; bit++)
      sum =
        sum & (1 << (bits - 1)) ? ((sum << 1) ^ polynomial) & (2 ** bits - 1) : (sum << 1) & (2 ** bits - 1);
  }
  return sum;
}
