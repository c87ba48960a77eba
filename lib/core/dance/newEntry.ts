const NEW = 'new:';

/** Stands for the id of an entry that a suggestion would make; `what` tells it from others of the same suggestion. */
export const newEntry = (what: number | string): string => `${NEW}${what}`;
export const isNewEntry = (id: string): boolean => id.startsWith(NEW);
