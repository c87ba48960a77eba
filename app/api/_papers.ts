import { djFacts } from '@/lib/core/agreed/dj.ts';
import { entryFacts } from '@/lib/core/agreed/entry.ts';
import { givenFor } from '@/lib/core/agreed/given.ts';
import { versionNumber } from '@/lib/core/agreed/version.ts';
import type { Board } from '@/lib/core/areas/board.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { entryCsv } from '@/lib/export/csv.ts';
import { entryIcs } from '@/lib/export/ics.ts';
import { playable } from '@/lib/export/needs.ts';
import type { PaperSize } from '@/lib/export/paper.tsx';
import { couplePdf, djPdf, entryPdf } from '@/lib/export/pdf.tsx';
import { movesVtt } from '@/lib/export/vtt.ts';
import type { Paper } from '@/lib/protocol/api.ts';
import { instantOf } from '@/lib/zone/dayIn.ts';

export interface PaperWish {
  /** The board's id, by which a calendar knows its event again. */
  id: string;
  size: PaperSize;
  /** In whose time the captions are: of the music as played, or of the recording. */
  clock: 'floor' | 'record';
}

type Written = Result<string | Uint8Array>;
const makers: Record<Paper, (board: Board, wish: PaperWish) => Promise<Written> | Written> = {
  'dj.pdf': async (board, { size }) => {
    const has = playable(board);
    if (!has.ok) return has;
    return good(await djPdf(djFacts(board, versionNumber(board)), size, givenFor(board)));
  },
  'couple.pdf': (board, { size }) => couplePdf(board, size),
  'planner.pdf': async (board, { size }) => good(await entryPdf(board, size)),
  'planner.ics': (board, { id }) =>
    entryIcs(entryFacts(board), { id, place: board.plan.venue ?? '', stamp: instantOf(new Date()) }),
  'planner.csv': (board) => good(entryCsv(entryFacts(board))),
  'moves.vtt': ({ plan }, { clock }) => good(movesVtt(plan, clock)),
  'board.json': (board) => good(JSON.stringify(board, null, 2)),
};

const types: Record<string, string> = {
  pdf: 'application/pdf',
  ics: 'text/calendar; charset=utf-8',
  csv: 'text/csv; charset=utf-8; header=present',
  vtt: 'text/vtt; charset=utf-8',
  json: 'application/json',
};

/** The paper as a file to keep, holding what this board tells: whoever may not read an area hands in a board without it. */
export async function paperOf(paper: Paper, board: Board, wish: PaperWish): Promise<Result<Response>> {
  const written = await makers[paper](board, wish);
  if (!written.ok) return written;
  return good(
    new Response(written.value as BodyInit, {
      headers: {
        'Content-Type': types[paper.split('.')[1]!]!,
        'Content-Disposition': `attachment; filename="${paper}"`,
        'Cache-Control': 'no-store',
      },
    }),
  );
}
