import { encodeMp3 } from '../../lib/codec/mp3.ts';
import { encodeWav } from '../../lib/codec/wav.ts';
import { cut, type Edit, edit, wholeSong } from '../../lib/core/edit/edit.ts';
import { render } from '../../lib/core/edit/render.ts';
import { refusalWords } from '../../lib/core/refusal.ts';
import { durationOf } from '../../lib/core/signal/samples.ts';
import { clock, wholeMicros } from '../../lib/core/units.ts';
import { z } from '../../lib/core/zod.ts';
import { jsonOf, put, songOf } from './files.ts';
import type { Verb } from './verb.ts';
import { exact } from './words.ts';
import { need, Wrong } from './wrong.ts';

export const renderVerb: Verb = {
  use: 'AUDIO --edit EDIT.json --out FILE.wav|.mp3',
  does: 'the edit as a file',
  words: 1,
  options: { edit: { type: 'string' }, out: { type: 'string' } },
  async run([path = ''], { edit: editPath, out }) {
    if (typeof editPath !== 'string') throw new Wrong('render: say which edit with --edit EDIT.json.');
    if (typeof out !== 'string') throw new Wrong('render: say where to with --out FILE.wav or FILE.mp3.');
    const wav = /\.wav$/i.test(out);
    if (!wav && !/\.mp3$/i.test(out)) throw new Wrong(`${out}: the name must end in .wav or .mp3.`);
    const wanted = editOf(await jsonOf(editPath), editPath);
    const song = await songOf(path);
    const last =
      wanted.end.kind === 'fade' ? wanted.end.from : Math.max(wanted.start, ...wanted.cuts.map((c) => c.to));
    if (last > song.duration) {
      throw new Wrong(
        `${editPath}: it reaches ${clock(last, 1)}, the recording ends at ${clock(song.duration, 1)}.`,
      );
    }
    const played = need(render(song.samples, wanted), path);
    const floorLength = durationOf(played);
    if (floorLength === 0) throw new Wrong(`${editPath}: nothing of the recording is left.`);
    const bytes = wav
      ? encodeWav(played, 16)
      : need(await encodeMp3(played, { title: '', artist: '', comment: 'Rendered by Larkstep' }), out);
    await put(out, bytes);
    const samples = played.channels[0]!.length;
    return {
      json: { out, floorLength: exact(floorLength), samples, rate: played.rate, bytes: bytes.length },
      text: `${out}: ${clock(floorLength, 1)}, ${samples} samples at ${played.rate} Hz.`,
      line: 'render: copying and editing a recording, and playing it in public, need the rights that local law asks for.',
    };
  },
};

const time = z.number().min(0).max(3600).transform(wholeMicros);
/** As people write it: what is left out has its default, times of any precision. */
const written = z.strictObject({
  start: time.default(0),
  cuts: z
    .array(z.object({ from: time, to: time, crossfade: time.default(0.03) }).catchall(z.unknown()))
    .default([]),
  end: z
    .union([
      z.strictObject({ kind: z.literal('own') }),
      z.strictObject({
        kind: z.literal('fade'),
        from: time,
        length: time.default(8),
        shape: z.string().default('linear'),
        byHand: z.boolean().default(false),
      }),
    ])
    .default({ kind: 'own' }),
  speed: z.number().default(wholeSong.speed),
});

function editOf(value: unknown, path: string): Edit {
  const plain = written.safeParse(value);
  const parsed = plain.success
    ? edit.safeParse({ ...plain.data, cuts: plain.data.cuts.map((c) => pick(c)) })
    : plain;
  if (parsed.success) return parsed.data as Edit;
  throw new Wrong(`${path}: the edit is not as it should be: ${refusalWords(parsed.error)}.`);
}

/** Only what an edit's cut holds; measured figures of a proposal may stand beside it. */
const pick = (given: Record<string, unknown>): unknown =>
  Object.fromEntries(Object.keys(cut.shape).flatMap((key) => (key in given ? [[key, given[key]]] : [])));
