import { INSTRUCTOR } from '../../lib/access/session.ts';
import type { RichText } from '../../lib/core/areas/area.ts';
import type { Lessons } from '../../lib/core/areas/lessons.ts';
import type { Remarks } from '../../lib/core/areas/remarks.ts';

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

export const lessons: Lessons = {
  lessons: [
    {
      id: 'lesson-1',
      date: '2027-04-10',
      title: 'Taking hold, the box',
      writtenAt: '2027-04-10T17:10:00Z',
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
      date: '2027-04-24',
      title: 'Underarm turn on the brushes',
      writtenAt: '2027-04-24T17:05:00Z',
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
    { id: 'waltz-balance', level: 2, at: '2027-04-24T17:05:00Z' },
    { id: 'waltz-box', level: 3, at: '2027-04-24T17:05:00Z' },
    { id: 'waltz-left-box', level: 1, at: '2027-04-24T17:05:00Z' },
    { id: 'waltz-underarm', level: 2, at: '2027-04-24T17:05:00Z' },
  ],
};

export const remarks: Remarks = {
  remarks: [
    {
      id: 'remark-1',
      writer: 'demo-couple',
      name: 'Inês',
      role: 'couple',
      at: '2027-04-25T09:20:00Z',
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
      at: '2027-04-26T08:05:00Z',
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
      at: '2027-04-27T14:40:00Z',
      about: 'handover',
      text: page(
        paragraph(
          'The dance floor is laid by four o’clock; the cake stays behind the pillar until after the dance.',
        ),
      ),
    },
  ],
};
