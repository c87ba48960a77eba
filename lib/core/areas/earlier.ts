type Fields = Record<string, unknown>;

/**
 * Parts of a plan as an earlier version wrote them, in the shape of today. They go by what they find: neither a mark nor a board's
 * file says which version wrote it. What is of today stays as it is; what is of no version too, for the schemas to refuse.
 */

/** In version 1 one name stood for all of a grid. */
export function liftedGrid(grid: unknown): unknown {
  if (!isFields(grid) || (grid.confirmedBy !== null && typeof grid.confirmedBy !== 'string')) return grid;
  const by = nameOf(grid.confirmedBy);
  return { ...grid, confirmedBy: { metre: by, beats: by, bars: by } };
}

/**
 * In version 1 one name stood for all sections.
 * @param by that name
 */
export const liftedSection = (section: Fields, by: unknown): Fields =>
  Object.hasOwn(section, 'confirmedBy') ? section : { ...section, confirmedBy: nameOf(by) };

/** A plan as JSON has it, or what a mark holds of one. */
export function liftedPlan(plan: unknown): unknown {
  if (!isFields(plan)) return plan;
  const { sectionsConfirmedBy: by, ...rest } = plan;
  const { grid, sections } = rest;
  return {
    // Before corrections were kept there were none, and nobody said where on the floor the dance begins, or how long their step is.
    ...{ corrections: [], beginsAt: null, stride: null },
    ...rest,
    ...(grid !== undefined && { grid: liftedGrid(grid) }),
    ...(Array.isArray(sections) && {
      sections: sections.map((one) => (isFields(one) ? liftedSection(one, by) : one)),
    }),
  };
}

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const nameOf = (by: unknown): string | null => (typeof by === 'string' && by !== '' ? by : null);
