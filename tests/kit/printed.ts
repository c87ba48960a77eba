import { clock } from '../../lib/core/units.ts';
import type { Block, Paper } from '../../lib/export/paper.ts';

/**
 * What a paper prints, a line each, without laying it out. For many boards; that a PDF holds what its paper says is held on a few.
 */
export const printed = ({ title, under, blocks, cautions, foot }: Paper): string[] => [
  title,
  under,
  ...blocks.flatMap(linesOf),
  ...cautions,
  foot,
];

function linesOf(block: Block): string[] {
  switch (block.kind) {
    case 'heading':
    case 'words':
      return [block.words];
    case 'figures':
      return block.all.flatMap(({ label, big, words }) => [label, big, ...(words ? [words] : [])]);
    case 'row': {
      const { time, name, word, rest } = block;
      return [...(time === undefined ? [] : [time]), ...(name === undefined ? [] : [name])].concat(
        word === undefined ? [] : [word],
        [rest],
      );
    }
    case 'sheet':
      return block.sheet.rows.map(
        ({ floor, section, word, walk, firstStep, moves, pose, leftOut }) =>
          `${clock(floor)} ${section} ${word} ${[walk?.words, firstStep === null ? '' : 'first step', ...moves.map((move) => move.words), pose?.words, ...leftOut].filter(Boolean).join(', ')}`,
      );
    case 'strip':
    case 'page':
      return [];
  }
}
