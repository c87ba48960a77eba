/**
 * The WAV decoder divides what is above zero by one step less than what is below, which bends every sample a little and would
 * not come back bit for bit. This puts both halves on the same scale, in place.
 * @param bits of the file's integer samples: 8, 16 or 24; other kinds are left as they are
 */
export function evenSteps(channels: Float32Array[], bits: number): void {
  if (bits !== 8 && bits !== 16 && bits !== 24) return;
  const full = 2 ** (bits - 1);
  for (const channel of channels) {
    for (let i = 0; i < channel.length; i++) {
      if (channel[i]! > 0) channel[i] = Math.round(channel[i]! * (full - 1)) / full;
    }
  }
}
