/**
 * In place of the log that Yjs brings along, with coloured words, pictures and a console drawn into the page: 3 KB compressed. The
 * little it says is said to the browser's own.
 */
const plain = (words: unknown[]): unknown[] => words.filter((word) => typeof word !== 'symbol');
export const print = (...words: unknown[]): void => console.log(...plain(words));
export const warn = (...words: unknown[]): void => console.warn(...plain(words));
export const [BOLD, UNBOLD, ORANGE, RED] = [Symbol(), Symbol(), Symbol(), Symbol()];
