import { readFile } from 'node:fs/promises';
import type { AacProgram } from './aac.ts';

/** The AAC decoder's program from this checkout. */
export const aacProgram: AacProgram = () => readFile(new URL('aac/aac.wasm', import.meta.url));
