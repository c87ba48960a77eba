import { spawnSync } from 'node:child_process';

/** Text of a PDF by a reader that is not ours (poppler); null where it is not installed. */
export function textOf(pdf: Buffer): string | null {
  const { status, stdout } = spawnSync('pdftotext', ['-layout', '-', '-'], { input: pdf });
  return status === 0 ? stdout.toString('utf8').replace(/\s+/g, ' ') : null;
}

/** Of a PDF by the same reader: its pages, and its tree of tags; null where it is not installed. */
export function pagesOf(pdf: Buffer): { pages: number; tagged: boolean; structure: string } | null {
  const info = spawnSync('pdfinfo', ['-'], { input: pdf });
  const tree = spawnSync('pdfinfo', ['-struct', '-'], { input: pdf });
  if (info.status !== 0 || tree.status !== 0) return null;
  const about = info.stdout.toString('utf8');
  return {
    pages: Number(/^Pages:\s+(\d+)$/m.exec(about)?.[1]),
    tagged: /^Tagged:\s+yes$/m.test(about),
    structure: tree.stdout.toString('utf8'),
  };
}
