import { describe, expect, it } from 'vitest';
import type { Board } from '../../lib/core/areas/board.ts';
import { usualWalkOn } from '../../lib/core/dance/walkOn.ts';
import { nightCard } from '../../lib/core/handover/night.ts';
import type { Result } from '../../lib/core/result.ts';
import { coupleSheet } from '../../lib/export/coupleSheet.ts';
import { lostLetters } from '../../lib/export/needs.ts';
import type { PaperSize } from '../../lib/export/paper.ts';
import { facesFor } from '../../lib/export/pdf/faces.ts';
import { linesOf } from '../../lib/export/pdf/lines.ts';
import { couplePdf, djPdf, entryPdf } from '../../lib/export/pdf.ts';
import { barAt, boardOf, cueAt, cutOut, endingOn, libraryMove, micros, placed } from '../kit/board.ts';
import { printed } from '../kit/printed.ts';
import { pagesOf, textOf } from '../kit/textOf.ts';

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

const made = (pdf: Result<Buffer>): Buffer => {
  if (!pdf.ok) throw new Error(pdf.problem.code);
  return pdf.value;
};
const papers: [name: string, make: (of: Board, size?: PaperSize) => Promise<Buffer>, pages: number][] = [
  ['the DJ’s', async (of, size) => made(await djPdf(of, size)), 1],
  // The drawn sheet in front, the words and the moves on its back.
  ['the couple’s', async (of, size) => made(await couplePdf(of, size)), 2],
  ['the planner’s', entryPdf, 1],
];

describe('sheets as PDF', () => {
  it('the DJ’s says what to play, from where, and until when; of the couple’s health it says nothing', async () => {
    const pdf = made(await djPdf(board));
    expectWords(pdf, [
      'Lantern Street, for the first dance',
      'Żaneta Nguyễn',
      'Жуков',
      'a draft',
      'All times are of the finished file',
      'measures −14.0 LUFS',
      'the MC’s nod',
      // The file has a silent second after its music, and the song a quiet half second.
      'file, on the player',
      '2:29',
      '2:28 of music, then silence',
      '1:20 is left out',
      'homeward',
      'the full song is playing',
      'copying and editing a recording',
    ]);
    expect(textOf(pdf) ?? '').not.toMatch(/pregnan|knee|shoulder|health/i);
  });

  it('the couple’s is the sheet, drawn, and says what to listen for and how the moves go', async () => {
    expectWords(made(await couplePdf(board, 'LETTER')), [
      'VERSE 1',
      'lanterns',
      'first step',
      'underarm turn, twice',
      'left out: verse 2, pre-chorus 2 and chorus 2, 1:20',
      'closing pose 2:16, kept 4 s, facing the windows',
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

  it.each(papers)(
    '%s is tagged, names its language, and takes as few pages as it may, on A4 and Letter',
    async (_, make, pages) => {
      for (const size of ['A4', 'LETTER'] as const) {
        const about = pagesOf(await make(board, size));
        if (about === null) return console.warn('pdfinfo is not installed: the PDF was not read');
        expect(about).toMatchObject({ pages, tagged: true });
        // Every kind of part that the papers use is in the tree, and nothing in it is empty.
        expect(about.structure).toMatch(/Document[\s\S]*H1[\s\S]*P[\s\S]*L[\s\S]*LI/);
        expect(about.structure).toContain('Figure');
      }
    },
  );

  const named = (one: string, other: string): Board => ({
    ...board,
    plan: {
      ...board.plan,
      couple: { one: { name: one, part: 'follow' }, other: { name: other, part: 'lead' } },
    },
  });
  const LOST = 'stands for a letter that this sheet cannot print';

  it('a letter that the fonts lack is a blank and no other letter, and every sheet says so', async () => {
    for (const [, make] of papers)
      expectWords(await make(named('Nara', 'Elias 🎉')), [LOST, 'Nara and Elias _']);
  });

  it('a page knows before which letters a PDF cannot print', () => {
    expect(lostLetters(named('Nara', 'Elias 🎉'))).toEqual(['🎉']);
    expect(lostLetters(named('ნინო', 'Nara'))).toEqual(['ნ', 'ი', 'ო']);
    for (const [, one, other] of scripts) expect(lostLetters(named(one, other))).toEqual([]);
  });

  // Names made up of common given names, no source; what is sought is the letters of each script.
  const scripts: [script: string, one: string, other: string][] = [
    ['Latin with dots below', 'Ḥamīda Ṛṣṭi', 'Ọlọ́run Ẓạ̄hir'],
    ['Latin with marks that no letter has', 'Mbarag̃a', 'M̧ajro l̥'],
    ['Vietnamese', 'Nguyễn Thị Ỷ', 'Đặng Hữu Ước'],
    ['Greek', 'Ελευθερία', 'Ἀλέξανδρος ᾧ'],
    ['Cyrillic', 'Людмила Ґалаґан', 'Өмүрбек Қасым'],
    ['Arabic', 'ليلى', 'عبد الرحمن'],
    ['Persian', 'پریچهر می‌گل', 'گلنار'],
    ['Hebrew', 'שירה', 'אברהם'],
    ['Hebrew with points', 'שָׁלוֹם', 'רִבְקָה'],
    ['Devanagari', 'शिवानी', 'क्षितिज श्रृंगार'],
    ['Thai', 'สุภาพร ปิ่น', 'ณัฐวุฒิ'],
    ['Chinese, simplified', '王晓明', '刘诗雨'],
    ['Chinese, traditional', '陳曉東', '劉嘉蘭'],
    ['Japanese', '山田 花子', 'さくら ケンジ'],
    ['Korean', '김민준', '이서연'],
  ];

  describe.each(scripts)('in %s', (_, one, other) => {
    const of = named(one, other);

    it('every glyph of every paper is a letter’s own', async () => {
      const lines = printed(coupleSheet(of, nightCard(of)!, 'A4'));
      const faces = await facesFor(`${lines.join(' ')}_`);
      const looks = ['sans', 'bold', 'serif', 'italic'] as const;
      const glyphs = looks.flatMap((look) =>
        [one, other, ...lines].flatMap((line) =>
          linesOf(line, look, 10, 400, faces).flatMap(({ runs }) =>
            runs.flatMap(({ shaped }) => shaped.glyphs.map(({ id }) => id)),
          ),
        ),
      );
      // Glyph 0 is what a font draws for a letter that it lacks (OpenType specification, "Recommendations for OpenType fonts").
      expect(glyphs.length).toBeGreaterThan(100);
      expect(glyphs).not.toContain(0);
    });

    it.each(papers)('%s reads letter by letter, and in the order of the sentence', async (_name, make) => {
      const text = textOf(await make(of));
      if (text === null) return console.warn('pdftotext is not installed: the PDF was not read');
      expect(text).not.toContain(LOST);
      // The reader puts marks of direction around what runs from the right, and the points of a Hebrew letter before it.
      const plain = (words: string) => words.normalize('NFKD').replace(/[\p{Cf}\s\u0591-\u05c7]/gu, '');
      expect(plain(text)).toContain(plain(`${one} and ${other}`));
      const points = (words: string) =>
        [...new Set(words.normalize('NFKD').match(/[\u0591-\u05c7]/gu))].sort();
      expect(points(text)).toEqual(points(`${one} ${other}`));
    });
  });

  it('says what is missing when there is no song', async () => {
    const none = await couplePdf({ ...board, plan: { ...board.plan, grid: null } });
    expect(none.ok ? '' : none.problem.code).toBe('no-song');
  });
});
