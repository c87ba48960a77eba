'use client';

import { useState } from 'react';
import { PLAYED, RUN } from '@/lib/core/agreed/entry.ts';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import { dayWords } from '@/lib/core/areas/days.ts';
import { type Couple, leader, ledBy } from '@/lib/core/areas/people.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { Day } from '@/lib/core/calendar.ts';
import { usePlan, useRoom } from '../_client/room.tsx';
import { OutfitFields } from '../_outfit/outfitFields.tsx';
import { useChanging } from '../_ui/changing.ts';
import { DraftField } from '../_ui/draftField.tsx';
import { Choice } from '../_ui/field.tsx';
import { Names } from '../_ui/names.tsx';
import { Notice } from '../_ui/notice.tsx';
import { FactWords } from './factWords.tsx';

type MusicBy = NonNullable<Plan['musicBy']>;

const nameless: Couple = { one: { name: '', part: 'lead' }, other: { name: '', part: 'follow' } };

/** Whose party it is, when, where and by whom: couple and instructor say it, everything else takes it from here. */
export function PartyFields() {
  const room = useRoom();
  return (
    <section aria-labelledby="party">
      <h3 id="party" className="text-2xl">
        The party
      </h3>
      {room.mayWrite('plan') ? <Party /> : <PartyWords />}
    </section>
  );
}

function PartyWords() {
  const { couple, date, venue, musicBy, eveningBy } = usePlan();
  return (
    <FactWords
      by="Couple and instructor"
      facts={[
        ['Couple', couple && <Names one={couple.one.name} other={couple.other.name} />],
        ['Day of the party', dayWords(date) || null],
        ['Venue', venue || null],
        ['Who plays the music', musicBy && PLAYED[musicBy]],
        ['Who runs the evening', eveningBy && RUN[eveningBy]],
      ]}
    />
  );
}

function Party() {
  const plan = usePlan();
  const { change: write, problem, may: mayNow } = useChanging('plan');
  const [wrong, setWrong] = useState<string | null>(null);
  const couple = plan.couple ?? nameless;
  const keep = (change: PlanChange) => {
    setWrong(null);
    write(change);
  };
  const rename = (who: keyof Couple) => (typed: string) => {
    const name = typed.trim();
    if (!name) return setWrong('Please give both of them a name.');
    keep({ register: 'couple', value: { ...couple, [who]: { ...couple[who], name } } });
  };
  return (
    <>
      {(wrong ?? problem) ? <Notice kind="wrong">{wrong ?? problem}</Notice> : null}
      <fieldset disabled={!mayNow} className="mt-3 grid items-baseline gap-4 sm:grid-cols-2">
        <DraftField
          label="Name of one"
          maxLength={80}
          autoComplete="off"
          value={couple.one.name}
          onKeep={rename('one')}
        />
        <DraftField
          label="Name of the other"
          maxLength={80}
          autoComplete="off"
          value={couple.other.name}
          onKeep={rename('other')}
        />
        <Choice
          label="Who leads"
          value={leader(couple)}
          disabled={plan.couple === null}
          onChange={({ target }) =>
            keep({ register: 'couple', value: ledBy(couple, target.value === 'other' ? 'other' : 'one') })
          }
        >
          <option value="one">{couple.one.name || 'the one'}</option>
          <option value="other">{couple.other.name || 'the other'}</option>
        </Choice>
        <DraftField
          label="Day of the party"
          type="date"
          value={plan.date ?? ''}
          onKeep={(date) => keep({ register: 'date', value: (date || null) as Day | null })}
        />
        <DraftField
          label="Venue"
          maxLength={120}
          autoComplete="off"
          value={plan.venue ?? ''}
          onKeep={(venue) => keep({ register: 'venue', value: venue.trim() || null })}
        />
        <MusicBy onKeep={(musicBy) => keep({ register: 'musicBy', value: musicBy })} />
        <Choice
          label="Who runs the evening"
          value={plan.eveningBy ?? ''}
          onChange={({ target }) =>
            keep({ register: 'eveningBy', value: (target.value || null) as Plan['eveningBy'] })
          }
        >
          <Options words={RUN} />
        </Choice>
        <OutfitFields plan={plan} onKeep={keep} />
      </fieldset>
    </>
  );
}

function MusicBy({ onKeep }: { onKeep: (musicBy: MusicBy | null) => void }) {
  const { musicBy } = usePlan();
  return (
    <Choice
      label="Who plays the music"
      value={musicBy ?? ''}
      onChange={({ target }) => onKeep((target.value || null) as MusicBy | null)}
    >
      <Options words={PLAYED} />
    </Choice>
  );
}

const Options = ({ words }: { words: Record<string, string> }) => (
  <>
    <option value="">not set yet</option>
    {Object.entries(words).map(([value, word]) => (
      <option key={value} value={value}>
        {word}
      </option>
    ))}
  </>
);
