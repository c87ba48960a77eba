import type { Board } from '../core/areas/board.ts';
import { dayWords } from '../core/areas/days.ts';
import { boardScore } from '../core/areas/score.ts';
import { cautionWords } from '../core/dance/cautions.ts';
import { solveEnding } from '../core/dance/ending.ts';
import type { Move } from '../core/dance/move.ts';
import { laidOut } from '../core/dance/place.ts';
import type { NightCard } from '../core/handover/night.ts';
import { clock } from '../core/units.ts';
import { Fact, Heading, type PaperSize, Row, Sheet, Words } from './paper.tsx';

/** What the couple listen for and do, and how each of their moves goes, to pin to the wall at home. */
export function CoupleSheet({ board, card, size }: { board: Board; card: NightCard; size: PaperSize }) {
  const { plan } = board;
  const moves = dancedMoves(board);
  const cautions = [...new Set(moves.flatMap((move) => move.cautions))].map(
    (caution) => cautionWords[caution],
  );
  return (
    <Sheet
      title={card.title}
      under={[card.couple, dayWords(plan.date), plan.venue, `the music lasts ${clock(card.musicLength)}`]
        .filter(Boolean)
        .join(' · ')}
      size={size}
      letters={JSON.stringify([card, moves])}
      cautions={[...cautions, card.caution]}
      foot={`First dance of ${card.couple}`}
    >
      <Heading>Listen for, and do</Heading>
      {card.rows.map((row, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a paper is drawn once, and two may say the same at one time
        <Row key={i} time={clock(row.floor)} word={row.word} rest={row.does} />
      ))}
      {card.poseLost ? <Words wrong>{card.poseLost}</Words> : null}
      <Heading>If something goes otherwise</Heading>
      <Words>{card.lost}</Words>
      {card.planB ? <Words>{card.planB}</Words> : null}
      {moves.length > 0 ? <Heading>Your moves</Heading> : null}
      {moves.map((move) => (
        <Fact key={move.id} name={move.rhythm} word={move.name} rest={howItGoes(board, move)} />
      ))}
    </Sheet>
  );
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
  const safer = move.saferForm ? ` Safer form: ${move.saferForm}` : '';
  return `${name('lead')}: ${move.lead} ${name('follow')}: ${move.follow}${safer}`;
}
