import { expect, test } from 'vitest';
import type { LostHere } from '../../../app/_client/losses.ts';
import { lostWords } from '../../../app/_ui/lostWords.ts';
import type { LostPlace } from '../../../lib/core/areas/lost.ts';
import { boardOf, cueAt, libraryMove, micros, placed } from '../../kit/board.ts';

const step = libraryMove('waltz-box');
const board = boardOf(
  {},
  {
    cues: [cueAt('bell', 17, 'the cello')],
    moves: [step],
    placed: [placed('p', step.id, 4)],
  },
);
const lost = (place: LostPlace, of: Partial<LostHere>): LostHere => ({
  ...place,
  ...{ area: 'plan', told: 1, lost: null, stands: null, mine: true, entry: null, ...of },
});
const cueWord = { collection: 'cues', id: 'bell', field: 'word' };
const words = (one: LostHere) => Object.values(lostWords(one, board));

test.each<[string, LostHere, string, string]>([
  [
    'a word of one’s own',
    lost(cueWord, { lost: 'low strings', stands: 'the cello' }),
    'You and somebody else wrote the cue word at 0:17 at the same time: “the cello” stands, yours, “low strings”, does not.',
    'Take “low strings”',
  ],
  [
    'a word of somebody else’s',
    lost(cueWord, { lost: 'low strings', stands: 'the cello', mine: false }),
    'Two of you wrote the cue word at 0:17 at the same time: “the cello” stands, “low strings” does not.',
    'Take “low strings”',
  ],
  [
    'a place in the music',
    lost({ collection: 'placed', id: 'p', field: 'at' }, { lost: micros(8), stands: micros(4), mine: false }),
    `Two of you changed the place of “${step.name}” at the same time: 0:04.0 stands, 0:08.0 does not.`,
    'Take 0:08.0',
  ],
  [
    'an edit, which is too much to say',
    lost({ register: 'edit' }, { lost: { start: 0 }, stands: { start: 1 } }),
    'You and somebody else changed the edit at the same time: theirs stands, yours does not.',
    'Take yours',
  ],
  [
    'a day',
    lost({ register: 'date' }, { lost: '2027-06-13', stands: '2027-06-12' }),
    'You and somebody else wrote the day of the party at the same time: 12 June 2027 stands, yours, 13 June 2027, does not.',
    'Take 13 June 2027',
  ],
  [
    'a line that was emptied',
    lost({ register: 'venue' }, { lost: '', stands: 'The Glasshouse', mine: false }),
    'Two of you wrote the venue at the same time: “The Glasshouse” stands, though one of you left it empty.',
    'Empty it',
  ],
  [
    'a field without a name of its own',
    lost({ collection: 'moves', id: step.id, field: 'holdAfter' }, { lost: 'open', stands: 'apart' }),
    `You and somebody else wrote the hold after of “${step.name}” at the same time: “apart” stands, yours, “open”, does not.`,
    'Take “open”',
  ],
  [
    'a word whose entry is gone',
    lost(
      { collection: 'cues', id: 'gone', field: 'word' },
      { lost: 'low strings', entry: { at: 3, word: 'low strings' } },
    ),
    'Somebody took a cue word away while you changed the cue word to “low strings”.',
    'Bring it back with “low strings”',
  ],
  [
    'a move whose place was changed',
    lost(
      { collection: 'placed', id: 'gone', field: 'at' },
      { lost: 8, mine: false, entry: { at: 8, move: step.id, times: 1 } },
    ),
    `One of you took the move “${step.name}” away while another changed the place to 0:08.0.`,
    'Bring it back with 0:08.0',
  ],
])('%s', (_, one, said, take) => {
  expect(words(one)).toEqual([said, take]);
});

test('what is long is cut, on the button more than in the sentence', () => {
  const [said, take] = words(lost(cueWord, { lost: 'harp '.repeat(60), stands: 'the cello' }));
  expect(said!.length).toBeLessThan(180);
  expect(take!.length).toBeLessThan(30);
});
