import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson, hashOf, type Json } from '../../../lib/core/edit/canonical.ts';
import { canonicalEdit, digestOf } from '../../../lib/core/edit/digest.ts';
import { edit as editSchema, wholeSong } from '../../../lib/core/edit/edit.ts';
import { anyEdit, cut, fade } from './edits.ts';

const recording = { id: 'a'.repeat(64), rate: 44_100, channels: 2 };

describe('canonical JSON', () => {
  it('is what another library writes, and its hash what another makes', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalize(value);
        expect(canonicalJson(value as Json)).toBe(text);
        expect(hashOf(value as Json)).toBe(createHash('sha256').update(text!).digest('hex'));
      }),
    );
  });

  // RFC 8785, 3.2.3: keys in order of UTF-16 code units.
  it('orders keys as the RFC shows', () => {
    const value = {
      '€': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew',
      '1': 'One',
      '😀': 'Smile',
      ö: 'o',
    };
    expect(Object.values(JSON.parse(canonicalJson(value)) as object)).toHaveLength(6);
    const keys = ['\\r', '1', 'ö', '€', '😀', '\ufb33'];
    const places = keys.map((key) => canonicalJson(value).indexOf(`"${key}":`));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(places).not.toContain(-1);
  });

  it('has no word for what is no number', () => {
    expect(() => canonicalJson([Number.NaN])).toThrow();
  });
});

describe('digest of an edit', () => {
  it('is the same after a journey through JSON', () => {
    fc.assert(
      fc.property(anyEdit, (edit) => {
        const back = editSchema.parse(JSON.parse(JSON.stringify(edit)));
        expect(back).toEqual(edit);
        expect(digestOf(back, recording)).toBe(digestOf(edit, recording));
      }),
    );
  });

  it('says nothing of what was measured', () => {
    const one = { ...wholeSong, cuts: [cut(60, 90)] };
    const other = { ...wholeSong, cuts: [{ ...cut(60, 90), beatErrorMs: 0.4 }] };
    expect(digestOf(one, recording)).toBe(digestOf(other, recording));
  });

  it('changes with whatever would be heard or done otherwise', () => {
    const edits = [
      wholeSong,
      { ...wholeSong, speed: 0.98 },
      { ...wholeSong, cuts: [cut(60, 90)] },
      { ...wholeSong, cuts: [cut(60, 90.000001)] },
      { ...wholeSong, cuts: [{ ...cut(60, 90), crossfade: 0.02 }] },
      { ...wholeSong, end: fade(180, 8) },
      { ...wholeSong, end: { ...fade(180, 8), byHand: true } },
      { ...wholeSong, end: { ...fade(180, 8), shape: 'soft' } },
    ] as const;
    const digests = edits.map((edit) => digestOf(editSchema.parse(edit), recording));
    digests.push(digestOf(wholeSong, { ...recording, id: 'b'.repeat(64) }));
    expect(new Set(digests).size).toBe(digests.length);
  });

  it('reads so', () => {
    expect(canonicalEdit({ ...wholeSong, cuts: [cut(60.5, 90)] }, { ...recording, id: 'c0' })).toBe(
      '{"channels":2,"cuts":[{"crossfade":30000,"from":60500000,"to":90000000}],"end":{"kind":"own"},' +
        '"rate":44100,"recording":"c0","speed":1,"start":0,"v":1}',
    );
  });
});
