import { spawn } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import decodeWav from '@audio/decode-wav';
import { bad, good, type Result } from '../core/result.ts';
import type { Samples } from '../core/signal/samples.ts';
import { LIMITS } from './decode.ts';
import { joined } from './joined.ts';

/**
 * AAC and M4A by the ffmpeg that the computer has on its PATH. Its samples are exact to a few milliseconds only: decoders
 * differ in what they take off the beginning.
 */
export async function decodeAacWithFfmpeg(bytes: Uint8Array): Promise<Result<Samples>> {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-'));
  try {
    const file = join(folder, 'song.m4a');
    await writeFile(file, bytes);
    const wav = await ffmpeg(file);
    if (wav === 'missing') {
      const sentence = 'Reading M4A and AAC needs ffmpeg. Install it, or export the song as WAV or MP3.';
      return bad('no AAC', sentence);
    }
    if (wav === 'too much') {
      return bad('too much', 'This song is too long for the memory of this computer. Choose the song alone.');
    }
    if (wav === 'failed') {
      return bad(
        'damaged',
        'No music can be read from this file: it seems to be damaged. Copy or download it again.',
      );
    }
    const { channelData, sampleRate } = decodeWav(wav);
    return good({ rate: sampleRate, channels: channelData });
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

function ffmpeg(file: string): Promise<Uint8Array | 'missing' | 'failed' | 'too much'> {
  const most = String(LIMITS.most + 1);
  const options = [
    '-v',
    'error',
    '-nostdin',
    '-protocol_whitelist',
    'file,pipe',
    '-i',
    file,
    '-vn',
    '-t',
    most,
  ];
  const child = spawn('ffmpeg', [...options, '-c:a', 'pcm_f32le', '-f', 'wav', 'pipe:1'], {
    stdio: ['ignore', 'pipe', 'ignore'],
    timeout: 120_000,
  });
  return new Promise((resolve) => {
    let parts: Uint8Array[] = [];
    let size = 0;
    child.stdout.on('data', (part: Uint8Array) => {
      size += part.length;
      parts.push(part);
      if (size <= LIMITS.decodedBytes) return;
      parts = [];
      child.kill();
      resolve('too much');
    });
    child.on('error', () => resolve('missing'));
    child.on('close', (code) => resolve(code === 0 ? joined(parts) : 'failed'));
  });
}
