/**
 * In place of the Buffer that the bundler adds for node's: lib0 names it in functions that only node calls, and the copy that nobody
 * calls weighs as much as a tenth of the sheet's own script.
 */
export const Buffer = undefined;
