const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Base64 with padding (RFC 4648, section 4). */
export function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const left = bytes.length - i;
    const word = (bytes[i]! << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    text += ALPHABET[word >> 18]! + ALPHABET[(word >> 12) & 63]!;
    text += left > 1 ? ALPHABET[(word >> 6) & 63]! : '=';
    text += left > 2 ? ALPHABET[word & 63]! : '=';
  }
  return text;
}

const VALUES = new Map([...ALPHABET].map((letter, value) => [letter, value]));

/** The bytes of a base64 text; letters outside the alphabet end it. */
export function fromBase64(text: string): Uint8Array {
  let length = 0;
  while (length < text.length && VALUES.has(text[length]!)) length++;
  const bytes = new Uint8Array(Math.floor((length * 3) / 4));
  for (let i = 0, held = 0, bits = 0, at = 0; i < length; i++) {
    held = ((held << 6) | VALUES.get(text[i]!)!) & 0xffff;
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes[at++] = (held >> bits) & 255;
    }
  }
  return bytes;
}
