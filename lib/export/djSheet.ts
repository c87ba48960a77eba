import { type DjFacts, momentWords } from '../core/agreed/dj.ts';
import type { Given } from '../core/agreed/given.ts';
import type { DjJoin } from '../core/agreed/joins.ts';
import { versionWords } from '../core/agreed/version.ts';
import type { DanceStrip } from '../core/handover/danceStripShape.ts';
import { clock, signed } from '../core/units.ts';
import type { Block, Paper, PaperSize } from './paper.ts';
import { djWords as words } from './words.ts';

/** What the DJ plays, on one page; and whether a yes was given to that. */
export function djSheet(
  facts: DjFacts,
  { given, strip, size }: { given: Given | null; strip: DanceStrip | null; size: PaperSize },
): Paper {
  const { fade } = facts;
  const at = (seconds: number) => momentWords(facts, seconds);
  const announced = facts.announced ? `announced at ${facts.announced}` : '';
  const own = facts.plays === 'own copy';
  const blocks: Block[] = [
    ...(given ? [{ kind: 'words' as const, words: given.words, wrong: !given.holds }] : []),
    { kind: 'words', words: words.song(facts.song, facts.fullLength, facts.source) },
    { kind: 'words', words: `${words.clockOf(facts.clockOf)} ${levelWords(facts)}`.trim() },
    { kind: 'figures', all: figuresOf(facts, at) },
    ...(strip ? [{ kind: 'strip' as const, strip }] : []),
    ...listed(
      own ? words.joins : words.inFile,
      facts.joins.map((join) => ({
        time: at(own ? join.leave : join.goOn),
        rest: own ? byHand(join, at) : inFile(join),
      })),
    ),
    ...listed(
      words.fade,
      fade
        ? [
            {
              time: at(fade.from),
              rest: own || fade.byHand ? words.fadeByHand(at(fade.gone), !own) : words.fadeInFile,
            },
          ]
        : [],
    ),
    ...told(
      words.byEar,
      facts.byEar.length > 0
        ? [words.byEarLine(facts.byEar.map((one) => ({ word: one.word, at: at(one.at) })))]
        : [],
    ),
    ...told(words.planB, facts.planB ? [facts.planB] : []),
    ...told(words.fiveLines, facts.lines),
  ];
  return {
    title: words.title(facts.title),
    under: [facts.couple, facts.date, announced, facts.venue, versionWords(facts.version)]
      .filter(Boolean)
      .join(' · '),
    size,
    blocks,
    cautions: facts.cautions,
    foot: words.foot(facts.couple, versionWords(facts.version)),
  };
}

/** A heading with its rows; nothing where there are none. */
function listed(heading: string, rows: { time: string; rest: string }[]): Block[] {
  return rows.length === 0
    ? []
    : [{ kind: 'heading', words: heading }, ...rows.map((row) => ({ kind: 'row' as const, ...row }))];
}
const told = (heading: string, all: readonly string[]): Block[] =>
  all.length === 0
    ? []
    : [{ kind: 'heading', words: heading }, ...all.map((one) => ({ kind: 'words' as const, words: one }))];

type Figure = Extract<Block, { kind: 'figures' }>['all'][number];

/** The four things that matter in the dark; of every length it is said what it is of. */
function figuresOf(facts: DjFacts, at: (seconds: number) => string): Figure[] {
  const { start, closingPose } = facts;
  const own = facts.plays === 'own copy';
  const signal = [
    start.signal || words.onTheirSign,
    start.lastWords ? words.after(start.lastWords) : '',
    start.where ? words.from(start.where) : '',
  ];
  const pose = closingPose
    ? { big: at(closingPose.at), words: words.poseLine(closingPose.on, closingPose.kept) }
    : facts.poseLeftOut
      ? words.poseLeftOut
      : words.poseOpen;
  return [
    own
      ? { label: words.ownCopy, big: clock(facts.fullLength), words: words.ownLine(facts.musicLength) }
      : {
          label: words.file,
          big: clock(facts.fileLength),
          words: words.fileLine(facts.musicLength, facts.fileName),
        },
    { label: words.start, big: at(start.at), words: signal.filter(Boolean).join(', ') },
    { label: words.pose, ...pose, gold: true },
    { label: words.ring, big: at(facts.ringTo), words: words.ringLine(facts.lastHeard, facts.after) },
  ];
}

/** A join that the DJ makes. */
const byHand = ({ lastWord, firstWord, goOn, leftOut }: DjJoin, at: (seconds: number) => string): string =>
  `${lastWord ? `after “${lastWord}”` : 'leave here'}, go on at ${at(goOn)}${firstWord ? ` with “${firstWord}”` : ''}; ${clock(leftOut)} left out`;

/** A join that is in the file: nothing is to be done there. */
const inFile = ({ lastWord, firstWord, leftOut }: DjJoin): string =>
  `${lastWord ? `after “${lastWord}”, ` : ''}${clock(leftOut)} is left out${firstWord ? `; it goes on with “${firstWord}”` : ''}`;

/** How loud the recording is, to set the level before the dance, and how fast it is played. */
function levelWords({ loudness, speed, plays }: DjFacts): string {
  const level = loudness === null ? '' : `The recording measures ${signed(loudness, 1)} LUFS.`;
  if (speed === 1) return level;
  const file = plays === 'finished file' ? ', in the file already' : '';
  return `${level} Played at ${Math.round(speed * 1000) / 10} % of its speed, key kept${file}.`.trim();
}
