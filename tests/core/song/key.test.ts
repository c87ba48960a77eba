import { describe, expect, it } from 'vitest';
import { framesOf } from '../../../lib/core/song/frames.ts';
import { keyOf } from '../../../lib/core/song/key.ts';
import { synth } from '../../kit/synth.ts';

const bars = (text: string): string[] => text.split(' ');

/** Key of parts, each with its chords and by how much it is raised. */
function keyOfParts(parts: readonly { chords: readonly string[]; raised?: number }[]) {
  const { samples, sections, bars } = synth({
    bpm: 150,
    beats: 4,
    subdivision: 2,
    sections: parts.map(({ chords }) => ({ chords, bars: chords.length, like: 'A', level: 0.7 })),
  });
  const frames = framesOf(samples, () => {});
  const stays = sections.map(({ start, end }, i) => ({ start, end, raised: parts[i]!.raised ?? 0 }));
  return keyOf(frames, bars, stays);
}

/** The same four chords are at home in a key and in its relative: where the song begins and ends tells which (common practice, no source). */
describe('key', () => {
  it('I V vi IV that ends on I is major', () => {
    const chords = bars('0 7 9m 5 0 7 9m 5 0 7 9m 5 0 7 5 0');
    expect(keyOfParts([{ chords }]).key).toBe('C major');
  });

  it('i VI III VII that ends on i is minor', () => {
    const chords = bars('9m 5 0 7 9m 5 0 7 9m 5 0 7 9m 4 9m 9m');
    expect(keyOfParts([{ chords }]).key).toBe('A minor');
  });

  it('what is raised at the end does not decide', () => {
    const chords = bars('0 5 7 0 0 9m 2m 7 0 5 7 0 5 7 0 0');
    const raised = bars('2 7 9 2 7 9 2 2');
    const found = keyOfParts([{ chords }, { chords: raised, raised: 2 }]);
    expect(found.key).toBe('C major');
    expect(found.confidence).toBeGreaterThan(keyOfParts([{ chords }, { chords: raised }]).confidence);
  });
});
