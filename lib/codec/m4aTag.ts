import type { Music } from './aacFormat.ts';
import { boxes, inside } from './boxes.ts';

/**
 * What players write of the coder's delay into a tag of their own, named iTunSMPB: numbers in hex, of which the second to fourth are
 * samples before, after and of the music. There is no published standard of it; so read by ffmpeg and others.
 */
export function taggedMusic(moov: Uint8Array): Music | null {
  const meta = inside(moov, 'udta', 'meta');
  // A full box: four bytes of version and flags first.
  const list = meta && inside(meta.subarray(4), 'ilst');
  if (!list) return null;
  for (const { type, body } of boxes(list)) {
    if (type !== '----') continue;
    const [name, data] = [inside(body, 'name'), inside(body, 'data')];
    if (!name || !data || textOf(name.subarray(4)) !== 'iTunSMPB') continue;
    const [, before, after, samples] = textOf(data.subarray(8))
      .trim()
      .split(/\s+/)
      .map((hex) => Number.parseInt(hex, 16));
    if (before === undefined || after === undefined || !Number.isFinite(before + after) || !samples)
      return null;
    return { by: 'tag', before, after, samples };
  }
  return null;
}

const textOf = (bytes: Uint8Array): string => new TextDecoder('latin1').decode(bytes);
