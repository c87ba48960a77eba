import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { encodeWav } from '../../../lib/codec/wav.ts';
import { plainForm, synth } from '../../kit/synth.ts';
import { passage } from './passage.ts';

/**
 * `node --import tsx tests/codec/files/make.ts` makes the coded files beside it anew, by ffmpeg; they are kept so that the tests that
 * read them need none. The HE-AAC ones are not among them: no coder of that is in Debian; they were made once by that of the package
 * whose decoder is in lib/codec/aac, and the tests hold them against ffmpeg's decoder.
 */
const here = import.meta.dirname;
const folder = mkdtempSync(join(tmpdir(), 'larkstep-files-'));

function make(name: string, rate: number, channels: number, ...how: string[]): void {
  const wav = join(folder, 'passage.wav');
  writeFileSync(wav, encodeWav(passage(rate, channels), 24));
  code(wav, name, how);
}
function code(wav: string, name: string, how: string[]): void {
  const run = spawnSync('ffmpeg', ['-v', 'error', '-y', '-i', wav, '-bitexact', ...how, join(here, name)]);
  if (run.status !== 0) throw new Error(`${name}: ${run.stderr}`);
}

const aac = ['-c:a', 'aac', '-b:a'];
make('lc-44100-stereo.m4a', 44100, 2, ...aac, '64k', '-movflags', '+faststart', '-metadata', 'title=Passage');
make('lc-22050-mono.m4a', 22050, 1, ...aac, '32k');
make('lc-8000-mono.m4a', 8000, 1, ...aac, '16k');
make('lc-96000-stereo.m4a', 96000, 2, ...aac, '96k');
make(
  'lc-48000-fragments.m4a',
  48000,
  2,
  ...aac,
  '64k',
  '-movflags',
  '+frag_keyframe+delay_moov+default_base_moof',
  '-frag_duration',
  '400000',
);
make('lc-44100-stereo.aac', 44100, 2, ...aac, '64k');
make('lossless.m4a', 8000, 1, '-c:a', 'alac', '-sample_fmt', 's16p');
make(
  '44100-stereo.mp3',
  44100,
  2,
  '-c:a',
  'libmp3lame',
  '-b:a',
  '96k',
  '-write_id3v2',
  '1',
  '-metadata',
  'title=Passage',
);
make('22050-mono.mp3', 22050, 1, '-c:a', 'libmp3lame', '-b:a', '32k');
make('48000-variable.mp3', 48000, 2, '-c:a', 'libmp3lame', '-q:a', '6');
make('32000-mono.flac', 32000, 1, '-c:a', 'flac', '-sample_fmt', 's16');
make('96000-stereo.flac', 96000, 2, '-t', '0.25', '-c:a', 'flac', '-sample_fmt', 's32');
make('16000-stereo.oga', 16000, 2, '-c:a', 'flac', '-sample_fmt', 's16');
make('44100-stereo.ogg', 44100, 2, '-c:a', 'libvorbis', '-q:a', '2');
make('22050-mono.ogg', 22050, 1, '-c:a', 'libvorbis', '-q:a', '2');
make('48000-stereo.opus', 48000, 2, '-c:a', 'libopus', '-b:a', '64k');
make('48000-mono.opus', 48000, 1, '-c:a', 'libopus', '-b:a', '32k');

// Enough of a song to be listened to, and small: for the ways through the browsers.
const song = join(folder, 'song.wav');
const { samples } = synth({
  rate: 16000,
  bpm: 120,
  beats: 4,
  subdivision: 2,
  sections: plainForm.slice(1, 3),
  drums: true,
});
writeFileSync(song, encodeWav(samples, 16));
code(song, 'song.m4a', [...aac, '20k']);
rmSync(folder, { recursive: true });
