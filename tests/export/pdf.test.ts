import { describe, expect, it } from 'vitest';
import { djFacts } from '../../lib/core/agreed/dj.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import { usualWalkOn } from '../../lib/core/dance/walkOn.ts';
import { couplePdf, djPdf, entryPdf } from '../../lib/export/pdf.tsx';
import { barAt, boardOf, cueAt, cutOut, endingOn, libraryMove, micros, placed } from '../kit/board.ts';
import { textOf } from '../kit/textOf.ts';

const dance = boardOf(
  {},
  {
    couple: { one: { name: 'Żaneta Nguyễn', part: 'follow' }, other: { name: 'Ἀλέξης Жуков', part: 'lead' } },
    moves: ['waltz-box', 'waltz-underarm', 'dip-three'].map(libraryMove),
    cues: [
      cueAt('a', barAt(8), 'lanterns'),
      cueAt('b', barAt(47), 'until'),
      cueAt('c', barAt(105), 'homeward'),
    ],
    placed: [placed('p', 'waltz-underarm', barAt(24), 2)],
    edit: cutOut(barAt(48), barAt(88)),
    ending: endingOn(barAt(108), ['dip-three']),
    walkOn: { ...usualWalkOn, from: 'the garden door', firstStep: micros(barAt(8)), signal: 'the MC’s nod' },
  },
);
const board: Board = {
  ...dance,
  show: { ...dance.show!, time: '19:30', zone: 'Europe/Paris', lead: 60 },
};

/** Holds the words against the reader's text, or, without a reader, only that it is a whole PDF. */
function expectWords(pdf: Buffer, words: string[]): void {
  expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
  expect(pdf.subarray(-8).toString()).toContain('%%EOF');
  const text = textOf(pdf);
  if (text === null) console.warn('pdftotext is not installed: only the frame of the PDF was checked');
  else for (const word of words) expect(text).toContain(word);
}

describe('sheets as PDF', () => {
  it('the DJ’s says what to play, from where, and until when, and carries the cautions', async () => {
    expectWords(await djPdf(djFacts(board, 3)), [
      'Lantern Street, for the first dance',
      'Żaneta Nguyễn',
      'Жуков',
      'v3',
      'All times are of the finished file',
      'measures −14.0 LUFS',
      'the MC’s nod',
      // The file has a silent second after its music, and the song a quiet half second.
      '2:29',
      '2:28 of music, then silence',
      '1:20 is left out',
      'homeward',
      'the full song is playing',
      'copying and editing a recording',
      'A qualified instructor, the venue and local codes come first',
    ]);
  });

  it('the couple’s says what to listen for and how the moves go', async () => {
    const pdf = await couplePdf(board, 'LETTER');
    if (!pdf.ok) throw new Error(pdf.problem.code);
    expectWords(pdf.value, [
      'lanterns',
      'first step',
      'underarm turn, twice',
      'Basic step until the next word',
      'Safer form',
      'keeps their own support',
    ]);
  });

  it('the planner’s says when, how long and who does what', async () => {
    expectWords(await entryPdf(board), [
      '19:31:16',
      'closing pose, kept 4 s',
      '12 June 2027, 19:30',
      'who announces it',
      'fire authority',
    ]);
  });

  const named = (one: string, other: string): Board => ({
    ...board,
    plan: {
      ...board.plan,
      couple: { one: { name: one, part: 'follow' }, other: { name: other, part: 'lead' } },
    },
  });
  const LOST = 'stands for a letter that this sheet cannot print';

  it('a letter that the fonts lack is a blank and no other letter, and the sheet says so', async () => {
    const pdf = await djPdf(djFacts(named('山田', 'Elias 🎉'), 1));
    expectWords(pdf, [LOST, 'First dance of __ and Elias _,']);
    const card = await couplePdf(named('山田', 'Elias 🎉'));
    if (!card.ok) throw new Error(card.problem.code);
    expectWords(card.value, [LOST, '__ and Elias _']);
    expectWords(await entryPdf(named('山田', 'Elias 🎉')), [LOST, '__ and Elias _']);
  });

  it.each([
    ['Greek', 'Ελευθερία', 'Αλέξανδρος'],
    ['Cyrillic', 'Людмила', 'Святослав'],
    ['Hebrew', 'שירה', 'אברהם'],
    ['Arabic', 'ليلى', 'عبد الرحمن'],
  ])('names in %s stand in it letter by letter, and in the order of the sentence', async (_, one, other) => {
    const text = textOf(await djPdf(djFacts(named(one, other), 1)));
    if (text === null) return;
    expect(text).not.toContain(LOST);
    // The reader puts marks of direction around what runs from the right, and some letters in their joined forms.
    const plain = text.normalize('NFKC').replace(/\p{Cf}/gu, '');
    for (const name of [one, other]) expect(plain).toContain(name);
    const spaced = ['First dance of', one, 'and', other, ',', '12 June'].join('\\s*');
    expect(plain).toMatch(new RegExp(spaced));
  });

  it('says what is missing when there is no song', async () => {
    const none = await couplePdf({ ...board, plan: { ...board.plan, grid: null } });
    expect(none.ok ? '' : none.problem.code).toBe('no-song');
  });
});
