import { isoDate } from '../../lib/core/areas/people.ts';
import { checkBoard, rulesNotRun } from '../../lib/core/checks/checkBoard.ts';
import type { Finding } from '../../lib/core/checks/finding.ts';
import { clock } from '../../lib/core/units.ts';
import { dayIn } from '../../lib/zone/dayIn.ts';
import { boardOf } from './boardFile.ts';
import type { Verb } from './verb.ts';
import { plural, table } from './words.ts';
import { Wrong } from './wrong.ts';

export const checkVerb: Verb = {
  use: 'BOARD.json',
  does: 'what the checks have to say about a board',
  words: 1,
  options: {
    today: { value: '2027-05-01', does: 'the day from which dates are counted', usual: 'the day it is' },
  },
  example: 'check board.json --today 2027-05-01',
  async run([path = ''], { today: given }) {
    const day = given === undefined ? null : isoDate.safeParse(given);
    if (day?.success === false) throw new Wrong('--today: write the day as 2027-05-01.');
    const board = await boardOf(path);
    const findings = checkBoard(board, day?.data ?? dayIn(board.show?.zone));
    const blocking = findings.filter(({ severity }) => severity === 'blocks').length;
    const missing = rulesNotRun(board).length;
    const notRun = missing === 0 ? '' : `; ${plural(missing, 'rule')} not run, for want of what they read`;
    return {
      json: { findings },
      text: findings.length === 0 ? 'Nothing to say.' : table([['', 'at', 'what'], ...findings.map(row)]),
      line: `check: ${plural(findings.length, 'finding')}, ${blocking} of them ${blocking === 1 ? 'blocks' : 'block'}${notRun}.`,
      blocked: blocking > 0,
    };
  },
};

const row = ({ severity, place, sentence, fix }: Finding): string[] => [
  severity,
  place.floorTime === null ? '' : clock(place.floorTime, 1),
  fix ? `${sentence} (${fix.words})` : sentence,
];
