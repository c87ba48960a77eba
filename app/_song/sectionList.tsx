'use client';

import { useState } from 'react';
import { usualPhraseBars } from '@/lib/core/areas/score.ts';
import { inOrder, sectionNames } from '@/lib/core/edit/sectionNames.ts';
import { listed, standingOf } from '@/lib/core/song/confirmed.ts';
import { type Section, type SectionKind, sectionKind } from '@/lib/core/song/section.ts';
import { clock } from '@/lib/core/units.ts';
import { newId } from '../_client/newId.ts';
import { usePlan } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { Button } from '../_ui/button.tsx';
import { Choice, labelLook, TextField } from '../_ui/field.tsx';
import { confirmed } from './confirmSteps.ts';
import {
  barsOf,
  barWords,
  firstSection,
  joined,
  renamed,
  split,
  startConfirmed,
  startMoved,
} from './sectionSteps.ts';
import { useSongSound } from './songSound.tsx';
import { type SongChange, useSongChange } from './useSongChange.tsx';
import { page } from './words.ts';

/** The song's form: each section can be heard, named, moved, split and joined. */
export function SectionList() {
  const plan = usePlan();
  const change = useSongChange();
  const [me] = useMyName();
  const sections = inOrder(plan.sections);
  const names = sectionNames(sections);
  const bars = barsOf(plan);
  const standing = standingOf(plan).find(({ about }) => about === 'sections');
  const some = standing?.open === true && standing.by.length > 0;
  const [opened, setOpened] = useState<string | null>(null);
  const { hear } = useSongSound();
  if (!plan.grid) return null;
  return (
    <>
      <div className="flex flex-wrap items-center gap-3">
        {standing && !standing.open ? (
          <p className="font-semibold text-moss">{page.confirmed(listed(standing.by))}</p>
        ) : change.may && sections.length > 0 ? (
          <Button onClick={() => change.apply(confirmed(plan, ['sections'], me))}>
            All sections are right
          </Button>
        ) : null}
      </div>
      <p className="text-sm text-soft">{page.patterns}</p>
      {change.may ? <PhraseBars change={change} /> : null}
      {change.words}
      {change.may && sections.length === 0 ? (
        <Button className="mt-3" onClick={() => change.apply(firstSection(plan, newId()))}>
          Begin with one section, to be split
        </Button>
      ) : null}
      <ol className="mt-3 border-t border-rule">
        {sections.map((section, i) => (
          <li key={section.id} className="border-b border-rule py-1">
            <div className="flex flex-wrap items-center gap-x-4">
              <span className="w-12 text-soft">{clock(section.start)}</span>
              <span className="min-w-32 flex-1">
                <span className="font-serif text-xl">{names.get(section.id)}</span>
                {some && section.confirmedBy === null ? (
                  <span className="block text-sm text-soft">not confirmed</span>
                ) : null}
              </span>
              <span className="text-soft">
                {barWords(bars.get(section.id) ?? 0)}
                {section.like ? `, music ${section.like}` : ''}
              </span>
              <Button look="quiet" className="px-2" onClick={() => hear(section.start, 'recording')}>
                Hear <span className="sr-only">{names.get(section.id)}</span>
              </Button>
              {change.may ? (
                <Button
                  look="quiet"
                  className="px-2"
                  aria-expanded={opened === section.id}
                  onClick={() => setOpened(opened === section.id ? null : section.id)}
                >
                  {opened === section.id ? 'Close' : 'Change'}{' '}
                  <span className="sr-only">{names.get(section.id)}</span>
                </Button>
              ) : null}
            </div>
            {change.may && opened === section.id ? (
              <OneSection
                section={section}
                first={i === 0}
                bars={bars.get(section.id) ?? 0}
                change={change}
              />
            ) : null}
          </li>
        ))}
      </ol>
    </>
  );
}

function OneSection({
  section,
  first,
  bars,
  change,
}: {
  section: Section;
  first: boolean;
  bars: number;
  change: SongChange;
}) {
  const plan = usePlan();
  const [after, setAfter] = useState(() => Math.max(1, Math.floor(bars / 2)));
  const [me] = useMyName();
  const song = { ...plan, by: me };
  const { id } = section;
  return (
    <div className="grid items-baseline gap-x-6 gap-y-4 pt-1 pb-3 sm:grid-cols-2 lg:grid-cols-4">
      <Choice
        label="Kind"
        value={section.kind}
        onChange={({ target }) => change.apply(renamed(id, { kind: target.value as SectionKind }))}
      >
        {sectionKind.options.map((kind) => (
          <option key={kind}>{kind}</option>
        ))}
      </Choice>
      <TextField
        key={section.name}
        label="Name of your own"
        defaultValue={section.name}
        maxLength={80}
        onBlur={({ target }) => {
          const name = target.value.trim();
          if (name !== section.name) change.apply(renamed(id, { name }));
        }}
      />
      <TextField
        key={section.phraseBars ?? 'board'}
        label="Bars a phrase here"
        type="number"
        min={1}
        max={32}
        placeholder="as the song"
        defaultValue={section.phraseBars ?? ''}
        onBlur={({ target }) => {
          const value = target.value === '' ? null : Math.round(Number(target.value));
          if (value !== section.phraseBars) change.apply(renamed(id, { phraseBars: value }));
        }}
      />
      <div>
        <p className={labelLook}>Starts</p>
        <div className="flex flex-wrap gap-2">
          <Button className="px-3" onClick={() => change.apply(startMoved(song, id, -1))}>
            a bar earlier
          </Button>
          <Button className="px-3" onClick={() => change.apply(startMoved(song, id, 1))}>
            a bar later
          </Button>
          {section.confirmedBy === null ? (
            <Button className="px-3" onClick={() => change.apply(startConfirmed(song, id))}>
              right here
            </Button>
          ) : null}
        </div>
      </div>
      <div className="flex flex-wrap items-baseline gap-2 sm:col-span-2">
        <TextField
          label="Bars before the split"
          type="number"
          min={1}
          max={Math.max(1, bars - 1)}
          value={after}
          onChange={({ target }) => setAfter(Math.round(Number(target.value)))}
        />
        <Button disabled={bars < 2} onClick={() => change.apply(split(song, id, after, newId()))}>
          Split here
        </Button>
        <Button disabled={first} onClick={() => change.apply(joined(song, id))}>
          Join to the one before
        </Button>
      </div>
    </div>
  );
}

function PhraseBars({ change }: { change: SongChange }) {
  const plan = usePlan();
  if (!plan.grid) return null;
  const now = plan.phraseBars ?? usualPhraseBars(plan.grid);
  return (
    <div className="mt-2 max-w-60">
      <Choice
        label="A phrase of this song lasts"
        value={now}
        onChange={({ target }) => change.apply([{ register: 'phraseBars', value: Number(target.value) }])}
      >
        {[...new Set([2, 4, 6, 8, 12, 16, now])].map((bars) => (
          <option key={bars} value={bars}>
            {barWords(bars)}
          </option>
        ))}
      </Choice>
    </div>
  );
}
