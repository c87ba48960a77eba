import { writeFile } from 'node:fs/promises';
import { encodeMp3 } from '../../lib/codec/mp3.ts';
import { loadStretch } from '../../lib/codec/stretch.ts';
import { wavPieces } from '../../lib/codec/wav.ts';
import type { Edit } from '../../lib/core/edit/edit.ts';
import { rendering } from '../../lib/core/edit/render.ts';
import { lengthOf, type Samples } from '../../lib/core/signal/samples.ts';
import type { Sound } from '../../lib/core/signal/sound.ts';
import { recordTime } from '../../lib/core/units.ts';
import { songOf } from '../../server/command/files.ts';

/** A part of the middle left out, a fade at the end: what a first dance usually is. */
export function usualEdit(duration: number, speed: number): Edit {
  const out = Math.min(30, duration / 6);
  const cuts = [{ from: recordTime(duration / 2), to: recordTime(duration / 2 + out), crossfade: 0.03 }];
  const end = { kind: 'fade', from: recordTime(duration - 9), length: 8 } as const;
  return { start: recordTime(0), cuts, end: { ...end, shape: 'linear', byHand: false }, speed };
}

async function soundOf(samples: Samples, edit: Edit): Promise<Sound> {
  const made = rendering(samples, edit, { stretch: edit.speed === 1 ? undefined : await loadStretch() });
  if (!made.ok) throw new Error(made.problem.sentence);
  return made.value;
}

/** The edit as a file, as the command makes it. */
export async function write(path: string, samples: Samples, edit: Edit): Promise<void> {
  const sound = await soundOf(samples, edit);
  if (path.endsWith('.wav')) {
    await writeFile(path, wavPieces(sound, 16));
    return;
  }
  const made = await encodeMp3(sound, { title: '', artist: '', comment: '' });
  if (!made.ok) throw new Error(made.problem.sentence);
  await writeFile(path, made.value);
}

const MB = 1024 * 1024;
/** Megabytes that the process has had at most. */
const peak = (): number => process.resourceUsage().maxRSS / 1024;

/** As a program, `SONG FILE`: the megabytes that decoding the song and writing the file take besides the decoded samples. */
const [song, path] = process.argv.slice(2);
if (song && path && process.argv[1]?.endsWith('rendered.ts')) {
  const before = peak();
  const { samples, duration } = await songOf(song);
  const own = (lengthOf(samples) * samples.channels.length * 4) / MB;
  const decoded = peak();
  await write(path, samples, usualEdit(duration, 1));
  const figures = { samples: own, decoding: decoded - before - own, all: peak() - before - own };
  process.stdout.write(JSON.stringify(figures));
}
