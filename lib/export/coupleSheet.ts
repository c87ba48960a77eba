import type { Board } from '../core/areas/board.ts';
import { dayWords } from '../core/areas/days.ts';
import { boardScore } from '../core/areas/score.ts';
import { cautionWords } from '../core/dance/cautions.ts';
import { solveEnding } from '../core/dance/ending.ts';
import type { Move } from '../core/dance/move.ts';
import { laidOut } from '../core/dance/place.ts';
import { danceStripOf } from '../core/handover/danceStrip.ts';
import type { NightCard } from '../core/handover/night.ts';
import { paperSheetOf } from '../core/handover/paperSheet.ts';
import { clock } from '../core/units.ts';
import type { Block, Paper, PaperSize } from './paper.ts';
import { coupleWords as words } from './words.ts';

/** The phrase sheet on the front; on the back what to listen for, and how each move goes. To pin to the wall at home. */
export function coupleSheet(board: Board, card: NightCard, size: PaperSize): Paper {
  const { plan } = board;
  const score = boardScore(plan);
  const moves = dancedMoves(board);
  const cautions = [...new Set(moves.flatMap((move) => move.cautions))].map(
    (caution) => cautionWords[caution],
  );
  const strip = danceStripOf(plan, score);
  const sheet = paperSheetOf(plan, score);
  const blocks: Block[] = [
    ...(strip ? [{ kind: 'strip' as const, strip }] : []),
    ...(sheet ? [{ kind: 'sheet' as const, sheet }] : []),
    { kind: 'page' },
    { kind: 'heading', words: words.listenFor },
    ...card.rows.map((row) => ({
      kind: 'row' as const,
      time: clock(row.floor),
      word: row.word,
      rest: row.does,
    })),
    ...(card.poseLost ? [{ kind: 'words' as const, words: card.poseLost, wrong: true }] : []),
    { kind: 'heading', words: words.otherwise },
    { kind: 'words', words: card.lost },
    ...(card.planB ? [{ kind: 'words' as const, words: card.planB }] : []),
    ...(moves.length > 0 ? [{ kind: 'heading' as const, words: words.moves }] : []),
    ...moves.map((move) => ({
      kind: 'row' as const,
      name: move.rhythm,
      word: move.name,
      rest: howItGoes(board, move),
    })),
  ];
  return {
    title: card.title,
    under: [card.couple, dayWords(plan.date), plan.venue, words.music(card.musicLength)]
      .filter(Boolean)
      .join(' · '),
    size,
    blocks,
    cautions: [...cautions, card.caution],
    foot: words.foot(card.couple),
  };
}

function dancedMoves({ plan }: Board): Move[] {
  const score = boardScore(plan);
  if (!score) return [];
  const ending = solveEnding(plan, score);
  const laid = [...laidOut(plan, score), ...(ending.ok ? ending.value.moves : [])].map(({ move }) => move);
  return [
    ...new Map([...plan.moves.filter(({ basic }) => basic), ...laid].map((move) => [move.id, move])).values(),
  ];
}

function howItGoes({ plan }: Board, move: Move): string {
  const two = plan.couple ? [plan.couple.one, plan.couple.other] : [];
  const name = (part: 'lead' | 'follow') => two.find((person) => person.part === part)?.name || `the ${part}`;
  const safer = move.saferForm ? words.saferForm(move.saferForm) : '';
  return `${name('lead')}: ${move.lead} ${name('follow')}: ${move.follow}${safer}`;
}
