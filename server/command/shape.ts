import { usualPhraseBars } from '../../lib/core/areas/score.ts';
import type { SongPlan } from '../../lib/core/edit/floorScore.ts';
import { shape, USUAL_WISHES } from '../../lib/core/edit/propose.ts';
import { sectionNames } from '../../lib/core/edit/sectionNames.ts';
import type { Samples } from '../../lib/core/signal/samples.ts';
import { kindOfLabel, parseBeats, parseLab } from '../../lib/core/song/annotation.ts';
import { gridFrom, gridFromBeats } from '../../lib/core/song/correct.ts';
import type { Grid } from '../../lib/core/song/grid.ts';
import { type Listening, listen } from '../../lib/core/song/listen.ts';
import type { Section } from '../../lib/core/song/section.ts';
import { clock, recordTime, wholeMicros } from '../../lib/core/units.ts';
import { songOf, textOf } from './files.ts';
import type { Given, Verb } from './verb.ts';
import { exact, plural, secondsOf, table } from './words.ts';
import { need, Wrong } from './wrong.ts';

export const shapeVerb: Verb = {
  use: 'AUDIO',
  does: 'edits of a song near the length wished for, best first',
  words: 1,
  options: {
    target: {
      value: '3:05',
      does: 'length wished for, minutes and seconds or seconds',
      usual: clock(USUAL_WISHES.target),
    },
    within: { value: '20', does: 'seconds either way that will do', usual: String(USUAL_WISHES.within) },
    keep: { value: '"verse 2, bridge"', does: 'sections that are not left out, by their names' },
    'own-ending': { does: "only edits with the song's own ending, none that fades" },
    'no-splice': { does: 'only edits that leave nothing out in the middle' },
    sections: { value: 'FILE.lab', does: "a person's sections, in place of those heard" },
    beats: { value: 'FILE.beats', does: "a person's beats, in place of those heard" },
  },
  example: 'shape song.mp3 --target 2:50 --within 10 --keep "verse 1, chorus"',
  async run([path = ''], given) {
    const { target, within } = wishesOf(given);
    const { samples } = await songOf(path);
    const heard = need(listen(samples), path);
    const plan = await songPlan(heard, samples, given);
    const proposals = shape(
      { plan, features: heard.features, samples },
      {
        ...{ target, within, keep: keptOf(plan, given.keep) },
        ...{ ownEnding: given['own-ending'] === true, noJoin: given['no-splice'] === true },
      },
    );
    const json = {
      song: {
        duration: heard.duration,
        tempo: heard.tempo,
        metre: heard.metre,
        sections: plan.sections.map(({ start, kind, like }) => ({ start, kind, like })),
      },
      proposals: proposals.map(({ floorLength, lines: _, ...proposal }) => ({
        floorLength: exact(floorLength),
        ...proposal,
      })),
    };
    const rows = proposals.map((p, i) => [`${i + 1}`, clock(p.floorLength), p.kind, p.words]);
    return {
      json,
      text: table([['', 'length', 'kind', 'what is played'], ...rows]),
      line: `shape: ${plural(proposals.length, 'edit')} for ${clock(target)}, ${within} s either way.`,
    };
  },
};

function wishesOf(given: Given): { target: number; within: number } {
  const target = typeof given.target === 'string' ? secondsOf(given.target, '--target') : USUAL_WISHES.target;
  const within = typeof given.within === 'string' ? secondsOf(given.within, '--within') : USUAL_WISHES.within;
  if (target < 10) throw new Wrong('--target: a dance of less than ten seconds cannot be shaped.');
  return { target, within };
}

/** Ids of the sections named in `--keep`: "verse 2, bridge"; "verse" alone is every verse. */
function keptOf({ sections }: SongPlan, named: Given[string]): string[] {
  if (typeof named !== 'string') return [];
  const names = sectionNames(sections);
  return named.split(',').flatMap((word) => {
    const wanted = word.trim().toLowerCase();
    const found = sections.filter(({ id, kind }) => names.get(id) === wanted || kind === wanted);
    if (found.length === 0) {
      throw new Wrong(
        `--keep: there is no "${word.trim()}". The song has ${[...names.values()].join(', ')}.`,
      );
    }
    return found.map(({ id }) => id);
  });
}

/** What a person annotated goes before what was heard. */
async function songPlan(heard: Listening, { rate }: Samples, given: Given): Promise<SongPlan> {
  let grid: Grid = gridFrom(heard);
  if (typeof given.beats === 'string') {
    const { beats, positions } = need(parseBeats(await textOf(given.beats)), given.beats);
    grid = gridFromBeats(beats, positions, heard.metre.subdivision);
  }
  let sections: Section[] = heard.sections.map(({ start, kind, like }, i) => section(i, start, kind, like));
  if (typeof given.sections === 'string') {
    const stretches = need(parseLab(await textOf(given.sections)), given.sections);
    sections = stretches.map(({ start, label }, i) => {
      const kind = kindOfLabel(label);
      return section(i, wholeMicros(start), kind, '');
    });
  }
  const end = Math.round(heard.duration * rate) / rate;
  return {
    grid,
    sections,
    phraseBars: usualPhraseBars(grid),
    duration: end,
    lastSound: heard.lastSound,
    firstSound: heard.firstSound,
  };
}

const section = (i: number, start: number, kind: Section['kind'], like: string): Section => ({
  id: `s${i}`,
  start: recordTime(start),
  kind,
  like,
  name: '',
  phraseBars: null,
  confirmedBy: null,
});
