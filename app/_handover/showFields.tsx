'use client';

import { APPLAUSE, danceTime } from '@/lib/core/agreed/entry.ts';
import type { Board } from '@/lib/core/areas/board.ts';
import { dayWords } from '@/lib/core/areas/days.ts';
import { nightWords, timeWords } from '@/lib/core/areas/eveningWords.ts';
import type { Show } from '@/lib/core/areas/show.ts';
import { isAfterMidnight } from '@/lib/core/areas/show.ts';
import type { TimeOfDay } from '@/lib/core/calendar.ts';
import { isZone } from '@/lib/zone/isZone.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { useChanging } from '../_ui/changing.ts';
import { DraftArea, DraftField } from '../_ui/draftField.tsx';
import { Notice } from '../_ui/notice.tsx';
import { FactWords } from './factWords.tsx';
import { FloorFields } from './floorFields.tsx';
import { MomentFields } from './momentFields.tsx';

type Lines = 'announcedBy' | 'after' | 'notes';
type Seconds = 'lead' | 'applause';

/** What planner and instructor know about the evening; the entry is made of it. Who may only read it sees words, and no fields. */
export function ShowFields() {
  const room = useRoom();
  return (
    <section aria-labelledby="evening">
      <h3 id="evening" className="text-2xl">
        The evening
      </h3>
      {room.mayWrite('show') ? <Evening /> : <EveningWords />}
      <MomentFields />
      <FloorFields />
    </section>
  );
}

function EveningWords() {
  const { board } = useBoard('board');
  const { zone, lead, applause, announcedBy, after, notes } = board.show as Show;
  const { time, day, afterMidnight } = danceTime(board);
  const night = afterMidnight ? nightWords(board.plan.date) : '';
  const starts = time && [timeWords(time), dayWords(day), night].filter(Boolean).join(', ');
  const seconds = (s: number | null) => (s === null ? null : `${s} s`);
  return (
    <FactWords
      by="Planner and instructor"
      facts={[
        ['The dance is announced at', starts],
        ['Time zone there', zone?.replaceAll('_', ' ') ?? null],
        ['From the announcement to the music', seconds(lead), 'the music begins at once'],
        ['Applause', seconds(applause), `${APPLAUSE} s are left for it`],
        ['Announced by', announcedBy],
        ['What comes after', after],
        ['Notes', notes],
      ]}
    />
  );
}

function Evening() {
  const { board } = useBoard('board');
  const { change, problem, may: mayNow } = useChanging('show');
  const show = board.show as Show;
  const line = (register: Lines) => (value: string) => void change({ register, value: value.trim() || null });
  const seconds = (register: Seconds) => (value: string) =>
    void change({ register, value: value === '' ? null : Number(value.replace(',', '.')) });
  return (
    <>
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      <fieldset disabled={!mayNow} className="mt-3 grid items-baseline gap-4 sm:grid-cols-2">
        <div>
          <DraftField
            label="The dance is announced at"
            type="time"
            value={show.time ?? ''}
            hint={dayHint(board)}
            onKeep={(typed) => {
              const time = (typed || null) as TimeOfDay | null;
              const late = time !== null && isAfterMidnight(time);
              change({ register: 'time', value: time }, { register: 'afterMidnight', value: late || null });
            }}
          />
          <label className="flex min-h-11 items-center gap-2">
            <input
              type="checkbox"
              className="size-5 accent-ink"
              checked={show.afterMidnight === true}
              onChange={({ target }) => change({ register: 'afterMidnight', value: target.checked || null })}
            />
            after midnight
          </label>
        </div>
        <ZoneField
          may={mayNow}
          value={show.zone}
          onKeep={(zone) => change({ register: 'zone', value: zone || null })}
        />
        <DraftField
          label="Seconds from the announcement to the music"
          hint={`Announcement and walk to the door.${show.lead === null ? ' Empty: the music begins at once.' : ''}`}
          inputMode="decimal"
          value={show.lead === null ? '' : String(show.lead)}
          onKeep={seconds('lead')}
        />
        <DraftField
          label="Seconds of applause"
          hint={show.applause === null ? `Empty: ${APPLAUSE} s are left for it.` : undefined}
          inputMode="decimal"
          value={show.applause === null ? '' : String(show.applause)}
          onKeep={seconds('applause')}
        />
        <DraftField
          label="Announced by"
          maxLength={120}
          value={show.announcedBy ?? ''}
          onKeep={line('announcedBy')}
        />
        <DraftField
          label="What comes after"
          maxLength={300}
          placeholder="guests join in"
          value={show.after ?? ''}
          onKeep={line('after')}
        />
        <div className="sm:col-span-2">
          <DraftArea label="Notes" maxLength={2000} value={show.notes ?? ''} onKeep={line('notes')} />
        </div>
      </fieldset>
    </>
  );
}

/** The day is the party's, which couple or instructor set; beside the time it is read. */
function dayHint(board: Board): string {
  const { date } = board.plan;
  const { day, afterMidnight } = danceTime(board);
  if (!date) return 'The day of the party is still open: couple or instructor set it.';
  return afterMidnight
    ? `On ${dayWords(day)}, in ${nightWords(date)}.`
    : `On ${dayWords(day)}, the day of the party.`;
}

/** The zone's name is checked by the browser's own list; the one this device is in is offered. */
function ZoneField({
  may,
  value,
  onKeep,
}: {
  may: boolean;
  value: string | null;
  onKeep: (zone: string) => void;
}) {
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const known = value === null || isZone(value);
  return (
    <div>
      <DraftField
        label="Time zone there"
        list="zones"
        maxLength={60}
        value={value ?? ''}
        placeholder={here}
        hint={known ? undefined : 'This is not the name of a time zone.'}
        onKeep={(zone) => onKeep(zone.trim())}
      />
      <datalist id="zones">
        {Intl.supportedValuesOf('timeZone').map((zone) => (
          <option key={zone} value={zone} />
        ))}
      </datalist>
      {may && value === null ? (
        <button type="button" onClick={() => onKeep(here)} className="min-h-11 underline underline-offset-4">
          Take that of this device: {here.replaceAll('_', ' ')}
        </button>
      ) : null}
    </div>
  );
}
