import { type Day, dayAfter, isWallTime } from '../calendar.ts';
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
    schema.nullable().default(null),
  ]);
  const collections = Object.entries(shape.collections).map(([name, schema]) => {
    const text = shape.richText.includes(name)
      ? { text: z.custom(isRichText, 'this is no text with its formatting') }
      : {};
    const entries = z
      .array(schema.extend({ id: z.string().min(1).max(60), ...text }))
      .refine((all) => new Set(all.map(({ id }) => id)).size === all.length, 'two have one id')
      .default([]);
    return [name, entries];
  });
  const area = z
    .object(Object.fromEntries([...registers, ...collections]))
    .nullable()
    .default(null);
  return shape.name === areas.plan.name ? z.preprocess(liftedPlan, area) : area;
}

const names = Object.keys(areas) as AreaName[];

const isFields = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/**
 * A file that was written while the dance had a day of its own, in the shape of today. Where the party had none, the dance's
 * is what was known of it.
 */
function ofToday(file: unknown): unknown {
  if (!isFields(file) || !isFields(file.show) || !('startsAt' in file.show)) return file;
  const { startsAt } = file.show;
  const show = showOfOne(file.show);
  if (!isFields(file.plan) || file.plan.date || typeof startsAt !== 'string' || !isWallTime(startsAt))
    return { ...file, show };
  const date = dayAfter(startsAt.slice(0, 10) as Day, show.afterMidnight ? -1 : 0);
  return { ...file, show, plan: { ...file.plan, date } };
}

/** A whole board as the JSON that is taken along: its parts by area, each as the area's own schema has them. */
export const boardFile = z
  .unknown()
  .transform(ofToday)
  .pipe(
    z
      .object(Object.fromEntries(names.map((name) => [name, schemaOf(areas[name])])))
      .refine(({ plan }) => plan !== null, 'a board without its plan is none')
      .transform((board) => board as unknown as Board),
  );
