import { versionNumber } from '../core/agreed/version.ts';
import type { Board } from '../core/areas/board.ts';
import type { Paper } from '../protocol/api.ts';
import { fileWords } from './words.ts';

/** Letters of a name, so that the whole stays below the 255 bytes of most file systems, whatever the script. */
const MOST = 20;

/** What no file system takes (control characters, and the signs that Windows keeps for itself), and blanks in a row. */
const UNSAFE = /[\\/:*?"<>|\p{Cc}\p{Cf}]/gu;
const safe = (name: string): string =>
  [...name.normalize('NFC').replace(UNSAFE, ' ').replace(/\s+/g, ' ').trim()].slice(0, MOST).join('').trim();

/**
 * How a paper's file is called: whom it is about, what it is, which version, and the day of the party, as in
 * `Noor and Elias, DJ sheet, version 3, 2027-06-12.pdf`. Who may not read the DJ's answer knows of no version.
 */
export function fileNameOf(paper: Paper, board: Board): string {
  const { couple, date } = board.plan;
  const names = [couple?.one.name, couple?.other.name].map((name) => safe(name ?? '')).filter(Boolean);
  const parts = [
    fileWords.whom(names),
    fileWords.what[paper],
    board.answer ? fileWords.version(versionNumber(board)) : '',
    date ?? '',
  ];
  return `${parts.filter(Boolean).join(', ')}.${paper.split('.')[1]}`;
}

/**
 * The header that hands over a file under its name (RFC 6266): in UTF-8 (RFC 8187), and plain for readers that know only ASCII.
 */
export function dispositionOf(name: string, plain: string): string {
  const encoded = encodeURIComponent(name).replace(
    /['()*]/g,
    (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`,
  );
  return `attachment; filename="${plain}"; filename*=UTF-8''${encoded}`;
}
