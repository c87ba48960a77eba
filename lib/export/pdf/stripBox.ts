import type { DanceStrip } from '../../core/handover/danceStripShape.ts';
import { words } from '../words.ts';
import type { Box } from './boxes.ts';
import { EDGE, GOLD, INK, type Pen, RULE, SOFT } from './pen.ts';

/** Points from the strip's top: names of the parts, the parts themselves, the line of dancing in them. */
const STRIP = { height: 36, names: 7.5, top: 11, line: 22, half: 4, foot: 34 };

/** The whole dance at one glance, as on every page: parts, moves, first step, closing pose, and slips for what is left out. */
export function stripBox(strip: DanceStrip, width: number, scale: number): Box {
  return {
    height: STRIP.height * scale,
    before: 8 * scale,
    parts: [
      {
        tag: 'Figure',
        alt: words.strip(strip),
        draw: (pen, x, y) => draw(pen, strip, x, y, width, scale),
      },
    ],
  };
}

function draw(pen: Pen, strip: DanceStrip, x: number, y: number, width: number, scale: number): void {
  const { doc } = pen;
  const at = (seconds: number) => x + (width * Math.max(0, Math.min(strip.length, seconds))) / strip.length;
  const [top, line, half, foot] = [STRIP.top, STRIP.line, STRIP.half, STRIP.foot].map(
    (one) => one * scale,
  ) as [number, number, number, number];
  for (const { from, to, name, like } of strip.parts) {
    doc
      .save()
      .fillColor(like % 2 === 0 ? '#f3ecdc' : '#e4d8bd')
      .rect(at(from), y + top, at(to) - at(from), foot - top)
      .fill()
      .restore();
    const type = { look: 'sans', size: 7.2 * scale, color: SOFT } as const;
    // Cut at its own part: the sheet beneath, or the words of the page, say it in full.
    doc
      .save()
      .rect(at(from), y, Math.max(0, at(to) - at(from) - 2), top)
      .clip();
    pen.line(name, at(from) + 1, y + STRIP.names * scale, type);
    doc.restore();
  }
  doc.save().lineWidth(0.5).strokeColor(EDGE);
  for (const [i, { from, part }] of strip.phrases.entries()) {
    const opens = strip.phrases[i - 1]?.part !== part;
    doc
      .moveTo(at(from), y + (opens ? top : foot - (foot - top) / 4))
      .lineTo(at(from), y + foot)
      .stroke();
  }
  doc
    .moveTo(x, y + foot)
    .lineTo(x + width, y + foot)
    .stroke()
    .restore();
  dancing(pen, strip, at, y + line, half);
  for (const { at: when } of strip.leftOut) slip(pen, at(when), y + top - 1, foot - top + 2, x, x + width);
}

function dancing(
  pen: Pen,
  strip: DanceStrip,
  at: (seconds: number) => number,
  line: number,
  half: number,
): void {
  const { doc } = pen;
  const { walk, firstStep, moves, pose, musicLength } = strip;
  if (walk) {
    doc.save().lineWidth(1).strokeColor(SOFT).dash(3, { space: 2 });
    doc.moveTo(at(walk.from), line).lineTo(at(walk.to), line).stroke().undash().restore();
  }
  if (firstStep !== null) {
    doc.save().lineWidth(1.3).lineCap('round').strokeColor(INK).dash(0.01, { space: 3 });
    doc
      .moveTo(at(firstStep), line)
      .lineTo(at(pose?.from ?? musicLength), line)
      .stroke()
      .undash()
      .restore();
  }
  for (const { from, to } of moves) {
    const wide = Math.max(1.5, at(to) - at(from) - 0.6);
    doc
      .save()
      .fillColor(INK)
      .roundedRect(at(from), line - half, wide, 2 * half, Math.min(half, wide / 2))
      .fill()
      .restore();
  }
  if (firstStep !== null)
    doc
      .save()
      .lineWidth(1.2)
      .strokeColor(INK)
      .fillColor('#ffffff')
      .circle(at(firstStep), line, half * 0.65)
      .fillAndStroke()
      .restore();
  if (pose) {
    doc
      .save()
      .lineWidth(2)
      .lineCap('round')
      .strokeColor(GOLD)
      .moveTo(at(pose.from), line)
      .lineTo(at(pose.to), line)
      .stroke();
    const r = half + 0.5;
    doc
      .lineWidth(1.2)
      .fillColor('#ffffff')
      .path(`M${at(pose.from) - r} ${line - 1.5} a${r} ${r} 0 0 1 ${2 * r} 0`)
      .fillAndStroke();
    doc
      .fillColor(GOLD)
      .circle(at(pose.from), line - 2.4, 1.1)
      .fill()
      .restore();
  }
}

/** What is left out, hatched, however long it is. */
function slip({ doc }: Pen, x: number, y: number, height: number, least: number, most: number): void {
  const wide = 5;
  const left = Math.max(least, Math.min(most - wide, x - wide / 2));
  doc.save().fillColor('#ffffff').rect(left, y, wide, height).fill();
  doc.rect(left, y, wide, height).clip().lineWidth(0.6).strokeColor(SOFT);
  for (let at = -wide; at < height; at += 3)
    doc
      .moveTo(left, y + at + wide)
      .lineTo(left + wide, y + at)
      .stroke();
  doc.restore().save().lineWidth(0.4).strokeColor(RULE).rect(left, y, wide, height).stroke().restore();
}
