import { compareImprints } from '../../lib/core/compare/compare.ts';
import { imprintOf } from '../../lib/core/compare/imprint.ts';
import { clock } from '../../lib/core/units.ts';
import { songOf } from './files.ts';
import type { Verb } from './verb.ts';
import { plural } from './words.ts';

export const compareVerb: Verb = {
  use: 'RECORDING COPY',
  does: 'whether a copy is the same recording, shifted, or cut differently, and where',
  words: 2,
  example: 'compare song.wav copy-of-the-dj.mp3',
  async run([recordingPath = '', copyPath = '']) {
    const recording = imprintOf((await songOf(recordingPath)).samples);
    const copy = imprintOf((await songOf(copyPath)).samples);
    const json = compareImprints(recording, copy);
    const same = json.verdict !== 'another recording';
    const places = json.differences.map(
      (d) =>
        `  recording ${clock(d.recordFrom, 1)} to ${clock(d.recordTo, 1)}, copy ${clock(d.copyFrom, 1)} to ${clock(d.copyTo, 1)}`,
    );
    const facts = `the copy's clock is ${json.offsetMs.toFixed(1)} ms later, ratio ${json.ratio.toFixed(5)}`;
    return {
      json,
      text: [`${json.verdict}${same ? `: ${facts}` : ''}`, ...places].join('\n'),
      line: `compare: ${json.verdict}, ${plural(json.differences.length, 'difference')}.`,
    };
  },
};
