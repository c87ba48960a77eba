import { parentPort } from 'node:worker_threads';
import type { Board } from '../core/areas/board.ts';
import type { Problem, Result } from '../core/result.ts';
import type { Paper } from '../protocol/api.ts';
import { fileNameOf } from './fileName.ts';
import { type About, type MadePaper, type PaperWish, paperMakers } from './papers.ts';

export interface PaperRequest {
  paper: Paper;
  board: Board;
  about: About;
  wish: PaperWish;
}
/** `failed` is a fault of ours; a problem is what the board lacks. */
export type PaperReply = MadePaper | { problem: Problem } | { failed: string };

/** A thread of its own makes the papers, because one takes some hundred milliseconds in which nobody else is served. */
parentPort!.on('message', async ({ paper, board, about, wish }: PaperRequest) => {
  try {
    const made = await paperMakers[paper](board, about, wish);
    parentPort!.postMessage(replyOf(made, fileNameOf(paper, board)));
  } catch (error) {
    parentPort!.postMessage({ failed: String(error) } satisfies PaperReply);
  }
});

function replyOf(made: Result<string | Uint8Array>, name: string): PaperReply {
  if (!made.ok) return { problem: made.problem };
  const { value } = made;
  return { bytes: typeof value === 'string' ? new TextEncoder().encode(value) : value, name };
}
