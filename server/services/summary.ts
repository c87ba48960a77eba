import type { Board } from '../../lib/core/areas/board.ts';
import { boardScore } from '../../lib/core/areas/score.ts';
import type { Day } from '../../lib/core/calendar.ts';
import { checkBoard } from '../../lib/core/checks/checkBoard.ts';
import { compileEdit } from '../../lib/core/edit/compile.ts';
import { owedOf, stages } from '../../lib/core/handover/stages.ts';
import type { BoardSummary } from '../../lib/protocol/api.ts';

/** Sentences that the studio's list shows of what a couple still lacks. */
const MOST_SENTENCES = 3;

export function summaryOf(id: string, board: Board, today: Day): BoardSummary {
  const { couple, date, venue, recordingWords: song, recording, edit } = board.plan;
  const found = checkBoard(board, today);
  const count = (severity: string) => found.filter((finding) => finding.severity === severity).length;
  const said = (['blocks', 'warns'] as const)
    .flatMap((severity) => found.filter((finding) => finding.severity === severity))
    .slice(0, MOST_SENTENCES);
  return {
    id,
    one: couple?.one.name ?? '',
    other: couple?.other.name ?? '',
    date,
    zone: board.show?.zone ?? null,
    today,
    venue: venue ?? '',
    song: song ? [song.artist, song.title].filter((word) => word !== '') : [],
    // To the last sound, as on every page; without a grid nothing is known of that.
    floorLength:
      edit && recording ? (boardScore(board.plan)?.musicLength ?? compileEdit(edit, recording).length) : null,
    findings: { blocks: count('blocks'), warns: count('warns'), hints: count('hints') },
    lacks: said.map(({ sentence }) => sentence),
    owed: owedOf(stages(board, found), said),
  };
}
