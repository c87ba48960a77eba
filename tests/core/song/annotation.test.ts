import { describe, expect, it } from 'vitest';
import { kindOfLabel, parseBeats, parseLab } from '../../../lib/core/song/annotation.ts';

describe('beats files', () => {
  it('reads seconds and places, tabs or blanks, any line ends, comments', () => {
    const parsed = parseBeats('# by hand\r\n0.50\t4\r\n1.00 1\n\n1.5e0\t2\n');
    expect(parsed).toEqual({ ok: true, value: { beats: [0.5, 1, 1.5], positions: [4, 1, 2] } });
  });
  it('places may be missing', () => {
    expect(parseBeats('1\n2\n')).toMatchObject({ ok: true, value: { positions: [0, 0] } });
  });
  it.each(['', '# nothing', 'one\ttwo', '1\t1\n0.5\t2', '0x10\t1', '1\tx', '-1\t1'])(
    'refuses %j with a sentence',
    (text) => {
      const parsed = parseBeats(text);
      expect(parsed).toMatchObject({ ok: false, problem: { code: 'beats file' } });
    },
  );
});

describe('sections files', () => {
  it('reads labels with blanks', () => {
    const parsed = parseLab('0.0\t10.5\tintro\n10.5\t20\tlast chorus\n');
    expect(parsed).toEqual({
      ok: true,
      value: [
        { start: 0, end: 10.5, label: 'intro' },
        { start: 10.5, end: 20, label: 'last chorus' },
      ],
    });
  });
  it.each(['', '0\t1', '2\t1\tverse', '0\t5\ta\n4\t6\tb', 'a\tb\tc'])(
    'refuses %j with a sentence',
    (text) => {
      expect(parseLab(text)).toMatchObject({ ok: false, problem: { code: 'sections file' } });
    },
  );
  it('knows the usual labels', () => {
    expect(['Pre-Chorus', 'prechorus', 'Chorus 2', 'solo', 'Coda', 'A'].map(kindOfLabel)).toEqual([
      'pre-chorus',
      'pre-chorus',
      'chorus',
      'instrumental',
      'outro',
      'verse',
    ]);
  });
});
