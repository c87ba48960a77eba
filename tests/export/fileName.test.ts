import { describe, expect, it } from 'vitest';
import type { Board } from '../../lib/core/areas/board.ts';
import { dispositionOf, fileNameOf } from '../../lib/export/fileName.ts';
import { papers } from '../../lib/protocol/api.ts';
import { boardOf } from '../kit/board.ts';

const named = (one: string, other: string): Board =>
  boardOf({}, { couple: { one: { name: one, part: 'lead' }, other: { name: other, part: 'follow' } } });

describe('how a paper’s file is called', () => {
  it('says whom, what, which version and the day', () => {
    expect(fileNameOf('dj.pdf', named('Noor', 'Elias'))).toBe(
      'Noor and Elias, DJ sheet, draft, 2027-06-12.pdf',
    );
    const nameless = { ...named('Noor', 'Elias'), answer: null };
    expect(
      fileNameOf('planner.ics', { ...nameless, plan: { ...nameless.plan, couple: null, date: null } }),
    ).toBe('First dance, run of show.ics');
  });

  it('holds nothing that a file system refuses, and fits whatever the names are', () => {
    // Reserved characters and lengths: “Naming Files, Paths, and Namespaces” of the Windows API; NAME_MAX of Linux is 255 bytes.
    for (const name of ['a/b\\c:d*e?f"g<h>i|j\n\u202ek', 'स्त्री'.repeat(30), '山'.repeat(200), '..', '']) {
      for (const paper of papers) {
        const file = fileNameOf(paper, named(name, name));
        expect(file).not.toMatch(/[\\/:*?"<>|\p{Cc}\p{Cf}]/u);
        expect(Buffer.byteLength(file)).toBeLessThanOrEqual(255);
      }
    }
  });

  it('goes into the header in UTF-8, and a reader of RFC 8187 gets it back', () => {
    const name = fileNameOf('planner.pdf', named('Nguyễn (Ánh)', 'דניאל’s'));
    const header = dispositionOf(name, 'planner.pdf');
    expect(header).toMatch(/^[\x20-\x7e]+$/);
    // attr-char of RFC 8187, section 3.2.1.
    const [, value] = /; filename\*=UTF-8''((?:[A-Za-z0-9!#$&+\-.^_`|~]|%[0-9A-F]{2})+)$/.exec(header)!;
    expect(decodeURIComponent(value!)).toBe(name);
    expect(header).toContain('filename="planner.pdf"');
  });
});
