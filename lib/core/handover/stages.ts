import { type AnswerState, answerState } from '../areas/answerState.ts';
import type { Board } from '../areas/board.ts';
import { entryFacts } from '../areas/entry.ts';
import type { Finding, Rule } from '../checks/finding.ts';
import { rules } from '../checks/rules.generated.ts';
import { owedBy, ownerOfEvening, US } from './owed.ts';

/** One of the five steps from a song to a night that everybody is ready for. */
export interface Stage {
  name: 'song' | 'edit' | 'dance' | 'DJ' | 'run of show';
  settled: boolean;
  /** `confirmed`, or what is owed. */
  words: string;
  /** The same to the DJ, where it is of the DJ's own word. */
  toDj?: string;
  /** Who has to do it; null when it is settled. */
  owedBy: string | null;
  /** What they have to do, where the words say only how it stands. */
  todo?: string;
}

/** What is settled and what is owed, and by whom; `findings` are those of the same board. */
export function stages(board: Board, findings: readonly Finding[]): Stage[] {
  const { plan } = board;
  const open = (...about: Rule['about'][]) => openOf(findings, about);
  return [
    stage('song', plan.recording || plan.grid ? toSettle(open('song')) : 'to add', US, 'confirmed'),
    stage(
      'edit',
      plan.edit ? toSettle(open('length', 'edit')) : 'to choose',
      US,
      plan.settled ? 'settled' : 'chosen',
    ),
    stage(
      'dance',
      plan.placed.length > 0 || plan.ending ? toSettle(open('moves', 'walk-on', 'ending')) : 'to begin',
      US,
      'settled',
    ),
    djStage(answerState(board)),
    showStage(board),
  ];
}

const stage = (name: Stage['name'], owed: string | null, by: string, settled: string): Stage => ({
  name,
  settled: owed === null,
  words: owed ?? settled,
  owedBy: owed === null ? null : by,
});

const aboutOf = new Map(rules.map(({ id, about }) => [id, about]));
const openOf = (findings: readonly Finding[], about: readonly Rule['about'][]): number =>
  findings.filter((f) => f.severity !== 'hints' && about.includes(aboutOf.get(f.rule)!)).length;
const toSettle = (open: number): string | null => (open === 0 ? null : `${open} to settle`);

function djStage({ kind }: AnswerState): Stage {
  switch (kind) {
    case 'yes':
    case 'accepted':
      return stage('DJ', null, '', kind === 'yes' ? 'said yes' : 'agreed');
    case 'not needed':
      return stage('DJ', null, '', 'a band plays');
    case 'not readable':
      return stage('DJ', null, '', 'not shown to you');
    case 'asked':
      return stage('DJ', 'asked', 'DJ', '');
    case 'not asked':
      return stage('DJ', 'to ask', US, '');
    case 'proposal open':
      return {
        ...stage('DJ', 'suggests something else', US, ''),
        toDj: 'you suggest something else',
        todo: 'to reply',
      };
    case 'declined':
      return {
        ...stage('DJ', 'suggestion declined', US, ''),
        toDj: 'your suggestion was declined',
        todo: 'to ask again',
      };
    case 'yes to an older version':
      return {
        ...stage('DJ', 'said yes to an older version', US, ''),
        toDj: 'your yes is for an older version',
        todo: 'to ask again',
      };
  }
}

function showStage(board: Board): Stage {
  const by = ownerOfEvening(board.plan);
  if (!board.show) return stage('run of show', null, '', 'not shown to you');
  const { final, missing } = entryFacts(board);
  if (final?.outdated) return stage('run of show', 'changed since it was final', by, '');
  if (final) return stage('run of show', null, '', 'final');
  const [first] = missing;
  return first === undefined
    ? stage('run of show', 'to mark final', by, '')
    : stage('run of show', `lacks ${first}`, owedBy(first, board.plan), '');
}

/** What is owed, first things first, and by whom: a couple's line in a list of many. */
export const owedOf = (all: readonly Stage[]): { what: string; by: string }[] =>
  all.flatMap(({ name, words, owedBy, todo }) =>
    owedBy === null ? [] : [{ what: `${name} ${words}${todo ? `, ${todo}` : ''}`, by: owedBy }],
  );
