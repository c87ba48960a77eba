import { decoder as flacDecoder } from '@audio/decode-flac';
import { decoder as mp3Decoder } from '@audio/decode-mp3';
import { decoder as opusDecoder } from '@audio/decode-opus';
import { decoder as vorbisDecoder } from '@audio/decode-vorbis';
import { decoder as wavDecoder } from '@audio/decode-wav';
import { bad, good, type Result } from '../core/result.ts';
import { durationOf, lengthOf, type Samples } from '../core/signal/samples.ts';
import { clock } from '../core/units.ts';
import { type AacProgram, decodeAac } from './aac.ts';
import { AAC_FRAME } from './aacFormat.ts';
import { aacTrack } from './aacTrack.ts';
import { endsInThePage, promisedSeconds, soundChannels } from './promised.ts';
import { type Format, type Other, sniff } from './sniff.ts';
import { SOUND_LIMITS, type SoundLimits, unpacksTo } from './unpacked.ts';
import { otherWavCoding, stepBits } from './wavFacts.ts';
import { evenSteps } from './wavSteps.ts';

export interface Decoded {
  samples: Samples;
  format: Format;
  /** Samples a second, as the file has them. */
  rate: number;
  channels: number;
  /** Seconds. */
  duration: number;
}

/** What may be decoded; phones, whose memory ends early, have fewer bytes. */
export interface Limits extends SoundLimits {
  fileBytes: number;
  /** Seconds of the shortest song. */
  least: number;
}
export const LIMITS: Limits = { ...SOUND_LIMITS, fileBytes: 100 * 1024 * 1024, least: 10 };

/**
 * Samples of a song's file, at the file's own rate: the same ones in a Worker and in node, since one pinned wasm decoder a
 * format makes them. Fails with one clear sentence for what is no song, damaged, too long or too short.
 * @param aac the program that decodes AAC, which is fetched only for such a file; without it they are refused
 * @param report called with the share decoded, 0 to 1
 */
export async function decode(
  file: Uint8Array,
  {
    limits = LIMITS,
    aac,
    report,
  }: { limits?: Limits; aac?: AacProgram; report?: (share: number) => void } = {},
): Promise<Result<Decoded>> {
  // A Buffer of node's shares its memory where decoders believe that they have a copy.
  const bytes = new Uint8Array(file.buffer, file.byteOffset, file.length);
  if (bytes.length > limits.fileBytes) {
    const most = Math.round(limits.fileBytes / 1024 / 1024);
    return bad('too big', `This file is larger than ${most} MB. Export the song as MP3 and choose that.`);
  }
  const found = sniff(bytes);
  if (!found.audio) return bad('not a song', NO_SONG[found.what]);
  const { format } = found;
  const beyond = unpacksTo(bytes, format, limits);
  if (beyond !== null) return TOO_MUCH[beyond](limits);
  const other = format === 'wav' ? otherWavCoding(bytes) : null;
  if (other !== null) return bad('other codec', otherInWav(other));
  const work = { limits, aac, report };
  const decoded = await (format === 'aac' ? samplesOfAac(bytes, work) : run(format, bytes, work));
  if (!decoded.ok) return decoded;
  const samples = decoded.value;
  const duration = durationOf(samples);
  const promised = promisedSeconds(bytes, format);
  if (lengthOf(samples) === 0) return bad('damaged', DAMAGED);
  if (duration > limits.most) return TOO_MUCH['too long'](limits);
  if (promised !== null && duration < promised - MISSED) return endsEarly(duration, promised);
  if ((format === 'vorbis' || format === 'opus') && endsInThePage(bytes)) return CUT;
  if (duration < limits.least) {
    const sentence = `This is only ${duration.toFixed(1)} seconds long. Choose the whole song.`;
    return bad('too short', sentence);
  }
  return good({ samples, format, rate: samples.rate, channels: samples.channels.length, duration });
}

const NO_SONG: Record<Other, string> = {
  nothing: 'This file is empty. Copy or download it again.',
  text: 'This is a text, whatever its name says, and not a song. Choose the music file.',
  'a film': 'This is a film. Export its sound as WAV or MP3 and choose that.',
  'a picture': 'This is a picture and not a song. Choose the music file.',
  'an archive': 'This is an archive. Unpack it and choose the music file inside.',
  'a document': 'This is a document and not a song. Choose the music file.',
  unknown: 'This file is of no kind we can read. Choose a WAV, MP3, M4A, FLAC, Ogg Vorbis or Opus file.',
};
const DAMAGED = 'No music can be read from this file: it seems to be damaged. Copy or download it again.';
const otherInWav = (what: string) =>
  `This WAV holds ${what}, which cannot be read here. Export it as a WAV of 16 or 24 bits or as an MP3.`;
const TOO_MUCH = {
  'too long': ({ most }: Limits) =>
    bad('too long', `This is longer than ${most / 60} minutes. Choose the song alone.`),
  'too much': () =>
    bad('too much', 'This song is too long for the memory of this device. Open it on a computer.'),
};

const CUT = bad('cut off', 'This file ends in the middle of the song. Copy or download it again.');
const endsEarly = (there: number, promised: number) =>
  bad(
    'cut off',
    `This file ends early: ${clock(there)} of ${clock(promised)} are there. Copy or download it again.`,
  );
/** Seconds that may be missing of what a header promises: some round up. */
const MISSED = 1;

type Work = { limits: Limits; aac: AacProgram | undefined; report: ((share: number) => void) | undefined };

async function samplesOfAac(bytes: Uint8Array, { limits, aac, report }: Work): Promise<Result<Samples>> {
  const track = aacTrack(bytes);
  if (!track.ok) return track;
  const { frames, missing, rate } = track.value;
  const seconds = (count: number) => (count * AAC_FRAME) / rate;
  if (missing === Number.POSITIVE_INFINITY) return CUT;
  if (seconds(missing) > MISSED) return endsEarly(seconds(frames.length), seconds(frames.length + missing));
  if (!aac)
    return bad('no AAC', 'M4A and AAC cannot be read here. Export the song as WAV or MP3 and choose that.');
  return decodeAac(track.value, aac, ({ samples, channels, rate, share }) => {
    report?.(share);
    if (samples > limits.most * rate) return TOO_MUCH['too long'](limits);
    return samples * channels * 4 > limits.decodedBytes ? TOO_MUCH['too much']() : null;
  });
}

interface Decoder {
  decode(chunk: Uint8Array): { channelData: Float32Array[]; sampleRate: number };
  flush?(): { channelData: Float32Array[]; sampleRate: number };
  free(): void;
}
const DECODERS: Record<Exclude<Format, 'aac'>, () => Decoder | Promise<Decoder>> = {
  wav: wavDecoder,
  mp3: mp3Decoder,
  flac: flacDecoder,
  vorbis: vorbisDecoder,
  opus: opusDecoder,
};
/**
 * Bytes a step: small enough to report progress, and to stop at the limits before memory ends. Of Vorbis two bytes may be a packet of
 * 4,096 samples, and how many there are is only roughly known before.
 */
const STEP = 256 * 1024;
const VORBIS_STEP = 2 * 1024;

async function run(
  format: Exclude<Format, 'aac'>,
  bytes: Uint8Array,
  { limits, report }: Work,
): Promise<Result<Samples>> {
  const decoder = await DECODERS[format]();
  const channels = soundChannels(bytes, format);
  const parts: Float32Array[][] = [];
  let rate = 0;
  let total = 0;
  const add = ({ channelData, sampleRate }: { channelData: Float32Array[]; sampleRate: number }) => {
    if (!channelData[0]?.length) return;
    rate ||= sampleRate;
    parts.push(channels === null ? channelData : channelData.slice(0, channels));
    total += channelData[0].length;
  };
  const step = format === 'vorbis' ? VORBIS_STEP : STEP;
  try {
    for (let at = 0; at < bytes.length; at += step) {
      add(decoder.decode(bytes.subarray(at, at + step)));
      if (total > limits.most * rate && rate > 0) return TOO_MUCH['too long'](limits);
      if (total * 4 * (parts[0]?.length ?? 0) > limits.decodedBytes) return TOO_MUCH['too much']();
      report?.(Math.min(1, (at + step) / bytes.length));
    }
    if (decoder.flush) add(decoder.flush());
  } catch {
    if (total === 0) return bad('damaged', DAMAGED);
  } finally {
    decoder.free();
  }
  const whole = joined(parts, total);
  if (format === 'wav') evenSteps(whole, stepBits(bytes));
  return good({ rate: rate || 44100, channels: whole });
}

/** One channel after the other, letting go of its parts, so that the song is never in memory twice. */
function joined(parts: Float32Array[][], total: number): Float32Array[] {
  const count = parts[0]?.length ?? 0;
  return Array.from({ length: count }, (_, channel) => {
    const whole = new Float32Array(total);
    let at = 0;
    for (const part of parts) {
      const piece = part[channel] ?? part[0]!;
      whole.set(piece, at);
      at += piece.length;
      if (channel > 0) part[channel] = new Float32Array(0);
    }
    return whole;
  });
}
