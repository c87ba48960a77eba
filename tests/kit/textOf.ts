import { spawnSync } from 'node:child_process';

/** Text of a PDF by a reader that is not ours (poppler); null where it is not installed. */
export function textOf(pdf: Buffer): string | null {
  const { status, stdout } = spawnSync('pdftotext', ['-layout', '-', '-'], { input: pdf });
  return status === 0 ? stdout.toString('utf8').replace(/\s+/g, ' ') : null;
}
