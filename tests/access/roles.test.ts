import { expect, test } from 'vitest';
import { mayInvite } from '../../lib/access/roles.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { role } from '../../lib/core/areas/people.ts';
import { may } from '../../lib/core/areas/rights.ts';

test('who writes what is the table of the design, crew reading the entry and what it rests on', () => {
  const names = Object.keys(areas) as AreaName[];
  const letter = (who: (typeof role.options)[number], area: AreaName) =>
    may(who, area, 'write') ? 'w' : may(who, area, 'read') ? 'r' : '-';
  const table = role.options.map((who) => `${who} ${names.map((area) => letter(who, area)).join('')}`);
  expect(names).toEqual(['plan', 'lessons', 'remarks', 'answer', 'show']);
  expect(table).toEqual(['instructor wwwrw', 'couple wwwrr', 'dj r-wwr', 'planner r-wrw', 'crew r--rr']);
});

test('nobody makes a link to more than they may themselves', () => {
  for (const who of role.options)
    for (const guest of role.options) {
      if (!mayInvite(who, guest)) continue;
      const wider = (Object.keys(areas) as AreaName[]).filter(
        (area) => may(guest, area, 'read') && !may(who, area, 'read'),
      );
      expect(wider).toEqual([]);
    }
});
