import type { Board } from '../../lib/core/areas/board.ts';
import { boardFile } from '../../lib/core/areas/boardFile.ts';
import { refusalWords } from '../../lib/core/refusal.ts';
import { jsonOf } from './files.ts';
import { Wrong } from './wrong.ts';

/** A board as JSON, from a file; every part is held against its area's schema. */
export async function boardOf(path: string): Promise<Board> {
  const parsed = boardFile.safeParse(await jsonOf(path));
  if (!parsed.success) throw new Wrong(`${path}: not as a board has it: ${refusalWords(parsed.error)}.`);
  return parsed.data;
}
