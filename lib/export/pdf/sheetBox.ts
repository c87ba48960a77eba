import type { PaperRow, PaperSheet } from '../../core/handover/paperSheet.ts';
import { clock } from '../../core/units.ts';
import { words } from '../words.ts';
import type { Box } from './boxes.ts';
import { EDGE, GOLD, INK, type Pen, RULE, SOFT, WINE } from './pen.ts';

/** Points of a row at full size: where its words, its line of dancing and its ruler lie, and how high it is. */
const ROW = { height: 31, words: 8.5, line: 15, half: 5.2, ruler: 23.5, numbers: 30.5 };
/** Left of the ruler: the section's rule, the time, and the word that opens the row. */
const LEFT = { bar: 5, time: 28, word: 104 };

/** The phrase sheet, a box a row, all to one scale; what is left out lies between them, hatched. */
export function sheetBoxes(sheet: PaperSheet, width: number, scale: number): Box[] {
  const left = LEFT.bar + LEFT.time + LEFT.word + 6;
  const unit = (width - left - 6) / (sheet.columns + 1);
  return [
    ...sheet.leftOutBefore.map((one) => leftOutBox(one, left, width, scale)),
    ...sheet.rows.flatMap((row) => [
      rowBox(row, left, unit, scale),
      ...row.leftOut.map((one) => leftOutBox(one, left, width, scale)),
    ]),
  ];
}

function rowBox(row: PaperRow, left: number, unit: number, scale: number): Box {
  const name = row.section === '' ? 0 : 11 * scale;
  const k = (points: number) => points * scale;
  return {
    height: name + k(ROW.height),
    before: row.section === '' ? 0 : k(3),
    item: true,
    parts: [
      {
        tag: 'LI',
        draw: (pen, x, y) => {
          if (name > 0)
            pen.line(row.section.toUpperCase(), x + k(LEFT.bar), y + k(7.5), { look: 'bold', size: k(7.2) });
          const base = y + name + k(ROW.line) + k(3);
          pen.line(clock(row.floor), x + k(LEFT.bar), base, { look: 'sans', size: k(8.5), color: SOFT });
          if (row.word)
            pen.wordBefore(row.word, x + left - 7, base, { look: 'italic', size: k(13.5) }, LEFT.word);
          if (row.isSignal)
            pen.wordBefore(
              words.signal,
              x + left - 7,
              base + k(8.5),
              { look: 'sans', size: k(7), color: WINE },
              LEFT.word,
            );
        },
      },
      // The drawing is read as its words, in the order in which they are danced.
      { tag: 'Figure', alt: said(row), draw: (pen, x, y) => drawing(pen, row, x + left, y + name, unit, k) },
      {
        tag: null,
        draw: (pen, x, y) => {
          pen.doc.save().lineWidth(1).strokeColor(RULE);
          pen.doc
            .moveTo(x + 0.5, y + name - (name > 0 ? k(9) : 0))
            .lineTo(x + 0.5, y + name + k(ROW.ruler))
            .stroke()
            .restore();
        },
      },
    ],
  };
}

type K = (points: number) => number;

function drawing(pen: Pen, row: PaperRow, x: number, y: number, unit: number, k: K): void {
  const { doc } = pen;
  const at = (count: number) => x + count * unit;
  const line = y + k(ROW.line);
  const ruler = y + k(ROW.ruler);
  if (row.counts === 0) {
    pen.line(words.noCounts(Math.round(row.seconds)), x, line + k(3), {
      look: 'sans',
      size: k(8.5),
      color: SOFT,
    });
    return;
  }
  doc.save().lineWidth(0.6).strokeColor(EDGE);
  doc.moveTo(x, ruler).lineTo(at(row.counts), ruler).stroke();
  for (let i = 0; i < row.counts; i++)
    doc
      .moveTo(at(i), ruler)
      .lineTo(at(i), ruler - k(row.bars.includes(i) ? 5 : 2))
      .stroke();
  doc.restore();
  for (const [i, one] of row.said.entries())
    pen.line(String(one), at(i), y + k(ROW.numbers), { look: 'sans', size: k(6.8), color: SOFT });
  for (const { from, to } of row.basics) dots(pen, at(from) + 2.5, at(to) - 2, line);
  for (const { from, to } of row.preparations) {
    doc.save().fillColor(SOFT).fillOpacity(0.4);
    doc
      .polygon([at(from), line], [at(to), line - k(ROW.half)], [at(to), line + k(ROW.half)])
      .fill()
      .restore();
  }
  for (const move of row.moves) ribbon(pen, move, at, line, k);
  if (row.walk) {
    doc.save().lineWidth(1).strokeColor(SOFT).dash(4, { space: 2.5 });
    doc.moveTo(at(row.walk.from), line).lineTo(at(row.walk.to), line).stroke().undash().restore();
    if (row.walk.words)
      pen.line(row.walk.words, at(row.walk.from), line - k(4), { look: 'sans', size: k(8.5), color: SOFT });
  }
  if (row.firstStep !== null) {
    doc.save().lineWidth(1.3).strokeColor(INK).fillColor('#ffffff');
    doc.circle(at(row.firstStep), line, k(3)).fillAndStroke().restore();
    pen.line(words.firstStep, at(row.firstStep) + 5, line - k(5), { look: 'bold', size: k(8.5) });
  }
  if (row.pose) {
    const { from, to } = row.pose;
    doc.save().lineWidth(2.2).strokeColor(GOLD).lineCap('round');
    doc
      .moveTo(at(from) + 2, line)
      .lineTo(at(to), line)
      .stroke();
    if (row.pose.words) {
      doc
        .lineWidth(1.3)
        .path(`M${at(from) - k(5)} ${line - k(7)} a${k(5)} ${k(5)} 0 0 1 ${k(10)} 0`)
        .stroke();
      doc
        .fillColor(GOLD)
        .circle(at(from), line - k(8), k(1.2))
        .fill();
    }
    doc.restore();
    if (row.pose.words) beside(pen, row.pose.words, at(from) + k(8), at, line - k(7), k, row);
  }
}

/** The pose's words right of its sign, or left of it where the row's end is near. */
function beside(
  pen: Pen,
  text: string,
  x: number,
  at: (count: number) => number,
  base: number,
  k: K,
  row: PaperRow,
): void {
  const type = { look: 'sans', size: k(8.5), color: GOLD } as const;
  const width = pen.widthOf(text, type);
  const most = at(Math.max(row.counts, 1)) + 60;
  pen.line(text, x + width > most ? Math.max(at(0), x - width - k(16)) : x, base, type);
}

function dots(pen: Pen, from: number, to: number, y: number): void {
  if (to <= from) return;
  pen.doc.save().lineWidth(1.5).lineCap('round').strokeColor(INK).dash(0.01, { space: 4 });
  pen.doc.moveTo(from, y).lineTo(to, y).stroke().undash().restore();
}

function ribbon(
  pen: Pen,
  { from, to, begins, finishes, points, words: label }: PaperRow['moves'][number],
  at: (count: number) => number,
  line: number,
  k: K,
): void {
  const [left, right, half] = [
    at(from) + (begins ? 0.5 : 0),
    at(to) - (finishes && !points ? 0.7 : 0),
    k(ROW.half),
  ];
  const r = Math.min(half, (right - left) / 2);
  const end =
    points && finishes
      ? `L${right} ${line} L${right - 5} ${line + half}`
      : finishes
        ? `A${r} ${half} 0 0 1 ${right - r} ${line + half}`
        : `V${line + half}`;
  const start = begins ? `A${r} ${half} 0 0 1 ${left + r} ${line - half}` : `V${line - half}`;
  const rightTop = points && finishes ? right - 5 : finishes ? right - r : right;
  pen.doc.save().fillColor(INK);
  pen.doc
    .path(
      `M${left + (begins ? r : 0)} ${line - half} H${rightTop} ${end} H${left + (begins ? r : 0)} ${start} Z`,
    )
    .fill()
    .restore();
  if (!begins) return;
  const type = { look: 'bold', size: k(8) } as const;
  const room = right - left - 8;
  // In the ribbon where it fits, else over it.
  if (pen.widthOf(label, type) <= room)
    pen.line(label, left + 5, line + k(2.8), { ...type, color: '#ffffff' });
  else pen.line(label, left, line - half - k(1.5), type);
}

function leftOutBox(text: string, left: number, width: number, scale: number): Box {
  const height = 11 * scale;
  return {
    height,
    before: 2 * scale,
    item: true,
    parts: [
      {
        tag: null,
        draw: ({ doc }, x, y) => {
          doc
            .save()
            .rect(x + left, y, width - left, height)
            .clip()
            .lineWidth(0.5)
            .strokeColor(RULE);
          for (let at = left - height; at < width; at += 5)
            doc
              .moveTo(x + at, y + height)
              .lineTo(x + at + height, y)
              .stroke();
          doc.restore();
        },
      },
      {
        tag: 'LI',
        draw: (pen, x, y) => {
          const type = { look: 'sans', size: 8 * scale, color: SOFT } as const;
          const wide = pen.widthOf(text, type);
          pen.doc
            .save()
            .fillColor('#ffffff')
            .rect(x + left + 8, y, wide + 6, height)
            .fill()
            .restore();
          pen.line(text, x + left + 11, y + height - 3 * scale, type);
        },
      },
    ],
  };
}

/** What is danced in a row, as it is read aloud. */
function said({ walk, firstStep, moves, basics, pose, counts }: PaperRow): string {
  const all = [
    ...(walk?.words ? [{ at: walk.from, words: walk.words }] : []),
    ...(firstStep === null ? [] : [{ at: firstStep, words: words.firstStep }]),
    ...basics.map(({ from }) => ({ at: from, words: words.basic })),
    ...moves.map(({ from, words: label, begins }) => ({
      at: from,
      words: begins ? label : words.goesOn(label),
    })),
    ...(pose?.words ? [{ at: pose.from, words: pose.words }] : []),
  ];
  return [words.counts(counts), ...all.sort((a, b) => a.at - b.at).map((one) => one.words)].join(', ');
}
