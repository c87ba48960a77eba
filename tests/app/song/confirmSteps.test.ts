import { describe, expect, it } from 'vitest';
import { confirmable, confirmed } from '../../../app/_song/confirmSteps.ts';
import { confirmWords, sureOf } from '../../../app/_song/confirmWords.ts';
import { changePlan } from '../../../lib/core/areas/change.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { openOf, songAspects, standingOf } from '../../../lib/core/song/confirmed.ts';
import { byNobody } from '../../../lib/core/song/grid.ts';
import { planOf } from '../../kit/board.ts';

const all = planOf();
const heard: Plan = {
  ...all,
  grid: { ...all.grid!, confirmedBy: byNobody },
  sections: all.sections.map((one) => ({ ...one, confirmedBy: null })),
};
const said = (plan: Plan, aspects: Parameters<typeof confirmed>[1], by = 'Noor') =>
  changePlan(plan, confirmed(plan, aspects, by));

describe('a word that it is right', () => {
  it.each(songAspects)('for the %s confirms them and nothing else', (about) => {
    const next = said(heard, [about]);
    expect(openOf(next).map((one) => one.about)).toEqual(songAspects.filter((one) => one !== about));
    expect(standingOf(next).find((one) => one.about === about)?.by).toEqual(['Noor']);
  });

  it('for all that is open leaves nothing open, and what others confirmed their word', () => {
    const part = changePlan(said(heard, ['beats'], 'Elias'), [
      { collection: 'sections', id: 's1', fields: { confirmedBy: 'Elias' } },
    ]);
    const next = said(part, confirmable(part));
    expect(openOf(next)).toEqual([]);
    expect(next.grid!.confirmedBy).toEqual({ metre: 'Noor', beats: 'Elias', bars: 'Noor' });
    expect(next.sections.map(({ id, confirmedBy }) => [id, confirmedBy])).toContainEqual(['s1', 'Elias']);
    expect(confirmed(next, songAspects, 'Noor')).toEqual([]);
  });

  it('cannot be given for sections that are not there', () => {
    const none = { ...heard, sections: [] };
    expect(confirmable(none)).toEqual(['metre', 'beats', 'bars']);
    expect(openOf(said(none, songAspects)).map(({ about }) => about)).toEqual(['sections']);
  });

  it('says what it confirms', () => {
    expect(confirmWords(heard, confirmable(heard))).toBe(
      'Confirms three beats a bar, 90 beats a minute, bars from 0:00.0 on and where 9 sections begin.',
    );
    const rest = changePlan(heard, [{ collection: 'sections', id: 's1', fields: { confirmedBy: 'Noor' } }]);
    expect(confirmWords(rest, ['sections'])).toBe('Confirms where 8 of 9 sections begin.');
  });

  it('is named beside what it is for; without it stands how sure the program is', () => {
    const part = changePlan(said(heard, ['beats']), [
      { collection: 'sections', id: 's1', fields: { confirmedBy: 'Noor' } },
    ]);
    const unsure = {
      ...part,
      heard: { ...part.heard!, confidence: { ...part.heard!.confidence, bars: 0.6 } },
    };
    expect(standingOf(unsure).map(sureOf)).toEqual([
      'sure, not confirmed',
      'confirmed by Noor',
      'please check',
      '8 of 9 sections not confirmed',
    ]);
    expect(standingOf({ ...heard, heard: null }).map(sureOf)[0]).toBe('not confirmed');
  });
});
