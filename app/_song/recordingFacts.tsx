'use client';

import { clock } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { Drawer } from '../_ui/drawer.tsx';
import { TextField } from '../_ui/field.tsx';
import { TakeSongBox } from './takeSongBox.tsx';
import { useSongChange } from './useSongChange.tsx';
import { page } from './words.ts';

const NO_WORDS = { artist: '', title: '', version: '', source: '' };
const FIELDS = [
  ['title', 'Title', ''],
  ['artist', 'Artist', ''],
  ['version', 'Version', 'studio, live, acoustic, clean'],
  ['source', 'Source', 'where this very recording is to be had'],
] as const;

/** Which recording it is, in words that let somebody else find the same one. */
export function RecordingFacts() {
  const plan = usePlan();
  const { may, apply, words } = useSongChange();
  const now = plan.recordingWords ?? NO_WORDS;
  const { recording } = plan;
  if (!recording) return null;
  return (
    <Drawer title={page.recording(now.title, clock(recording.duration))}>
      <p className="text-soft">
        {clock(recording.duration)} in full, {recording.format.toUpperCase()},{' '}
        {Math.round(recording.rate / 100) / 10} kHz, {(recording.bytes / 1e6).toFixed(1)} MB
      </p>
      <div className="mt-3 grid items-baseline gap-x-5 gap-y-3 sm:grid-cols-2 lg:grid-cols-4">
        {FIELDS.map(([field, label, hint]) => (
          <TextField
            // A new value from somebody else replaces what the field shows.
            key={`${field} ${now[field]}`}
            label={label}
            hint={hint}
            defaultValue={now[field]}
            maxLength={field === 'source' ? 200 : 120}
            disabled={!may}
            onBlur={({ target }) => {
              const value = target.value.trim();
              if (value !== now[field]) {
                apply([{ register: 'recordingWords', value: { ...now, [field]: value } }]);
              }
            }}
          />
        ))}
      </div>
      {words}
      {may ? (
        <div className="mt-3">
          <Drawer title={page.another}>
            <TakeSongBox replaces />
          </Drawer>
        </div>
      ) : null}
    </Drawer>
  );
}
