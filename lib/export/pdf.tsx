import { renderToBuffer } from '@react-pdf/renderer';
import type { DjFacts } from '../core/agreed/dj.ts';
import { entryFacts } from '../core/agreed/entry.ts';
import type { Given } from '../core/agreed/given.ts';
import type { Board } from '../core/areas/board.ts';
import { good, type Result } from '../core/result.ts';
import { CoupleSheet } from './coupleSheet.tsx';
import { DjSheet } from './djSheet.tsx';
import { EntrySheet } from './entrySheet.tsx';
import { loadFonts } from './fonts.ts';
import { coupleCard } from './needs.ts';
import type { PaperSize } from './paper.tsx';

/** The DJ's sheet as a PDF. @param given for what a yes was given, where the sheet is to say that */
export async function djPdf(
  facts: DjFacts,
  size: PaperSize = 'A4',
  given: Given | null = null,
): Promise<Buffer> {
  await loadFonts();
  return renderToBuffer(<DjSheet facts={facts} given={given} size={size} />);
}

/** The couple's sheet as a PDF. Problem: `no-song`. */
export async function couplePdf(board: Board, size: PaperSize = 'A4'): Promise<Result<Buffer>> {
  const card = coupleCard(board);
  if (!card.ok) return card;
  await loadFonts();
  return good(await renderToBuffer(<CoupleSheet board={board} card={card.value} size={size} />));
}

/** The run-of-show entry as a PDF. */
export async function entryPdf(board: Board, size: PaperSize = 'A4'): Promise<Buffer> {
  await loadFonts();
  return renderToBuffer(<EntrySheet entry={entryFacts(board)} size={size} />);
}
