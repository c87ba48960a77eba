import { describe, expect, it } from 'vitest';
import { EVIDENCE } from '../../../lib/core/song/hypothesis.ts';
import { weigh } from '../../../lib/core/song/weights.ts';
import { WEIGHTS } from '../../../lib/core/song/weightsFitted.ts';

describe('the weights of the evidence', () => {
  it('are one for each name, and none besides', () => {
    expect(Object.keys(WEIGHTS).sort()).toEqual([...EVIDENCE].sort());
    expect(new Set(EVIDENCE).size).toBe(EVIDENCE.length);
  });

  it('weigh by name as the program that fitted them does', () => {
    // `fit.py write` prints this number for sin(n) as the value of the n-th name of the alphabet.
    const place = new Map([...EVIDENCE].sort().map((name, n) => [name, n]));
    const evidence = Float64Array.from(EVIDENCE, (name) => Math.sin(place.get(name)!));
    expect(weigh(evidence)).toBeCloseTo(-7.4509, 3);
    // Two names that change places are heard.
    [evidence[0], evidence[1]] = [evidence[1]!, evidence[0]!];
    expect(Math.abs(weigh(evidence) + 7.4509)).toBeGreaterThan(0.01);
  });
});
