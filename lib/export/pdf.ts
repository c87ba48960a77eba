import { djFacts } from '../core/agreed/dj.ts';
import { entryFacts } from '../core/agreed/entry.ts';
import { givenFor } from '../core/agreed/given.ts';
import { versionNumber } from '../core/agreed/version.ts';
import type { Board } from '../core/areas/board.ts';
import { danceStripOf } from '../core/handover/danceStrip.ts';
import { djStrip, entryStrip } from '../core/handover/musicStrip.ts';
import { good, type Result } from '../core/result.ts';
import { coupleSheet } from './coupleSheet.ts';
import { djSheet } from './djSheet.ts';
import { entrySheet } from './entrySheet.ts';
import { coupleCard, playable } from './needs.ts';
import type { PaperSize } from './paper.ts';
import { pdfOf } from './pdf/write.ts';

/** The DJ's sheet as a PDF. Problem: `no-song`. */
export async function djPdf(board: Board, size: PaperSize = 'A4'): Promise<Result<Buffer>> {
  const has = playable(board);
  if (!has.ok) return has;
  const facts = djFacts(board, versionNumber(board));
  const strip = danceStripOf(board.plan);
  return good(await pdfOf(djSheet(facts, { given: givenFor(board), strip: strip && djStrip(strip), size })));
}

/** The couple's sheet as a PDF. Problem: `no-song`. */
export async function couplePdf(board: Board, size: PaperSize = 'A4'): Promise<Result<Buffer>> {
  const card = coupleCard(board);
  if (!card.ok) return card;
  return good(await pdfOf(coupleSheet(board, card.value, size)));
}

/** The run-of-show entry as a PDF. */
export function entryPdf(board: Board, size: PaperSize = 'A4'): Promise<Buffer> {
  const strip = danceStripOf(board.plan);
  return pdfOf(entrySheet(entryFacts(board), { strip: strip && entryStrip(strip), size }));
}
