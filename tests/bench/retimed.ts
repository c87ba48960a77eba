/**
 * A standard MIDI file (format 0 or 1, the published specification) with each event at another time: written anew at one tempo and half
 * a millisecond a tick, since players round at each change of tempo, which adds up.
 * @param placed seconds at which a place, in quarter notes, is to sound
 */
export function retimed(midi: Uint8Array, placed: (quarters: number) => number): Uint8Array {
  const view = new DataView(midi.buffer, midi.byteOffset, midi.byteLength);
  const perQuarter = view.getUint16(12);
  const chunks: Uint8Array[] = [];
  for (let at = 14; at < midi.length; ) {
    const length = view.getUint32(at + 4);
    chunks.push(trackAt(midi.subarray(at + 8, at + 8 + length), perQuarter, placed));
    at += 8 + length;
  }
  const head = Uint8Array.of(
    0x4d,
    0x54,
    0x68,
    0x64,
    0,
    0,
    0,
    6,
    0,
    1,
    0,
    chunks.length,
    1000 >> 8,
    1000 & 255,
  );
  return Uint8Array.from([head, ...chunks].flatMap((chunk) => [...chunk]));
}

const TICKS_A_SECOND = 2000;
const TEMPO = 0x51;

function trackAt(track: Uint8Array, perQuarter: number, placed: (quarters: number) => number): Uint8Array {
  const out: number[] = [0, 0xff, TEMPO, 3, 0x07, 0xa1, 0x20];
  let [at, tick, last, status] = [0, 0, 0, 0];
  const variable = (): number => {
    let value = 0;
    for (;;) {
      const byte = track[at++]!;
      value = value * 128 + (byte & 127);
      if (byte < 128) return value;
    }
  };
  while (at < track.length) {
    tick += variable();
    const start = at;
    if (track[at]! >= 128) status = track[at++]!;
    const running = start === at;
    let drop = false;
    if (status === 0xff) {
      drop = track[at++] === TEMPO;
      const length = variable();
      at += length;
    } else if (status >= 0xf0) {
      const length = variable();
      at += length;
    } else at += status >> 4 === 0xc || status >> 4 === 0xd ? 1 : 2;
    if (drop) continue;
    const now = Math.max(last, Math.round(placed(tick / perQuarter) * TICKS_A_SECOND));
    out.push(...encoded(now - last), ...(running ? [status] : []), ...track.subarray(start, at));
    last = now;
  }
  const size = out.length;
  return Uint8Array.from([
    0x4d,
    0x54,
    0x72,
    0x6b,
    size >>> 24,
    (size >> 16) & 255,
    (size >> 8) & 255,
    size & 255,
    ...out,
  ]);
}

/** A variable-length quantity. */
function encoded(value: number): number[] {
  const bytes = [value & 127];
  for (let rest = Math.floor(value / 128); rest > 0; rest = Math.floor(rest / 128))
    bytes.unshift((rest & 127) | 128);
  return bytes;
}
