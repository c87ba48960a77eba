import { describe, expect, test } from 'vitest';
import { attemptsInMemory, Guesses, StrayLinks } from '../../server/services/attempts.ts';

/** A clock that goes on only while somebody waits, or when told to. */
class Hours {
  ms = 1e12;
  waited: number[] = [];
  readonly now = () => this.ms;
  readonly wait = async (ms: number) => void this.waited.push(ms);
}

describe('guesses at the passphrase', () => {
  test('one address has a few at once, then one every ten seconds', async () => {
    const hours = new Hours();
    const guesses = new Guesses(attemptsInMemory(hours.now), hours.wait);
    const take = async (peer: string) => (await guesses.take(peer, null)).ok;
    for (let n = 0; n < 5; n++) expect(await take('a')).toBe(true);
    expect(await take('a')).toBe(false);
    expect(await take('b')).toBe(true);
    hours.ms += 9_900;
    expect(await take('a')).toBe(false);
    hours.ms += 200;
    expect(await take('a')).toBe(true);
    expect(await take('a')).toBe(false);
    expect(hours.waited).toEqual([]);
  });

  test('from many addresses at once all wait their turn, and are refused only past twenty seconds', async () => {
    const hours = new Hours();
    const guesses = new Guesses(attemptsInMemory(hours.now), hours.wait);
    const answers: boolean[] = [];
    for (let n = 0; n < 100; n++) answers.push((await guesses.take(`address ${n}`, null)).ok);
    expect(answers.filter(Boolean)).toHaveLength(70);
    // Fifty at once, then each a second after the one before.
    expect(hours.waited.map((ms) => Math.round(ms / 1000))).toEqual(
      Array.from({ length: 20 }, (_, n) => n + 1),
    );
    hours.ms += 60_000;
    hours.waited = [];
    expect((await guesses.take('address 1000', null)).ok).toBe(true);
    expect(Math.max(0, ...hours.waited)).toBeLessThan(20_000);
  });

  test('a browser that was signed in before waits for no flood, and has its own few', async () => {
    const hours = new Hours();
    const guesses = new Guesses(attemptsInMemory(hours.now), hours.wait);
    for (let n = 0; n < 100; n++) await guesses.take(`address ${n}`, null);
    hours.waited = [];
    for (let n = 0; n < 5; n++) expect((await guesses.take('address 1', 'session')).ok).toBe(true);
    expect((await guesses.take('address 1', 'session')).ok).toBe(false);
    expect(hours.waited).toEqual([]);
  });

  test('a flood of addresses makes nobody else forgotten at once, and memory stays bounded', async () => {
    const hours = new Hours();
    const guesses = new Guesses(attemptsInMemory(hours.now), hours.wait);
    for (let n = 0; n < 5; n++) await guesses.take('a', null);
    for (let n = 0; n < 9_000; n++) {
      hours.ms += 1;
      await guesses.take(`address ${n}`, null);
    }
    expect((await guesses.take('a', null)).ok).toBe(false);
  });
});

test('links that lead nowhere are counted by address, those that lead somewhere are not', () => {
  const hours = new Hours();
  const stray = new StrayLinks(hours.now);
  for (let n = 0; n < 20; n++) {
    expect(stray.allowed('a').ok).toBe(true);
    stray.count('a');
  }
  expect(stray.allowed('a').ok).toBe(false);
  expect(stray.allowed('b').ok).toBe(true);
  hours.ms += 3_001;
  expect(stray.allowed('a').ok).toBe(true);
});
