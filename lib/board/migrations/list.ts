import type { Migration } from './migration.ts';

/**
 * All that there are, each in a file of its own named AREA-FROM.ts; a test holds this list against the folder and the versions
 * of the areas. None so far: every area is in its first version.
 */
export const migrations: readonly Migration[] = [];
