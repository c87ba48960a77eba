import type { Role } from '@/lib/core/areas/people.ts';
import type { Finding } from '@/lib/core/checks/finding.ts';
import type { Stage } from '@/lib/core/handover/stages.ts';
import type { ScreenName } from '../_client/boardPage.tsx';
import { screensOf } from './roles.ts';

/**
 * Where a stage leads: a page of the board, and the place on it that gets the focus; '' for the page itself. Where one tap settles
 * what is owed, the button says so by `data-does` with the place as its value, and has the focus in its stead.
 */
export interface Way {
  screen: ScreenName;
  place: string;
}

/** Id of a note on the sheet, by its finding. */
export const notePlace = (finding: string): string => `note-${finding}`;
/** A part of the sheet's desk, to be opened. */
export const deskPlace = (drawer: string): string => `open-${drawer}`;

const pageOf: Record<Stage['name'], ScreenName> = {
  song: 'song',
  edit: 'song',
  dance: 'sheet',
  DJ: 'dj',
  'run of show': 'show',
};

/** To what is owed; of what is settled, to its page. null where this role is led to no such page. */
export function wayOf(stage: Stage, findings: readonly Finding[], role: Role): Way | null {
  const pages = screensOf[role];
  const here = ways(stage, findings).find(({ screen }) => pages.includes(screen));
  return here ?? null;
}

/** The best first. */
function ways(stage: Stage, findings: readonly Finding[]): Way[] {
  const page = { screen: pageOf[stage.name], place: '' };
  if (stage.settled) return [page];
  const said = findings.find(({ id }) => stage.findings.includes(id));
  const note = said ? [{ screen: 'sheet' as const, place: notePlace(said.id) }] : [];
  switch (stage.name) {
    case 'song':
      return stage.words === 'to add'
        ? [{ screen: 'sheet', place: '' }]
        : [{ screen: 'song', place: 'heard' }, ...note];
    case 'edit':
      return stage.words === 'to choose' ? [{ ...page, place: 'shape' }] : [...note, page];
    case 'dance':
      return [...note, { screen: 'sheet', place: deskPlace(lackingDrawer(stage.words)) }];
    case 'DJ':
      return [{ ...page, place: 'answer' }, page];
    case 'run of show':
      return [stage.words.startsWith('lacks') ? page : { ...page, place: 'final' }];
  }
}

/** The part of the desk in which a dance gets what it lacks. */
function lackingDrawer(words: string): string {
  if (words.includes('first step')) return 'walk-on';
  if (words === 'to put together') return 'proposal';
  if (words.includes('a move') || words === 'to begin') return 'moves';
  return 'ending';
}
