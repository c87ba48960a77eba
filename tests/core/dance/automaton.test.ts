import { describe, it } from 'vitest';
import { automatonChecks } from './automatonChecks.ts';

describe('the automaton', () => {
  it.each(Object.entries(automatonChecks))('%s', (_, check) => check());
});
