import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { aacTrack } from '../../lib/codec/aacTrack.ts';

const run = (command: string, words: string[]) => spawnSync(command, words, { encoding: 'utf8' });
const there = run('ffmpeg', ['-version']).status === 0 && run('ffprobe', ['-version']).status === 0;

// A coder and a reader that are not ours; where they are not installed, only the refusals are tested.
describe.skipIf(!there)(
  'an M4A or AAC file, written and read by ffmpeg (skipped where it is not installed)',
  () => {
    const made = (name: string, words: string[]) => {
      const folder = mkdtempSync(join(tmpdir(), 'larkstep-aac-'));
      try {
        const file = join(folder, name);
        const tone = ['-v', 'error', '-f', 'lavfi', '-i', 'sine=d=3:r=44100', '-c:a', 'aac'];
        run('ffmpeg', [...tone, ...words, file]);
        const ask = [
          '-v',
          'error',
          '-count_packets',
          '-show_entries',
          'stream=nb_read_packets',
          '-of',
          'csv=p=0',
        ];
        const packets = Number(
          run('ffprobe', [...ask, file])
            .stdout.trim()
            .split(',')[0],
        );
        const track = aacTrack(new Uint8Array(readFileSync(file)));
        if (!track.ok) throw new Error(track.problem.sentence);
        return { track: track.value, packets };
      } finally {
        rmSync(folder, { recursive: true, force: true });
      }
    };

    it.each([
      ['its table at the end', []],
      ['its table first', ['-movflags', '+faststart']],
    ])('M4A with %s: frames, rate, channels, and what of it is music', (_, words) => {
      const { track, packets } = made('tone.m4a', ['-ac', '2', ...words]);
      expect(track).toMatchObject({
        rate: 44100,
        channels: 2,
        missing: 0,
        music: { by: 'edit list', length: 3 },
      });
      // Low complexity, 44.1 kHz, two channels, in two bytes (ISO/IEC 14496-3, 1.6.2.1).
      expect([...track.config.subarray(0, 2)]).toEqual([0x12, 0x10]);
      expect(track.music?.by === 'edit list' && track.music.skip * 44100).toBeCloseTo(1024, 6);
      expect(track.frames.length).toBe(packets);
    });

    it('ADTS: as many frames as there are packets', () => {
      const { track, packets } = made('tone.aac', ['-ac', '1']);
      expect(track).toMatchObject({
        rate: 44100,
        channels: 1,
        config: Uint8Array.of(0x12, 0x08),
        music: null,
      });
      expect(track.frames.length).toBe(packets);
    });
  },
);

describe('what is no AAC', () => {
  it('is none, and no bytes break the reader', () => {
    const problem = { ok: false, problem: { code: 'damaged' } };
    expect(aacTrack(new Uint8Array(0))).toMatchObject(problem);
    expect(aacTrack(new TextEncoder().encode('only words '.repeat(40)))).toMatchObject(problem);
    const moov = [
      0,
      0,
      0,
      24,
      ...new TextEncoder().encode('moov'),
      0,
      0,
      0,
      16,
      ...new TextEncoder().encode('trak'),
      1,
      2,
      3,
      4,
      5,
      6,
      7,
      8,
    ];
    expect(aacTrack(Uint8Array.from(moov))).toMatchObject(problem);
  });
});
