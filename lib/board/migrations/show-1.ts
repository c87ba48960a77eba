import { showOfOne } from '../../core/areas/showOfOne.ts';
import type { Migration } from './migration.ts';

/** The day of the dance is the plan's, and only its time the show's. */
export const show1: Migration = {
  area: 'show',
  from: 1,
  lift: ({ registers, collections }) => ({ registers: showOfOne(registers), collections }),
};
