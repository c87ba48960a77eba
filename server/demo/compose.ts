import { writeFileSync } from 'node:fs';
import { createMp3Encoder } from 'wasm-media-encoders';
import { id3 } from '../../lib/codec/id3.ts';
import { infoFrame } from '../../lib/codec/infoFrame.ts';
import { lengthOf, type Samples } from '../../lib/core/signal/samples.ts';
import { perform } from './perform.ts';
import { facts } from './song.ts';
import { layOut, truthOf } from './timeline.ts';

/** Renders the demonstration's song again, and beside it what is true of it: `npm run demo:song`. */
const RATE = 44_100;
const KBITS = 112;
const folder = new URL('../../public/demo/', import.meta.url);
const write = (ending: string, content: string | Uint8Array): void =>
  writeFileSync(new URL(`${facts.file}.${ending}`, folder), content);

/** At a bitrate that a page likes; the files made for a DJ are always at 320. */
async function mp3(samples: Samples): Promise<Uint8Array> {
  const encoder = await createMp3Encoder();
  encoder.configure({ sampleRate: samples.rate, channels: 2, bitrate: KBITS });
  const music = Buffer.concat([encoder.encode(samples.channels).slice(), encoder.finalize().slice()]);
  const tag = id3({
    title: facts.title,
    artist: facts.artist,
    comment: 'Synthesised by a program of this project',
  });
  return Buffer.concat([tag, infoFrame(music, lengthOf(samples)), music]);
}

const truth = truthOf(layOut());
write('mp3', await mp3(perform(RATE)));
write('truth.json', `${JSON.stringify(truth)}\n`);
write('beats', truth.beats.map((t, i) => `${t.toFixed(4)}\t${truth.beat_positions[i]}\n`).join(''));
write('lab', truth.sections.map((s) => `${s.start.toFixed(4)}\t${s.end.toFixed(4)}\t${s.label}\n`).join(''));
