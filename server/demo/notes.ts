import { INSTRUCTOR } from '../../lib/access/session.ts';
import type { RichText } from '../../lib/core/areas/area.ts';
import type { Lessons } from '../../lib/core/areas/lessons.ts';
import type { Remarks } from '../../lib/core/areas/remarks.ts';
import type { DemoDays } from './days.ts';

/** What the demonstration's people wrote. */

const words = (text: string): RichText[] => [{ type: 'text', text }];
const paragraph = (text: string): RichText => ({ type: 'paragraph', content: words(text) });
const tasks = (items: [boolean, string][]): RichText => ({
  type: 'taskList',
  content: items.map(([checked, text]) => ({
    type: 'taskItem',
    attrs: { checked },
    content: [paragraph(text)],
  })),
});
const page = (...content: RichText[]): RichText => ({ type: 'doc', content });

export const lessonsOf = (days: DemoDays): Lessons => ({
  lessons: [
    {
      id: 'lesson-1',
      date: days.day(-19),
      title: 'Taking hold, the box',
      writtenAt: days.at(-19, '17:10'),
      text: page(
        paragraph(
          'Box step in place, then with a little turn. Kofi counts aloud, Inês closes her eyes for eight bars: it holds.',
        ),
        tasks([
          [true, 'Box step through one verse, every second day, in the shoes of the day'],
          [true, 'Listen to the song once without dancing, and lift a finger at each new part'],
        ]),
      ),
    },
    {
      id: 'lesson-2',
      date: days.day(-5),
      title: 'Underarm turn on the brushes',
      writtenAt: days.at(-5, '17:05'),
      text: page(
        paragraph(
          'The turn is led in the last bar of the verse, while the harp runs up, so that it begins with the brushes.',
        ),
        paragraph('The left turning box still drifts towards the guests: smaller quarter turns.'),
        tasks([
          [true, 'Underarm turn twice, then four boxes, from “harp runs up”'],
          [false, 'Walk on from the water doors with a chair as the landing stage'],
          [false, 'Closing pose as a lean, four slow breaths'],
        ]),
      ),
    },
  ],
  readiness: [
    { id: 'waltz-balance', level: 2, at: days.at(-5, '17:05') },
    { id: 'waltz-box', level: 3, at: days.at(-5, '17:05') },
    { id: 'waltz-left-box', level: 1, at: days.at(-5, '17:05') },
    { id: 'waltz-underarm', level: 2, at: days.at(-5, '17:05') },
  ],
  questions: [
    {
      id: 'question-1',
      by: 'Inês',
      at: days.at(-4, '20:10'),
      words: 'Kofi has a sore knee. Is the closing pose safe for him?',
      readAt: days.at(-3, '08:00'),
      answer:
        'Take it as a lean: both knees soft, your weight over your own feet. If it still hurts, ask a doctor first and stand close instead.',
      answeredBy: 'Marit',
      answeredAt: days.at(-3, '08:02'),
      answerReadAt: days.at(-3, '12:30'),
      toldAt: null,
    },
    {
      id: 'question-2',
      by: 'Kofi',
      at: days.at(-1, '21:40'),
      words: 'May we count the bridge aloud on the day, or would people hear us?',
      readAt: days.at(-1, '22:05'),
      answer: '',
      answeredBy: '',
      answeredAt: null,
      answerReadAt: null,
      toldAt: null,
    },
  ],
  drills: [],
});

export const remarksOf = (days: DemoDays): Remarks => ({
  remarks: [
    {
      id: 'remark-1',
      writer: 'demo-couple',
      name: 'Inês',
      role: 'couple',
      at: days.at(-4, '09:20'),
      about: 'edit',
      text: page(
        paragraph('Could we keep the bells at the end instead of fading? My grandmother will wait for them.'),
      ),
    },
    {
      id: 'remark-2',
      writer: INSTRUCTOR,
      name: 'Marit',
      role: 'instructor',
      at: days.at(-3, '08:05'),
      about: 'edit',
      text: page(
        paragraph(
          'Done: we go from the first chorus into the bridge and keep the last bells. Rufus has to be asked again.',
        ),
      ),
    },
    {
      id: 'remark-3',
      writer: 'demo-planner',
      name: 'Kezia',
      role: 'planner',
      at: days.at(-2, '14:40'),
      about: 'handover',
      text: page(
        paragraph(
          'The dance floor is laid by four o’clock; the cake stays behind the pillar until after the dance.',
        ),
      ),
    },
  ],
});
