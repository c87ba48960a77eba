/** Words of the offer that settles several notes at once. */

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];
const number = (n: number): string => NUMBERS[n] ?? String(n);
const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
const changes = (n: number): string => `${number(n)} ${n === 1 ? 'change' : 'changes'}`;

export const title = 'All notes together';

/** "Three changes, and nothing is left to settle." */
export const offer = (steps: number, left: number): string =>
  left === 0
    ? `${capital(changes(steps))}, and nothing is left to settle.`
    : `${capital(changes(steps))}, and ${number(left)} ${left === 1 ? 'note is' : 'notes are'} left.`;

/** Said where no smaller set was found, and every smaller one was tried. */
export const least = 'Fewer do not do it: every smaller set was tried.';
export const what = 'What would be changed';
export const left = 'What is left';
export const make = (steps: number): string =>
  steps === 1 ? 'Make this change' : `Make these ${changes(steps)}`;
export const undo = 'One undo takes all of it back.';
