import { type Day, isWallTime } from '../calendar.ts';
import { dayAfter } from '../dayCount.ts';
import { z } from '../zod.ts';
import type { AreaShape, RichText } from './area.ts';
import { type AreaName, areas, type Board } from './board.ts';
import { liftedPlan } from './earlier.ts';
import { showOfOne } from './showOfOne.ts';

/** Deeper than anybody's lists in lists; a file that goes further down was not written by an editor. */
const DEEPEST = 30;

/** Its form only; which nodes and marks a note may hold is checked where documents are written. */
function isRichText(value: unknown, depth = 0): value is RichText {
  if (typeof value !== 'object' || value === null || depth > DEEPEST) return false;
  const { type, text, attrs, marks, content } = value as Record<string, unknown>;
  return (
    typeof type === 'string' &&
    (text === undefined || typeof text === 'string') &&
    (attrs === undefined || (typeof attrs === 'object' && attrs !== null)) &&
    (marks === undefined ||
      (Array.isArray(marks) && marks.every((mark) => typeof mark?.type === 'string'))) &&
    (content === undefined ||
      (Array.isArray(content) && content.every((node) => isRichText(node, depth + 1))))
  );
}

/** Unset registers and empty collections may be left out, an area that the writer could not read is null. */
function schemaOf(shape: AreaShape): z.ZodType {
  const registers = Object.entries(shape.registers).map(([name, schema]) => [
    name,
    z._default(z.nullable(schema), null),
  ]);
  const collections = Object.entries(shape.collections).map(([name, schema]) => {
    const text = shape.richText.includes(name)
      ? { text: z.custom(isRichText, 'this is no text with its formatting') }
      : {};
    const entry = z.extend(schema, { id: z.string().check(z.minLength(1), z.maxLength(60)), ...text });
    const entries = z
      .array(entry)
      .check(z.refine((all) => new Set(all.map(({ id }) => id)).size === all.length, 'two have one id'));
    return [name, z._default(entries, [])];
  });
  return z._default(z.nullable(z.object(Object.fromEntries([...registers, ...collections]))), null);
}

const names = Object.keys(areas) as AreaName[];

const isFields = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A file as an earlier version wrote it, in the shape of today. */
function ofToday(file: unknown): unknown {
  if (!isFields(file)) return file;
  const withDay = withDayOfParty(file);
  return { ...withDay, plan: liftedPlan(withDay.plan) };
}

/** While the dance had a day of its own: where the party had none, the dance's is what was known of it. */
function withDayOfParty(file: Record<string, unknown>): Record<string, unknown> {
  if (!isFields(file.show) || !('startsAt' in file.show)) return file;
  const { startsAt } = file.show;
  const show = showOfOne(file.show);
  if (!isFields(file.plan) || file.plan.date || typeof startsAt !== 'string' || !isWallTime(startsAt))
    return { ...file, show };
  const date = dayAfter(startsAt.slice(0, 10) as Day, show.afterMidnight ? -1 : 0);
  return { ...file, show, plan: { ...file.plan, date } };
}

/** A whole board as the JSON that is taken along: its parts by area, each as the area's own schema has them. */
export const boardFile = z.pipe(
  z.transform(ofToday),
  z.pipe(
    z
      .object(Object.fromEntries(names.map((name) => [name, schemaOf(areas[name])])))
      .check(z.refine(({ plan }) => plan !== null, 'a board without its plan is none')),
    z.transform((board) => board as unknown as Board),
  ),
);
