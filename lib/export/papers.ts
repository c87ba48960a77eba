import { entryFacts } from '../core/agreed/entry.ts';
import type { Board } from '../core/areas/board.ts';
import type { Instant } from '../core/calendar.ts';
import { good, type Result } from '../core/result.ts';
import type { Paper } from '../protocol/api.ts';
import { entryCsv } from './csv.ts';
import { entryIcs } from './ics.ts';
import type { PaperSize } from './paper.ts';
import { movesVtt } from './vtt.ts';

export interface PaperWish {
  size: PaperSize;
  /** In whose time the captions are: of the music as played, or of the recording. */
  clock: 'floor' | 'record';
}

/** A paper as a file to keep. */
export interface MadePaper {
  bytes: Uint8Array;
  /** Whom, what, which version and day. */
  name: string;
}

/** What a board does not tell of itself. */
export interface About {
  /** By which a calendar knows its event again. */
  id: string;
  /** When the paper is made. */
  at: Instant;
}

type Maker = (
  board: Board,
  about: About,
  wish: PaperWish,
) => Promise<Result<string | Uint8Array>> | Result<string | Uint8Array>;

/** The sheet writer is large: the other papers need not wait for it. */
const sheets = () => import('./pdf.ts');

/** Each paper, holding what this board tells: whoever may not read an area hands in a board without it. */
export const paperMakers: Record<Paper, Maker> = {
  'dj.pdf': async (board, _about, { size }) => (await sheets()).djPdf(board, size),
  'couple.pdf': async (board, _about, { size }) => (await sheets()).couplePdf(board, size),
  'planner.pdf': async (board, _about, { size }) => good(await (await sheets()).entryPdf(board, size)),
  'planner.ics': (board, { id, at }) =>
    entryIcs(entryFacts(board), { id, place: board.plan.venue ?? '', stamp: at }),
  'planner.csv': (board) => good(entryCsv(entryFacts(board))),
  'moves.vtt': ({ plan }, _about, { clock }) => good(movesVtt(plan, clock)),
  'board.json': (board) => good(JSON.stringify(board, null, 2)),
};
