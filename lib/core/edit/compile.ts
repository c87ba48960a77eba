import { type FloorTime, floorTime, type RecordTime, recordTime } from '../units.ts';
import type { Edit } from './edit.ts';
import type { CompiledEdit, Span } from './score.ts';

/**
 * What of the recording is played, and when. Spans are half open: at a seam the moment belongs to the part after it, and
 * only the last span includes its end. The two maps are inverses on what is kept (to the rounding of a double).
 * A fade ends `length` seconds of kept music after it begins. An edit that keeps nothing has no spans and length 0.
 * @param recording `duration` in seconds
 */
export function compileEdit(edit: Edit, recording: { duration: number }): CompiledEdit {
  const kept = shorten(keptParts(edit, recording.duration), edit);
  const spans: Span[] = [];
  let floor = 0;
  for (const part of kept) {
    spans.push({
      from: recordTime(part.from),
      to: recordTime(part.to),
      floor: floorTime(floor),
    });
    floor += (part.to - part.from) / edit.speed;
  }
  const length = floorTime(floor);
  return {
    spans,
    length,
    speed: edit.speed,
    toFloor: (record) => toFloor(spans, edit.speed, record),
    toRecord: (at) => toRecord(spans, edit.speed, at),
  };
}

interface Part {
  from: number;
  to: number;
}

function keptParts(edit: Edit, duration: number): Part[] {
  const parts: Part[] = [];
  let from: number = edit.start;
  for (const cut of edit.cuts) {
    const to = Math.min(cut.from, duration);
    if (to > from) parts.push({ from, to });
    from = Math.max(from, cut.to);
  }
  if (duration > from) parts.push({ from, to: duration });
  return parts;
}

/** Ends the kept parts where the fade has reached silence. */
function shorten(parts: Part[], edit: Edit): Part[] {
  const { end } = edit;
  if (end.kind === 'own') return parts;
  const played: Part[] = [];
  let left = end.length;
  for (const part of parts) {
    const fading = Math.max(part.from, Math.min(part.to, end.from));
    const to = Math.min(part.to, fading + left);
    if (to > part.from) played.push({ from: part.from, to });
    left -= to - fading;
    if (left <= 0 || to < part.to) break;
  }
  return played;
}

function toFloor(spans: Span[], speed: number, record: RecordTime): FloorTime | null {
  for (const [i, span] of spans.entries()) {
    const inside =
      record >= span.from && (record < span.to || (i === spans.length - 1 && record === span.to));
    if (inside) return floorTime(span.floor + (record - span.from) / speed);
  }
  return null;
}

/** Floor times before the start or past the end are taken for start and end. */
function toRecord(spans: Span[], speed: number, at: FloorTime): RecordTime {
  const span = spans.findLast((s) => s.floor <= at) ?? spans[0];
  if (!span) return recordTime(0);
  return recordTime(Math.min(span.to, span.from + Math.max(0, at - span.floor) * speed));
}

/** Floor time of a moment, or of the last kept one before it; 0 when nothing before it is kept. */
export function floorAtOrBefore(compiled: CompiledEdit, record: RecordTime): FloorTime {
  const span = compiled.spans.findLast((s) => s.from <= record);
  if (!span) return floorTime(0);
  return floorTime(span.floor + (Math.min(span.to, record) - span.from) / compiled.speed);
}

/** Floor time of the last sound: a fade's end, else the recording's own last sound, after which what is kept of it is quiet. */
export const musicEnd = (edit: Edit, compiled: CompiledEdit, lastSound: number): FloorTime =>
  edit.end.kind === 'fade' ? compiled.length : floorAtOrBefore(compiled, recordTime(lastSound));

/** Floor time at which a fade begins (of the next kept moment, where the edit removes that one); null for the own end. */
export function fadeStart(edit: Edit, compiled: CompiledEdit): FloorTime | null {
  const { end } = edit;
  if (end.kind === 'own') return null;
  const span = compiled.spans.find((s) => s.to > end.from);
  if (!span) return compiled.length;
  return floorTime(span.floor + Math.max(0, end.from - span.from) / compiled.speed);
}
