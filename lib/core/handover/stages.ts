import { type AnswerState, answerState } from '../agreed/answerState.ts';
import { copyProblem, copyStanding } from '../agreed/copy.ts';
import { entryFacts } from '../agreed/entry.ts';
import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import { boardScore } from '../areas/score.ts';
import type { Finding, Rule } from '../checks/finding.ts';
import { rules } from '../checks/rules.generated.ts';
import { isFigure } from '../dance/kinds.ts';
import { type Lacking, lackingOf } from '../dance/whole.ts';
import { playsWhole } from '../edit/edit.ts';
import { listed, openWords, openOf as unconfirmedOf } from '../song/confirmed.ts';
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
  /** Ids of the findings that say what is owed in sentences of their own. */
  findings: string[];
}

/** What is settled and what is owed, and by whom; `findings` are those of the same board. */
export function stages(board: Board, findings: readonly Finding[]): Stage[] {
  const { plan } = board;
  const open = (...about: Rule['about'][]) => openOf(findings, about);
  return [
    plan.recording || plan.grid
      ? songStage(plan, open('song'), idsOf(findings, 'sections-not-confirmed'))
      : { ...stage('song', 'to add', US, ''), findings: idsOf(findings, 'no-grid') },
    plan.edit
      ? checkedStage(
          'edit',
          open('length', 'edit'),
          // A song begins as a whole, before anybody chose.
          plan.settled ? 'settled' : playsWhole(plan.edit) ? 'nothing left out' : 'chosen',
        )
      : stage('edit', 'to choose', US, ''),
    plan.placed.length > 0 || plan.ending
      ? danceStage(plan, open('moves', 'walk-on', 'ending'))
      : stage('dance', plan.moves.some(isFigure) ? 'to put together' : 'to begin', US, ''),
    djStage(board, answerState(board), findings),
    showStage(board, findings),
  ];
}

const stage = (name: Stage['name'], owed: string | null, by: string, settled: string): Stage => ({
  name,
  settled: owed === null,
  words: owed ?? settled,
  owedBy: owed === null ? null : by,
  findings: [],
});

/** A stage that is settled once the checks have nothing more to say of it. */
const checkedStage = (name: Stage['name'], open: readonly Finding[], settled: string): Stage => ({
  ...stage(name, open.length === 0 ? null : `${open.length} to settle`, US, settled),
  findings: open.map(({ id }) => id),
});

/** Confirmed only where a person's word stands for all that was heard of it. */
function songStage(plan: Plan, open: readonly Finding[], hints: readonly string[]): Stage {
  const heard = unconfirmedOf(plan);
  const rest = open.filter(({ rule }) => rule !== 'grid-not-confirmed');
  const owed = [
    heard.length > 0 ? `${openWords(heard)} to confirm` : '',
    rest.length > 0 ? `${rest.length} to settle` : '',
  ];
  return {
    ...stage('song', owed.filter(Boolean).join(', ') || null, US, 'confirmed'),
    findings: [...open.map(({ id }) => id), ...hints],
  };
}

/** Rules whose sentences say that a part of the dance is lacking. */
const SAYING: Record<Lacking, readonly string[]> = {
  'a first step': ['first-step-removed'],
  'a move': ['move-removed'],
  'a closing pose': ['no-ending', 'landing-removed', 'ending-too-early'],
};

/** Settled only where there is a dance: a plan without one gives the checks little to say. */
function danceStage(plan: Plan, open: readonly Finding[]): Stage {
  const lacking = lackingOf(plan, boardScore(plan));
  if (lacking.length === 0) return checkedStage('dance', open, 'settled');
  const saying = lacking.map((part) => open.filter(({ rule }) => SAYING[part].includes(rule)));
  return {
    ...stage('dance', `lacks ${listed(lacking)}`, US, ''),
    findings: saying.every((some) => some.length > 0) ? saying.flat().map(({ id }) => id) : [],
  };
}

const aboutOf = new Map(rules.map(({ id, about }) => [id, about]));
const openOf = (findings: readonly Finding[], about: readonly Rule['about'][]): Finding[] =>
  findings.filter((f) => f.severity !== 'hints' && about.includes(aboutOf.get(f.rule)!));
const idsOf = (findings: readonly Finding[], rule: string): string[] =>
  findings.filter((f) => f.rule.startsWith(rule)).map(({ id }) => id);

/** Rules of this name are about where the DJ's word stands, or about their copy; at most one of each has something to say. */
const djStage = (board: Board, state: AnswerState, findings: readonly Finding[]): Stage => ({
  ...djWords(board, state),
  findings: idsOf(findings, state.kind === 'yes, copy does not fit' ? 'copy-' : 'dj-'),
});

function djWords(board: Board, { kind }: AnswerState): Stage {
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
    case 'yes to the other file':
      return {
        ...stage('DJ', 'said yes to the other file', 'DJ', ''),
        toDj: 'your yes is for the other file',
        todo: 'to say yes anew',
      };
    case 'yes to other facts':
      return {
        ...stage('DJ', 'said yes before something changed', 'DJ', ''),
        toDj: 'something changed after your yes',
        todo: 'to look at it',
      };
    case 'yes, copy does not fit': {
      const problem = copyProblem(copyStanding(board));
      return {
        ...stage('DJ', `said yes, but the copy ${problem}`, 'DJ', ''),
        toDj: `your copy ${problem}`,
        todo: 'to check the right one',
      };
    }
  }
}

function showStage(board: Board, findings: readonly Finding[]): Stage {
  const by = ownerOfEvening(board.plan);
  if (!board.show) return stage('run of show', null, '', 'not shown to you');
  const { final, missing } = entryFacts(board);
  if (final?.outdated)
    return {
      ...stage('run of show', 'changed since it was final', by, ''),
      findings: idsOf(findings, 'show-outdated'),
    };
  if (final) return stage('run of show', null, '', 'final');
  const [first] = missing;
  if (first === undefined) return stage('run of show', 'to mark final', by, '');
  return {
    ...stage('run of show', `lacks ${first}`, owedBy(first, board.plan), ''),
    findings: first === 'the time' ? idsOf(findings, 'show-no-time') : [],
  };
}

/**
 * What is owed, first things first, and by whom: a couple's line in a list of many.
 * @param said findings whose sentences stand in the same place: what they say altogether is not said again
 */
export const owedOf = (
  all: readonly Stage[],
  said: readonly Finding[] = [],
): { what: string; by: string }[] => {
  const ids = new Set(said.map(({ id }) => id));
  return all.flatMap(({ name, words, owedBy, todo, findings }) =>
    owedBy === null || (findings.length > 0 && findings.every((id) => ids.has(id)))
      ? []
      : [{ what: `${name} ${words}${todo ? `, ${todo}` : ''}`, by: owedBy }],
  );
};
