import { liftedGrid, liftedSection } from '../../core/areas/earlier.ts';
import type { Migration } from './migration.ts';

/**
 * A grid said in one name who had confirmed it, and one register said so of all sections; now each of a grid's aspects and each
 * section says it. Marks stay as they were written: they are lifted when they are read.
 */
export const plan1: Migration = {
  area: 'plan',
  from: 1,
  lift({ registers, collections }) {
    const { sectionsConfirmedBy: by, ...rest } = registers;
    const sections = Object.entries(collections.sections ?? {});
    return {
      registers: { ...rest, ...(rest.grid !== undefined && { grid: liftedGrid(rest.grid) }) },
      collections: {
        ...collections,
        sections: Object.fromEntries(sections.map(([id, fields]) => [id, liftedSection(fields, by)])),
      },
    };
  },
};
