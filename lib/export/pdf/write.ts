import PDFDocument from 'pdfkit';
import type { Paper, PaperSize } from '../paper.ts';
import { words } from '../words.ts';
import { type Box, boxesOf } from './boxes.ts';
import { type Faces, facesFor } from './faces.ts';
import { isLost, LOST } from './lines.ts';
import { Pen, SOFT } from './pen.ts';

/** Points. */
const PAGES: Record<PaperSize, [width: number, height: number]> = {
  A4: [595.28, 841.89],
  LETTER: [612, 792],
};
const MARGIN = 46;
const FOOT = 30;

/** A paper is made smaller, so far, where that saves a page; letters of facts stay above 8 points. */
const SCALES = [0.95, 0.9, 0.85, 0.8];

/** The paper as a tagged PDF: A4 or Letter, every letter in a font that has it, or a blank and a word that says so. */
export async function pdfOf(paper: Paper): Promise<Buffer> {
  const faces = await facesFor(`${JSON.stringify(paper)}${LOST}`);
  const said = isLost(JSON.stringify(paper).normalize('NFC'), faces)
    ? {
        ...paper,
        blocks: [{ kind: 'words' as const, words: words.lost(LOST), wrong: true }, ...paper.blocks],
      }
    : paper;
  return write(said, faces);
}

function write(paper: Paper, faces: Faces): Promise<Buffer> {
  const [width, height] = PAGES[paper.size];
  const room = { width: width - 2 * MARGIN, height: height - MARGIN - FOOT - 14 };
  const pages = fitted(paper, room, faces);
  const doc = new PDFDocument({
    size: [width, height],
    margin: 0,
    autoFirstPage: false,
    pdfVersion: '1.7',
    tagged: true,
    lang: 'en',
    displayTitle: true,
    info: { Title: paper.title, Subject: paper.under, Creator: 'Larkstep', Producer: 'Larkstep' },
  });
  const chunks: Buffer[] = [];
  const done = new Promise<Buffer>((resolve, reject) => {
    doc.on('data', (chunk: Buffer) => chunks.push(chunk));
    doc.on('end', () => resolve(Buffer.concat(chunks)));
    doc.on('error', reject);
  });
  const pen = new Pen(doc, faces);
  const root = doc.struct('Document');
  doc.addStructure(root);
  for (const [i, page] of pages.entries()) {
    doc.addPage();
    draw(page, pen, root);
    doc.markContent('Artifact', { type: 'Pagination' });
    const foot = words.foot(paper.foot, i + 1, pages.length);
    pen.line(foot, MARGIN, height - FOOT, { look: 'sans', size: 8, color: SOFT }, room.width);
    doc.endMarkedContent();
  }
  root.end();
  doc.end();
  return done;
}

/** On as few pages as may be without letters that are too small to read; in full size where that does not help. */
function fitted(paper: Paper, room: { width: number; height: number }, faces: Faces): Box[][] {
  const own = 1 + paper.blocks.filter(({ kind }) => kind === 'page').length;
  const at = (scale: number) => inPages(boxesOf(paper, room.width, scale, faces), room.height);
  const whole = at(1);
  if (whole.length <= own) return whole;
  const smaller = SCALES.map(at);
  const fewest = Math.min(whole.length, ...smaller.map((pages) => pages.length));
  return [whole, ...smaller].find((pages) => pages.length === fewest)!;
}

function inPages(boxes: readonly Box[], most: number): Box[][] {
  const pages: Box[][] = [];
  let used = Number.POSITIVE_INFINITY;
  for (const [i, box] of boxes.entries()) {
    const next = box.withNext ? boxes[i + 1] : undefined;
    const needs = box.height + (next ? next.before + next.height : 0);
    if (box.newPage || used + box.before + needs > most) {
      pages.push([]);
      used = 0;
    } else used += box.before;
    pages.at(-1)!.push(box);
    used += box.height;
  }
  return pages;
}

function draw(page: readonly Box[], pen: Pen, root: PDFKit.PDFStructureElement): void {
  const { doc } = pen;
  let list: PDFKit.PDFStructureElement | null = null;
  let y = MARGIN;
  for (const [i, box] of page.entries()) {
    if (i > 0) y += box.before;
    const top = y;
    if (!box.item) list = null;
    else if (!list) {
      list = doc.struct('L');
      root.add(list);
    }
    for (const { tag, alt, draw: part } of box.parts) {
      if (tag === null) {
        doc.markContent('Artifact', { type: 'Layout' });
        part(pen, MARGIN, top);
        doc.endMarkedContent();
        continue;
      }
      const element = doc.struct(tag, alt === undefined ? {} : { alt });
      (tag === 'LI' && list ? list : root).add(element);
      element.add(() => part(pen, MARGIN, top));
      element.end();
    }
    y += box.height;
  }
}
