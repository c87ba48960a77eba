import { existsSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { type LabelledStretch, parseBeats, parseLab } from '../../lib/core/song/annotation.ts';
import { z } from '../../lib/core/zod.ts';
import { about } from './failure.ts';
import { jsonOf, textOf } from './files.ts';
import { placeOf } from './place.ts';
import { need, Wrong } from './wrong.ts';

/** A song beside which stands what is true of it. */
export interface Annotated {
  folder: string;
  name: string;
  /** Path of the audio file. */
  path: string;
}

const AUDIO = /\.(wav|mp3|flac|ogg)$/i;

/** The songs of all folders beside which stand NAME.beats and NAME.lab, by folder and name. */
export async function annotatedIn(folders: readonly string[]): Promise<Annotated[]> {
  const songs: Annotated[] = [];
  for (const folder of folders) {
    const files = await readdir(placeOf(folder)).catch((error) => {
      const isMissing = ['ENOENT', 'ENOTDIR'].includes((error as NodeJS.ErrnoException).code ?? '');
      throw isMissing ? new Wrong(`${folder}: there is no such folder.`) : about(folder, error);
    });
    const has = new Set(files);
    const annotated = files
      .filter((file) => AUDIO.test(file))
      .filter((file) => has.has(file.replace(AUDIO, '.beats')) && has.has(file.replace(AUDIO, '.lab')))
      .sort();
    if (annotated.length === 0) {
      throw new Wrong(`${folder}: no song with NAME.beats and NAME.lab beside it was found.`);
    }
    for (const file of annotated) {
      songs.push({ folder: basename(folder), name: file.replace(AUDIO, ''), path: join(folder, file) });
    }
  }
  return songs;
}

/** What is true of a song; what NAME.truth.json does not say is undefined. Times are seconds of record time. */
export interface Truth {
  beats: readonly number[];
  downbeats: readonly number[];
  sections: readonly LabelledStretch[];
  metre?: { beats: number; subdivision: number } | undefined;
  /** Sections by the music they share. */
  music?: readonly { start: number; end: number; like: string }[] | undefined;
  key?: string | undefined;
}

/** As much as is needed of NAME.truth.json. */
const truthFile = z.object({
  beats_per_bar: z.optional(z.number()),
  compound: z.optional(z.boolean()),
  key: z.optional(z.object({ tonic: z.string(), mode: z.string() })),
  sections: z.optional(
    z.array(z.object({ start: z.number(), end: z.number(), label: z.string(), material: z.string() })),
  ),
});

export async function truthOf({ path }: Annotated): Promise<Truth> {
  const beside = (ending: string) => path.replace(AUDIO, `.${ending}`);
  const { beats, positions } = need(parseBeats(await textOf(beside('beats'))), beside('beats'));
  const truth: Truth = {
    beats,
    downbeats: beats.filter((_, i) => positions[i] === 1),
    sections: need(parseLab(await textOf(beside('lab'))), beside('lab')),
  };
  if (!existsSync(placeOf(beside('truth.json')))) return truth;
  const parsed = truthFile.safeParse(await jsonOf(beside('truth.json')));
  if (!parsed.success) {
    throw new Wrong(
      `${beside('truth.json')}: ${parsed.error.issues[0]!.path.join('.')} is not as it should be.`,
    );
  }
  const { beats_per_bar: perBar, compound, key, sections } = parsed.data;
  return {
    ...truth,
    metre: perBar === undefined ? undefined : { beats: perBar, subdivision: compound ? 3 : 2 },
    music: sections?.map(({ start, end, material: like }) => ({ start, end, like })),
    key: key && `${key.tonic} ${key.mode}`,
  };
}
