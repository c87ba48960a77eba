import { type Listening, listen } from '../../lib/core/song/listen.ts';
import { clock, signed } from '../../lib/core/units.ts';
import { songOf } from './files.ts';
import type { Verb } from './verb.ts';
import { plural, table } from './words.ts';
import { need } from './wrong.ts';

export const listenVerb: Verb = {
  use: 'AUDIO',
  does: 'metre, tempo, beats, bars, sections, key and loudness of a recording',
  words: 1,
  example: 'listen song.mp3',
  async run([path = '']) {
    const heard = need(listen((await songOf(path)).samples), path);
    const { features: _, tempoDrift: __, ...json } = heard;
    return {
      json,
      text: textOf(heard),
      line: `listen: ${plural(heard.beats.length, 'beat')} and ${plural(heard.sections.length, 'section')} heard.`,
    };
  },
};

const sure = (share: number): string => `${Math.round(100 * share)} % sure`;

function textOf(heard: Listening): string {
  const { metre, tempo, confidence } = heard;
  const parts = metre.subdivision === 3 ? 'three' : 'two';
  const facts = [
    ['length', clock(heard.duration, 1), ''],
    ['metre', `${metre.beats} beats a bar, each in ${parts}`, sure(confidence.metre)],
    ['tempo', `${tempo.toFixed(1)} beats a minute`, sure(confidence.beats)],
    ['bars', `${heard.bars.length}, the first at ${clock(heard.bars[0]!, 2)}`, sure(confidence.bars)],
    ['key', heard.key, sure(confidence.key)],
    ['loudness', `${signed(heard.loudness, 1)} LUFS, true peak ${signed(heard.truePeak, 1)} dBTP`, ''],
    ['sound', `${clock(heard.firstSound, 1)} to ${clock(heard.lastSound, 1)}`, ''],
  ];
  const sections = heard.sections.map((s) => [clock(s.start, 1), clock(s.end, 1), s.kind, s.like]);
  return `${table(facts)}\n\n${table([['from', 'to', 'section', 'like'], ...sections])}\n(sections: ${sure(confidence.sections)})`;
}
