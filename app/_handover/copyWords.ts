import { isSureOf, speedWords } from '../../lib/core/agreed/copy.ts';
import type { CopyCheck } from '../../lib/core/areas/answer.ts';
import { isSameSpeed } from '../../lib/core/compare/sameSpeed.ts';
import { clock } from '../../lib/core/units.ts';

/** Where copy and recording do not hold the same music, each in its own clock, seconds. */
export interface CopyDifference {
  recordFrom: number;
  recordTo: number;
  copyFrom: number;
  copyTo: number;
}

export interface CopyWords {
  /** Good to play as it is. */
  settled: boolean;
  headline: string;
  lines: string[];
}

/** Shorter than this, seconds, is a difference of how the files begin or end, and nothing that anybody hears. */
const AUDIBLE = 0.3;

const SAFER = 'The finished file is safer.';

/** For whom the words are. */
export interface CopyReader {
  plays: 'finished file' | 'own copy';
  /** The whole recording is played: a copy of it holds the same music as the finished file. */
  whole: boolean;
  /** Whoever plays the music; else one who looks after them. */
  dj: boolean;
}

/** What the copy check found, as its reader understands it. */
export function copyWords(
  found: Pick<CopyCheck, 'verdict' | 'offsetMs' | 'ratio' | 'confidence'> & {
    differences?: readonly CopyDifference[];
  },
  { plays, whole, dj }: CopyReader,
): CopyWords {
  const say = (settled: boolean, headline: string, ...lines: string[]): CopyWords => ({
    settled,
    headline,
    lines: lines.filter((line) => line !== ''),
  });
  const own = plays === 'own copy';
  const take = dj ? 'Please take the finished file.' : 'The DJ needs the finished file.';
  const isWhole = say(false, 'This is the whole recording, not the finished file.', take);
  switch (found.verdict) {
    case 'finished file':
      return own
        ? say(
            false,
            'This is the finished file.',
            dj
              ? 'Choose “I play the finished file” above, and all is well.'
              : 'If that is what they play, the DJ says so on this page.',
          )
        : say(true, 'Yes, this is the finished file.');
    case 'older finished file':
      return say(
        false,
        'This is an older finished file.',
        `It has been changed since: ${dj ? 'please take the new one' : 'the DJ needs the new one'}.`,
      );
    case 'same':
    case 'shifted':
      if (own) return say(...ownWords(found, dj));
      if (!whole) return isWhole;
      return found.verdict === 'same'
        ? say(true, 'Yes, this is what is to be played.', 'Nothing is left out: it is the whole recording.')
        : say(
            false,
            'This is a copy with a clock of its own.',
            shiftWords(found.offsetMs, found.ratio),
            take,
          );
    case 'cut differently':
      return say(
        false,
        'This copy is cut differently.',
        ...(found.differences ?? []).map(differenceWords),
        SAFER,
      );
    case 'another recording':
      return say(
        false,
        'This is another recording.',
        'Another version, a live take or a re-recording has its words and bars elsewhere.',
        take,
      );
  }
}

/** Of an own copy that holds the same music, as far as that could be told. */
function ownWords(
  found: Pick<CopyCheck, 'offsetMs' | 'ratio' | 'confidence'>,
  dj: boolean,
): [settled: boolean, headline: string, ...lines: string[]] {
  if (!isSureOf(found))
    return [false, 'It may be the same recording.', `That could not be told for certain. ${SAFER}`];
  const shift = shiftWords(found.offsetMs, found.ratio);
  const clock = dj && shift ? 'All times on this page are now those of your copy.' : '';
  return isSameSpeed(found.ratio)
    ? [true, 'Yes, this is the same recording.', shift, clock]
    : [
        false,
        'This is the same recording at another speed.',
        shift,
        `The couple dance to another tempo. ${SAFER}`,
        clock,
      ];
}

function shiftWords(offsetMs: number, ratio: number): string {
  const late = Math.round(Math.abs(offsetMs) / 10) / 100;
  const shift = late < 0.01 ? '' : `It comes ${late} s ${offsetMs > 0 ? 'later' : 'earlier'}`;
  const speed = Math.abs(1 / ratio - 1) < 0.00005 ? '' : speedWords(ratio);
  if (!shift && !speed) return '';
  return `${[shift || 'It', speed].filter(Boolean).join(shift && speed ? ' and ' : ' ')}.`;
}

function differenceWords({ recordFrom, recordTo, copyFrom, copyTo }: CopyDifference): string {
  const missing = recordTo - recordFrom > AUDIBLE;
  const added = copyTo - copyFrom > AUDIBLE;
  const lacks = `${clock(recordFrom)} to ${clock(recordTo)} of the recording`;
  const has = `${clock(copyFrom)} to ${clock(copyTo)} of the copy`;
  if (missing && added) return `Instead of ${lacks} it has ${has}.`;
  if (missing) return `It lacks ${lacks}.`;
  if (added) return `It has more: ${has}.`;
  return '';
}
