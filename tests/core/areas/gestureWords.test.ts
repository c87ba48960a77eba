import { describe, expect, it } from 'vitest';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { gestureWords } from '../../../lib/core/areas/gestureWords.ts';
import { byNobody } from '../../../lib/core/song/grid.ts';
import { planOf } from '../../kit/board.ts';

const plan = planOf();
const open = {
  ...plan,
  grid: { ...plan.grid!, confirmedBy: byNobody },
  sections: plan.sections.map((section) => ({ ...section, confirmedBy: null })),
};

describe('a gesture in words', () => {
  it('says what it confirmed, which differs for nobody', () => {
    expect(gestureWords(open, plan)).toEqual(['Confirmed: metre, beats, bars and sections.']);
    const bars = { ...open, grid: { ...open.grid, confirmedBy: { ...byNobody, bars: 'Marta' } } };
    expect(gestureWords(open, bars)).toEqual(['Confirmed: bars.']);
    const [first, ...rest] = open.sections;
    expect(gestureWords(open, { ...open, sections: [{ ...first!, confirmedBy: 'Marta' }, ...rest] })).toEqual(
      ['Confirmed: a section.'],
    );
  });
  it('says nothing of what was confirmed before', () => {
    expect(gestureWords(plan, plan)).toEqual([]);
    const other = changePlan(plan, [{ register: 'phraseBars', value: 4 }]);
    expect(gestureWords(plan, other)).toEqual(['A phrase now has 4 bars.']);
  });
  it('says how long the phrases of a section are', () => {
    const own = changePlan(plan, [{ collection: 'sections', id: 's3', fields: { phraseBars: 6 } }]);
    expect(gestureWords(plan, own)).toEqual(['In chorus 1 a phrase has 6 bars.']);
    expect(gestureWords(own, plan)).toEqual(['In chorus 1 a phrase has as many bars as in the song.']);
  });
});
