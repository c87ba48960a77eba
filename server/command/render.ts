import { encodeMp3 } from '../../lib/codec/mp3.ts';
import { loadStretch } from '../../lib/codec/stretch.ts';
import { wavPieces } from '../../lib/codec/wav.ts';
import { compileEdit } from '../../lib/core/edit/compile.ts';
import { cut, type Edit, edit, wholeSong } from '../../lib/core/edit/edit.ts';
import { djFile, rendering } from '../../lib/core/edit/render.ts';
import { refusalWords } from '../../lib/core/refusal.ts';
import { clock, wholeMicros } from '../../lib/core/units.ts';
import { z } from '../../lib/core/zod.ts';
import { jsonOf, songOf } from './files.ts';
import { outputAt, overwriteOption, put } from './output.ts';
import type { Verb } from './verb.ts';
import { exact } from './words.ts';
import { need, Wrong } from './wrong.ts';

export const renderVerb: Verb = {
  use: 'AUDIO',
  does: 'the edit as a file, to the sample; with --silent-end the one for the DJ, a silent second longer',
  words: 1,
  options: {
    edit: {
      value: 'EDIT.json',
      does: 'what is played: the edit of a proposal of shape --json',
      needed: true,
    },
    out: { value: 'FILE.wav|.mp3', does: 'where to; its ending says what is written', needed: true },
    'silent-end': { does: "the DJ's file, a silent second longer" },
    bits: { value: '24', does: 'bits a sample of a WAV, 16 or 24', usual: '16' },
    title: { value: 'WORDS', does: "the MP3's title", usual: 'none' },
    artist: { value: 'WORDS', does: "the MP3's artist", usual: 'none' },
    ...overwriteOption,
  },
  example: 'render song.mp3 --edit edit.json --out first-dance.wav',
  async run([path = ''], given, report) {
    const { edit: editPath, out, 'silent-end': forDj, bits, title, artist, overwrite } = given;
    if (typeof editPath !== 'string') throw new Wrong('render: say which edit with --edit EDIT.json.');
    if (typeof out !== 'string') throw new Wrong('render: say where to with --out FILE.wav or FILE.mp3.');
    const wav = /\.wav$/i.test(out);
    if (!wav && !/\.mp3$/i.test(out)) throw new Wrong(`${out}: the name must end in .wav or .mp3.`);
    const depth = bits === undefined || bits === '16' ? 16 : bits === '24' ? 24 : null;
    if (depth === null || (bits && !wav)) throw new Wrong('render: --bits is 16 or 24, and of a WAV only.');
    const output = await outputAt(out, { inputs: [path, editPath], overwrite: overwrite === true });
    const wanted = editOf(await jsonOf(editPath), editPath);
    const { samples, duration } = await songOf(path);
    holdWithin(wanted, duration, editPath);
    const { length: floorLength } = compileEdit(wanted, { duration });
    if (floorLength === 0) throw new Wrong(`${editPath}: nothing of the recording is left.`);
    const how = {
      report: (share: number) => report(`render: ${Math.round(100 * share)} %`),
      stretch: wanted.speed === 1 ? undefined : await loadStretch(),
    };
    const sound = need((forDj ? djFile : rendering)(samples, wanted, how), path);
    const tags = {
      title: String(title ?? ''),
      artist: String(artist ?? ''),
      comment: 'Rendered by Larkstep',
    };
    const bytes = await put(output, wav ? wavPieces(sound, depth) : need(await encodeMp3(sound, tags), out));
    const { rate, length } = sound;
    return {
      json: {
        out,
        floorLength: exact(floorLength),
        fileLength: exact(length / rate),
        samples: length,
        rate,
        bytes,
      },
      text: `${out}: ${clock(floorLength, 1)}${forDj ? ' and a silent second' : ''}, ${length} samples at ${rate} Hz.`,
      line: 'render: copying and editing a recording, and playing it in public, need the rights that local law asks for.',
    };
  },
};

function holdWithin({ start, cuts, end }: Edit, duration: number, path: string): void {
  const last = end.kind === 'fade' ? end.from : Math.max(start, ...cuts.map((c) => c.to));
  if (last <= duration) return;
  throw new Wrong(`${path}: it reaches ${clock(last, 1)}, the recording ends at ${clock(duration, 1)}.`);
}

const time = z.pipe(z.number().check(z.minimum(0), z.maximum(3600)), z.transform(wholeMicros));
/** As people write it: what is left out has its default, times of any precision. */
const written = z.strictObject({
  start: z._default(time, 0),
  cuts: z._default(z.array(z.looseObject({ from: time, to: time, crossfade: z._default(time, 0.03) })), []),
  end: z._default(
    z.union([
      z.strictObject({ kind: z.literal('own') }),
      z.strictObject({
        kind: z.literal('fade'),
        from: time,
        length: z._default(time, 8),
        shape: z._default(z.string(), 'linear'),
        byHand: z._default(z.boolean(), false),
      }),
    ]),
    { kind: 'own' },
  ),
  speed: z._default(z.number(), wholeSong.speed),
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
  Object.fromEntries(
    Object.keys(cut.shape).flatMap((key) => (Object.hasOwn(given, key) ? [[key, given[key]]] : [])),
  );
