import { compileEdit, fadeStart } from '../../lib/core/edit/compile.ts';
import type { Edit } from '../../lib/core/edit/edit.ts';

/** A stretch of the recording on the DJ page's strip, record time. */
export interface StripPart {
  kind: 'played' | 'fading' | 'left out' | 'before' | 'after';
  from: number;
  to: number;
}

/** Whatever is shorter than this, seconds, is no stretch that anybody could see. */
const SMALLEST = 0.05;

/** The recording from its first to its last second: what is played, left out, faded, and not reached. */
export function stripOf(edit: Edit, duration: number): StripPart[] {
  const compiled = compileEdit(edit, { duration });
  const fade = fadeStart(edit, compiled);
  const fadeFrom = fade === null ? Number.POSITIVE_INFINITY : compiled.toRecord(fade);
  const parts: StripPart[] = [];
  let at = 0;
  for (const [i, span] of compiled.spans.entries()) {
    parts.push({ kind: i === 0 ? 'before' : 'left out', from: at, to: span.from });
    const fading = Math.min(span.to, Math.max(span.from, fadeFrom));
    parts.push(
      { kind: 'played', from: span.from, to: fading },
      { kind: 'fading', from: fading, to: span.to },
    );
    at = span.to;
  }
  parts.push({ kind: 'after', from: at, to: duration });
  return parts.filter((part) => part.to - part.from > SMALLEST);
}
