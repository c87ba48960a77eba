import type { AreaName } from '@/lib/core/areas/board.ts';
import type { Role } from '@/lib/core/areas/people.ts';
import type { ScreenName } from '../_client/boardPage.tsx';

/** How a role is called on screens. */
export const roleWords: Record<Role, string> = {
  instructor: 'instructor',
  couple: 'couple',
  dj: 'DJ',
  planner: 'planner',
  crew: 'crew',
};

/** The parts of a board, where one of them is spoken of. */
export const areaWords: Record<AreaName, string> = {
  plan: 'Song and dance',
  lessons: 'Lessons',
  remarks: 'Remarks',
  answer: 'The DJ’s answer',
  show: 'Run of show',
};

export const screenWords: Record<ScreenName, string> = {
  home: 'Home',
  sheet: 'Sheet',
  floor: 'Floor',
  song: 'Song',
  practise: 'Practise',
  lessons: 'Lessons',
  remarks: 'Remarks',
  dj: 'For the DJ',
  show: 'Run of show',
  night: 'Night card',
  links: 'Links',
};

/** The pages each role is led to, in the order of their work. */
export const screensOf: Record<Role, readonly ScreenName[]> = {
  instructor: ['sheet', 'song', 'floor', 'practise', 'lessons', 'remarks', 'dj', 'show', 'night', 'links'],
  couple: [
    'home',
    'sheet',
    'song',
    'floor',
    'practise',
    'lessons',
    'remarks',
    'dj',
    'show',
    'night',
    'links',
  ],
  dj: ['dj', 'sheet', 'show', 'remarks'],
  planner: ['show', 'sheet', 'floor', 'remarks'],
  crew: ['show', 'sheet', 'floor'],
};

/** Where the instructor finds what a board was. */
export const historyAddress = (board: string): string => `/board/${board}/history?as=instructor`;

export const boardAddress = (board: string, screen: ScreenName, role: Role): string =>
  `/board/${board}/${screen}?as=${role}`;
