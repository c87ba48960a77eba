import type { Migration } from './migration.ts';
import { plan1 } from './plan-1.ts';
import { show1 } from './show-1.ts';

/**
 * All that there are, each in a file of its own named AREA-FROM.ts; a test holds this list against the folder and the versions
 * of the areas.
 */
export const migrations: readonly Migration[] = [plan1, show1];
