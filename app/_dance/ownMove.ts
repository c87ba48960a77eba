import { dancedMetre } from '@/lib/core/dance/counts.ts';
import { type Caution, caution, type DanceHold, danceHold, type Move } from '@/lib/core/dance/move.ts';
import { supportedLean } from '@/lib/core/dance/saferForm.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import { parseNumber } from './entering.ts';

/** What a form for a move says, as strings. */
export type MoveForm = Record<
  | 'name'
  | 'counts'
  | 'preparation'
  | 'landsOn'
  | 'holdBefore'
  | 'holdAfter'
  | 'lead'
  | 'follow'
  | 'room'
  | 'difficulty',
  string
> & { repeats: boolean; travels: boolean; cautions: string[] };

/** A move of somebody's own from a form; what the form does not ask is as in most figures of social dances. */
export function ownMove(
  form: MoveForm,
  grid: Grid,
): { ok: true; move: Omit<Move, 'id'> } | { ok: false; sentence: string } {
  const whole = (text: string, least: number, most: number) => {
    const value = parseNumber(text, least, most);
    return value === null ? null : Math.round(value);
  };
  const name = form.name.trim();
  const counts = whole(form.counts, 1, 64);
  if (!name) return { ok: false, sentence: 'Give the move a name first.' };
  if (counts === null) return { ok: false, sentence: 'Say how many counts the move takes, as a number.' };
  const landsOn = form.landsOn.trim() === '' ? null : whole(form.landsOn, 1, 64);
  if (landsOn !== null && landsOn > counts) {
    return { ok: false, sentence: `A move of ${counts} counts cannot land on count ${landsOn}.` };
  }
  const cautions = form.cautions.filter((one): one is Caution => caution.safeParse(one).success);
  const risky = cautions.includes('dip') || cautions.includes('lift');
  const hold = (text: string): DanceHold => danceHold.safeParse(text).data ?? 'closed';
  return {
    ok: true,
    move: {
      name: name.slice(0, 80),
      dance: 'own',
      metre: dancedMetre(grid),
      counts,
      level: grid.countLevel === 'half' ? 'half' : 'beat',
      basic: false,
      rhythm: '',
      startsOn: 1,
      preparation: whole(form.preparation, 0, 16) ?? 0,
      landsOn,
      holdBefore: hold(form.holdBefore),
      holdAfter: hold(form.holdAfter),
      footBefore: 'either',
      footAfter: 'either',
      lead: form.lead.trim().slice(0, 300),
      follow: form.follow.trim().slice(0, 300),
      travels: form.travels,
      repeats: form.repeats,
      room: parseNumber(form.room, 0, 20) ?? 2,
      // As quick as any figure of the library: nobody said how fast it still goes well.
      leastSeconds: 0.3,
      difficulty: ([1, 2, 3] as const).find((one) => String(one) === form.difficulty) ?? 1,
      cautions,
      saferForm: risky ? supportedLean.slice(0, 200) : '',
      source: 'the couple’s own',
    },
  };
}
