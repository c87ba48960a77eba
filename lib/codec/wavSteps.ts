/**
 * The WAV decoder divides what is above zero by one step less than what is below, which bends every sample a little and would
 * not come back bit for bit. This puts both halves on the same scale, in place.
 * @param bits of the file's integer samples: 16 or 24; other kinds are left as they are
 */
export function evenSteps(channels: Float32Array[], bits: number): void {
  if (bits !== 16 && bits !== 24) return;
  const full = 2 ** (bits - 1);
  for (const channel of channels) {
    for (let i = 0; i < channel.length; i++) {
      if (channel[i]! > 0) channel[i] = Math.round(channel[i]! * (full - 1)) / full;
    }
  }
}

/** Bits of the integer samples in a WAV file; 0 for other kinds. */
export function wavBits(bytes: Uint8Array): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = 12; at + 26 <= bytes.length; at += 8 + view.getUint32(at + 4, true)) {
    if (view.getUint32(at) !== 0x666d7420) continue; // 'fmt '
    const kind = view.getUint16(at + 8, true);
    const real = kind === 0xfffe && at + 34 <= bytes.length ? view.getUint16(at + 32, true) : kind;
    return real === 1 ? view.getUint16(at + 22, true) : 0;
  }
  return 0;
}
