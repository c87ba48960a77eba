import { createHash } from 'node:crypto';
import { entryFacts } from '../../lib/core/agreed/entry.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import { entryCsv } from '../../lib/export/csv.ts';
import { entryIcs } from '../../lib/export/ics.ts';
import { movesVtt } from '../../lib/export/vtt.ts';
import { instantOf } from '../../lib/zone/dayIn.ts';
import { boardOf } from './boardFile.ts';
import { outputAt, overwriteOption, put } from './output.ts';
import type { Verb } from './verb.ts';
import { need, Wrong } from './wrong.ts';

const RECEIVERS = ['dj', 'couple', 'planner'] as const;
type Receiver = (typeof RECEIVERS)[number];
type Paper = (board: Board, to: Receiver) => Promise<Uint8Array | string> | Uint8Array | string;

/** By the ending of the name. Everybody gets the same facts; only the sheet is laid out for whom it is. */
const papers: Record<string, Paper> = {
  pdf: sheet,
  ics: (board) =>
    need(
      entryIcs(entryFacts(board), {
        id: idOf(board),
        place: board.plan.venue ?? '',
        stamp: instantOf(new Date()),
      }),
    ),
  csv: (board) => entryCsv(entryFacts(board)),
  vtt: ({ plan }) => movesVtt(plan, 'floor'),
};

export const handVerb: Verb = {
  use: 'BOARD.json',
  does: 'what one of them needs, as a file',
  words: 1,
  options: {
    to: { value: RECEIVERS.join('|'), does: 'for whom it is', needed: true },
    out: {
      value: 'FILE.pdf|.ics|.csv|.vtt',
      does: 'where to; its ending says what is written',
      needed: true,
    },
    ...overwriteOption,
  },
  example: 'hand board.json --to planner --out first-dance.ics',
  async run([path = ''], { to, out, overwrite }) {
    const receiver = RECEIVERS.find((one) => one === to);
    if (!receiver) throw new Wrong('hand: say who it is for with --to dj, couple or planner.');
    if (typeof out !== 'string')
      throw new Wrong('hand: say where to with --out FILE.pdf, .ics, .csv or .vtt.');
    const ending = /\.(\w+)$/.exec(out)?.[1]?.toLowerCase() ?? '';
    const paper = Object.hasOwn(papers, ending) ? papers[ending] : undefined;
    if (!paper)
      throw new Wrong(
        `${out}: the name must end in ${Object.keys(papers)
          .map((e) => `.${e}`)
          .join(', ')}.`,
      );
    const output = await outputAt(out, { inputs: [path], overwrite: overwrite === true });
    const board = await boardOf(path);
    const content = await paper(board, receiver);
    await put(output, content);
    return {
      json: { out, to: receiver, bytes: Buffer.byteLength(content) },
      text: `${out}: for the ${receiver === 'dj' ? 'DJ' : receiver}.`,
      line: 'hand: it says what the board said when it was made; later changes are not in it.',
    };
  },
};

/** A board in a file has no id of its own: the same couple, day and song give the same event. */
const idOf = ({ plan }: Board): string =>
  createHash('sha256')
    .update(JSON.stringify([plan.couple, plan.date, plan.recording?.id]))
    .digest('hex')
    .slice(0, 24);

async function sheet(board: Board, to: Receiver): Promise<Uint8Array> {
  // The sheet writer is large: the other verbs need not wait for it.
  const { couplePdf, djPdf, entryPdf } = await import('../../lib/export/pdf.ts');
  if (to === 'dj') return need(await djPdf(board));
  return to === 'planner' ? entryPdf(board) : need(await couplePdf(board));
}
