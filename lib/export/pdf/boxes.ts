import type { Block, Paper } from '../paper.ts';
import type { Faces } from './faces.ts';
import { type Line, linesOf } from './lines.ts';
import { GOLD, heightOf, INK, type Pen, RULE, SOFT, type Type, WINE } from './pen.ts';
import { sheetBoxes } from './sheetBox.ts';
import { stripBox } from './stripBox.ts';

/** Structure of a tagged PDF (ISO 32000-1, 14.8.4), as far as papers need it. */
export type Tag = 'H1' | 'H2' | 'P' | 'L' | 'LI' | 'Lbl' | 'LBody' | 'Figure';

/** Something that is drawn whole on one page. */
export interface Box {
  height: number;
  /** Points of air above it, but at a page's head. */
  before: number;
  /** Stands on the page of what comes next. */
  withNext?: boolean;
  /** Begins a page. */
  newPage?: boolean;
  /** An item of a list: neighbours make one list. */
  item?: boolean;
  /** Each part with the tag under which it is read; null for what only adorns. */
  parts: { tag: Tag | null; alt?: string; draw(pen: Pen, x: number, y: number): void }[];
}

/** Widths of the columns of a row, points. */
const COLUMNS = { time: 62, name: 116, word: 128 };

/** A paper's boxes, top down. @param scale of all letters and gaps, 1 unless it has to be made to fit */
export function boxesOf(paper: Paper, width: number, scale: number, faces: Faces): Box[] {
  const set = new Setter(width, scale, faces);
  return [
    set.text('H1', paper.title, { look: 'serif', size: 25 }),
    ...(paper.under ? [set.text('P', paper.under, { look: 'sans', size: 10.5, color: SOFT })] : []),
    ...paper.blocks.flatMap((block, i) => set.block(block, paper.blocks[i - 1])),
    ...set.cautions(paper.cautions),
  ];
}

class Setter {
  private pageNext = false;

  constructor(
    private readonly width: number,
    private readonly scale: number,
    private readonly faces: Faces,
  ) {}

  private sized = (type: Type): Type => ({ ...type, size: type.size * this.scale });
  private lines = (text: string, type: Type, width: number): Line[] =>
    linesOf(text, type.look, type.size, width, this.faces);

  private box(box: Box): Box {
    const made = this.pageNext ? { ...box, newPage: true } : box;
    this.pageNext = false;
    return made;
  }

  text(tag: Tag, text: string, plain: Type, before = 3): Box {
    const type = this.sized(plain);
    const lines = this.lines(text, type, this.width);
    return this.box({
      height: heightOf(lines, type.size),
      before: before * this.scale,
      ...(tag === 'H2' ? { withNext: true } : {}),
      parts: [{ tag, draw: (pen, x, y) => void pen.words(lines, x, y, type) }],
    });
  }

  block(block: Block, last: Block | undefined): Box[] {
    switch (block.kind) {
      case 'page':
        this.pageNext = true;
        return [];
      case 'heading':
        return [this.text('H2', block.words.toUpperCase(), { look: 'bold', size: 9 }, 13)];
      case 'words':
        return [
          this.text('P', block.words, { look: 'sans', size: 10.5, ...(block.wrong ? { color: WINE } : {}) }),
        ];
      case 'figures':
        return [this.figures(block.all)];
      case 'row':
        return [this.row(block, last?.kind === 'row')];
      case 'strip':
        return [this.box(stripBox(block.strip, this.width, this.scale))];
      case 'sheet': {
        const boxes = sheetBoxes(block.sheet, this.width, this.scale);
        return boxes.map((box) => this.box(box));
      }
    }
  }

  private figures(all: Extract<Block, { kind: 'figures' }>['all']): Box {
    const gap = 12;
    const each = (this.width - gap * (all.length - 1)) / all.length;
    const label = this.sized({ look: 'sans', size: 9, color: SOFT });
    const big = this.sized({ look: 'serif', size: 21 });
    const small = this.sized({ look: 'sans', size: 10 });
    const cells = all.map(({ gold, ...words }) => ({
      labels: this.lines(words.label, label, each),
      bigs: this.lines(words.big, big, each),
      smalls: words.words ? this.lines(words.words, small, each) : [],
      gold,
    }));
    const pad = 7 * this.scale;
    const height =
      pad +
      Math.max(
        ...cells.map(
          ({ labels, bigs, smalls }) =>
            heightOf(labels, label.size) + heightOf(bigs, big.size) + heightOf(smalls, small.size),
        ),
      );
    return this.box({
      height: height + pad,
      before: 7 * this.scale,
      item: true,
      parts: [
        {
          tag: null,
          draw: (pen, x, y) => {
            pen.rule(x, y, this.width, INK, 1.4);
            pen.rule(x, y + height + pad, this.width, RULE, 0.5);
          },
        },
        ...cells.map(({ labels, bigs, smalls, gold }, i) => ({
          tag: 'LI' as const,
          draw: (pen: Pen, x: number, y: number) => {
            const left = x + i * (each + gap);
            let at = y + pad;
            at += pen.words(labels, left, at, label);
            at += pen.words(bigs, left, at, { ...big, color: gold ? GOLD : INK });
            pen.words(smalls, left, at, small);
          },
        })),
      ],
    });
  }

  private row({ time, name, word, rest }: Extract<Block, { kind: 'row' }>, follows: boolean): Box {
    const soft = this.sized({ look: 'sans', size: 10.5, color: SOFT });
    const italic = this.sized({ look: 'italic', size: 13 });
    const plain = this.sized({ look: 'sans', size: 10.5 });
    const first = name === undefined ? COLUMNS.time : COLUMNS.name;
    const second = word === undefined ? 0 : COLUMNS.word;
    const labels = this.lines(time ?? name ?? '', soft, first - 8);
    const words = word ? this.lines(word, italic, second - 8) : [];
    const rests = rest ? this.lines(rest, plain, this.width - first - second) : [];
    const pad = 3.5 * this.scale;
    const height = Math.max(
      heightOf(labels, soft.size),
      heightOf(words, italic.size),
      heightOf(rests, plain.size),
    );
    return this.box({
      height: height + 2 * pad,
      before: follows ? 0 : 3 * this.scale,
      item: true,
      parts: [
        { tag: null, draw: (pen, x, y) => pen.rule(x, y, this.width, RULE, 0.5) },
        {
          tag: 'LI',
          draw: (pen, x, y) => {
            const drop = words.length > 0 ? italic.size - plain.size : 0;
            pen.words(labels, x, y + pad + drop, soft);
            pen.words(words, x + first, y + pad, italic);
            pen.words(rests, x + first + second, y + pad + drop, plain);
          },
        },
      ],
    });
  }

  cautions(all: readonly string[]): Box[] {
    return all.map((one, i) => {
      const box = this.text('P', one, { look: 'sans', size: 8.5, color: SOFT }, i === 0 ? 12 : 2);
      if (i > 0) return box;
      const rule = {
        tag: null,
        draw: (pen: Pen, x: number, y: number) => pen.rule(x, y - 5 * this.scale, this.width, INK, 1.2),
      };
      return { ...box, parts: [rule, ...box.parts] };
    });
  }
}
