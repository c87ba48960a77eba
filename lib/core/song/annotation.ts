import { bad, good, type Result } from '../result.ts';
import { type RecordTime, recordTime } from '../units.ts';
import type { SectionKind } from './section.ts';

/** The open annotation sets' text forms: a line an entry, fields parted by tabs or blanks, `#` begins a comment. */

/** Rows of fields; the line's number, from 1, for messages. */
function rowsOf(text: string): { line: number; fields: string[] }[] {
  return text
    .split(/\r\n|\r|\n/)
    .map((line, i) => ({
      line: i + 1,
      fields: line
        .replace(/#.*$/, '')
        .replace(/^\uFEFF/, '')
        .trim()
        .split(/\s+/),
    }))
    .filter(({ fields }) => fields[0] !== '');
}

/** A decimal number and nothing else: `Number` alone would read '' and '0x1'. */
const seconds = (field: string | undefined): number =>
  field !== undefined && /^\d+(\.\d+)?([eE][+-]?\d+)?$/.test(field) ? Number(field) : Number.NaN;

/**
 * NAME.beats: a line a beat, seconds, then its place in the bar from 1 (0 where it is not known).
 * @returns problem `beats file` naming the line
 */
export function parseBeats(text: string): Result<{ beats: RecordTime[]; positions: number[] }> {
  const beats: RecordTime[] = [];
  const positions: number[] = [];
  for (const { line, fields } of rowsOf(text)) {
    const time = seconds(fields[0]);
    const place = fields[1] === undefined ? 0 : seconds(fields[1]);
    if (Number.isNaN(time) || !Number.isInteger(place)) {
      return bad(
        'beats file',
        `Line ${line} of the beats file should read "seconds, tab, place in the bar".`,
      );
    }
    if (beats.length > 0 && time <= beats.at(-1)!) {
      return bad(
        'beats file',
        `Line ${line} of the beats file is not later than the line before; put the beats in order.`,
      );
    }
    beats.push(recordTime(time));
    positions.push(place);
  }
  return beats.length === 0
    ? bad('beats file', 'The beats file holds no beats; it needs a line a beat.')
    : good({ beats, positions });
}

export interface LabelledStretch {
  start: RecordTime;
  end: RecordTime;
  label: string;
}

/**
 * NAME.lab: a line a section, start, end, label; labels may hold blanks.
 * @returns problem `sections file` naming the line
 */
export function parseLab(text: string): Result<LabelledStretch[]> {
  const stretches: LabelledStretch[] = [];
  for (const { line, fields } of rowsOf(text)) {
    const [start, end] = [seconds(fields[0]), seconds(fields[1])];
    const label = fields.slice(2).join(' ');
    if (Number.isNaN(start) || Number.isNaN(end) || end <= start || label === '') {
      return bad(
        'sections file',
        `Line ${line} of the sections file should read "start, tab, end, tab, label".`,
      );
    }
    if (stretches.length > 0 && start < stretches.at(-1)!.end - 1e-3) {
      return bad('sections file', `Line ${line} of the sections file begins before the section above ends.`);
    }
    stretches.push({ start: recordTime(start), end: recordTime(end), label });
  }
  return stretches.length === 0
    ? bad('sections file', 'The sections file holds no sections; it needs a line a section.')
    : good(stretches);
}

const KINDS: [RegExp, SectionKind][] = [
  [/^(pre|build)/, 'pre-chorus'],
  [/^(chorus|refrain|hook)/, 'chorus'],
  [/^(verse|strophe)/, 'verse'],
  [/^(bridge|middle|break)/, 'bridge'],
  [/^(intro|opening)/, 'intro'],
  [/^(outro|coda|ending|end|fade)/, 'outro'],
  [/^(inst|solo|interlude|strain)/, 'instrumental'],
];

/** Our word for an annotated label; a verse where it is none that we know. */
export function kindOfLabel(label: string): SectionKind {
  const plain = label.trim().toLowerCase();
  return KINDS.find(([pattern]) => pattern.test(plain))?.[1] ?? 'verse';
}
