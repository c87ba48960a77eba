import type { Board } from '../../lib/core/areas/board.ts';
import { boardScore } from '../../lib/core/areas/score.ts';
import type { Day } from '../../lib/core/calendar.ts';
import { checkBoard } from '../../lib/core/checks/checkBoard.ts';
import { compileEdit } from '../../lib/core/edit/compile.ts';
import { danceStripOf } from '../../lib/core/handover/danceStrip.ts';
import { waitingOf } from '../../lib/core/handover/questions.ts';
import { owedOf, stages } from '../../lib/core/handover/stages.ts';
import type { BoardSummary } from '../../lib/protocol/api.ts';

/** Sentences that the studio's list shows of what a couple still lacks. */
const MOST_SENTENCES = 3;

/** What the list shows of the song and the place. */
export function factsOf({
  recordingWords: song,
  venue,
}: Board['plan']): Pick<BoardSummary, 'venue' | 'song'> {
  return {
    venue: venue ?? '',
    song: song ? [song.artist, song.title].filter((word) => word !== '') : [],
  };
}

/** What the list shows of a board besides what it is sorted by. */
export function summaryOf(
  board: Board,
  today: Day,
): Pick<
  BoardSummary,
  'venue' | 'song' | 'floorLength' | 'strip' | 'findings' | 'lacks' | 'owed' | 'questions'
> {
  const { recording, edit } = board.plan;
  const found = checkBoard(board, today);
  const count = (severity: string) => found.filter((finding) => finding.severity === severity).length;
  const said = (['blocks', 'warns'] as const)
    .flatMap((severity) => found.filter((finding) => finding.severity === severity))
    .slice(0, MOST_SENTENCES);
  const { open, unread } = waitingOf(board.lessons?.questions ?? []);
  return {
    ...factsOf(board.plan),
    // To the last sound, as on every page; without a grid nothing is known of that.
    floorLength:
      edit && recording ? (boardScore(board.plan)?.musicLength ?? compileEdit(edit, recording).length) : null,
    strip: danceStripOf(board.plan),
    findings: { blocks: count('blocks'), warns: count('warns'), hints: count('hints') },
    lacks: said.map(({ sentence }) => sentence),
    owed: owedOf(stages(board, found), said),
    questions: { open, unread },
  };
}
