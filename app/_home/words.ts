import type { AnswerKind } from '@/lib/core/agreed/answerState.ts';
import { dayWords } from '@/lib/core/areas/days.ts';
import type { Question } from '@/lib/core/areas/lessons.ts';
import type { Day, WallTime } from '@/lib/core/calendar.ts';
import type { Stretch } from '@/lib/core/handover/stretch.ts';
import { clock, type FloorTime } from '@/lib/core/units.ts';
import { farWords, instantWords } from '../_studio/dates.ts';

/** All words of the couple's home and of questions to the instructor. */

export const home = {
  title: 'Home',
  notYours: 'This page is the couple’s. What concerns you stands on the pages above.',
  practise: 'Practise',
  practiseHint: (length: FloorTime): string => `${clock(length)}, as it will be played`,
  fromTheStart: 'From the first step to the closing pose',
  noSong: 'Bring your song',
  noSongHint: 'Everything begins with the recording you dance to.',
  strip: 'Press the strip to practise from there.',
} as const;

/** `49 days to go`, in words: `12 June 2027, in 7 weeks`. */
export const dayOfParty = (today: Day, date: Day | null): string =>
  date === null ? 'No day for the party yet.' : `The day: ${dayWords(date)}, ${farWords(today, date)}.`;

export const lesson = {
  title: 'Next lesson',
  when: (at: WallTime): string => `${dayWords(at)}, ${at.slice(11, 16)}`,
  far: (today: Day, at: WallTime): string => farWords(today, at.slice(0, 10) as Day),
  over: 'No next lesson yet.',
  none: 'No next lesson yet.',
  left: (n: number): string => (n === 1 ? '1 lesson to come' : `${n} lessons to come`),
  toNotes: 'Lesson notes',
} as const;

export const homework = {
  title: 'Homework',
  none: 'No homework yet. What your instructor gives you to practise shows here.',
  allDone: 'All done. Dance it once from the start.',
  open: (n: number): string => (n === 1 ? '1 to do' : `${n} to do`),
  done: (n: number): string => (n === 1 ? '1 done' : `${n} done`),
  practise: (stretch: Pick<Stretch, 'name' | 'scope'>): string =>
    stretch.scope === 'all' ? 'the whole dance' : stretch.name,
  practiseLong: (what: string, words: string): string => `Practise ${what}: ${words}`,
  danced: 'Danced on',
  byWords: 'what its words name',
  nothing: 'nothing of the dance',
  notTicked: 'Not ticked: this line was changed just now. Please look again.',
} as const;

export const news = {
  title: 'New since last time',
  since: (at: Question['at']): string => `since ${instantWords(at)}`,
  none: 'Nothing new.',
  seen: 'Seen',
  more: (n: number): string => `and ${n} more on the sheet`,
  party: (date: string): string =>
    date === '' ? 'The day of the party is open.' : `The party is on ${date}.`,
  venue: (venue: string): string => (venue === '' ? 'The venue is open.' : `The venue is ${venue}.`),
  time: (time: string): string => (time === '' ? 'The time of the dance is open.' : `You dance at ${time}.`),
  nextLesson: (at: WallTime | null): string =>
    at === null ? 'There is no next lesson any more.' : `The next lesson is on ${lesson.when(at)}.`,
  page: (title: string): string => `A new page of lesson notes: ${title}.`,
  task: (words: string): string => `New homework: ${words}.`,
} as const;

/** What the DJ's word is news of; of the rest nothing is said. */
export const djNews: Partial<Record<AnswerKind, string>> = {
  yes: 'The DJ said yes to this version.',
  accepted: 'What the DJ suggested is now the edit.',
  'proposal open': 'The DJ suggests something else: see For the DJ.',
  'yes to an older version': 'The DJ’s yes is for an older version.',
};

export const questions = {
  title: (instructor: string): string => `Ask ${instructor}`,
  ofCouple: 'Questions of the couple',
  field: 'Your question',
  placeholder: 'A step, a sore foot, the shoes…',
  ask: 'Ask',
  between: (instructor: string): string => `Only you and ${instructor} read this.`,
  betweenYou: 'Only you and the couple read these.',
  none: 'No questions yet.',
  asked: ({ by, at }: Question): string => `${by}, ${instantWords(at)}`,
  unread: 'Not read yet',
  read: (instructor: string): string => `${instructor} has read it`,
  toAnswer: 'To answer',
  fresh: 'New answer',
  answer: 'Your answer',
  answerIt: 'Answer',
  change: 'Change the answer',
  cancel: 'Leave it as it is',
  tell: 'Let everybody read it',
  told: 'Everybody reads it under Remarks.',
  takeBack: 'Take back',
  takeBackTitle: 'Take this question back?',
  takeBackYes: 'Take it back',
  takeBackHint: 'Question and answer disappear for both of you.',
  tooLong: 'This is too long: please ask it in two questions.',
} as const;

/** How the couple's instructor is called where nobody gave a name. */
export const instructorName = (name: string | null): string => name || 'your instructor';

/** In a list of couples, and on the tab that leads to them. */
export const toAnswerWords = (open: number, unread: number): string =>
  `${open} ${open === 1 ? 'question' : 'questions'} to answer${unread > 0 ? `, ${unread === open ? '' : `${unread} `}not read yet` : ''}`;
export const answeredWords = (n: number): string => (n === 1 ? '1 new answer' : `${n} new answers`);
