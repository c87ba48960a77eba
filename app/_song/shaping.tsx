'use client';

import { useState } from 'react';
import { digestOf } from '@/lib/core/edit/digest.ts';
import { type Proposal, USUAL_WISHES } from '@/lib/core/edit/propose.ts';
import { median } from '@/lib/core/signal/statistics.ts';
import { clock, floorTime } from '@/lib/core/units.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import { useListening } from '../_client/audioOut.ts';
import { useBoard } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { Notice, Progress } from '../_ui/notice.tsx';
import { hearings } from './handEdit.ts';
import { SeamFacts } from './seamFacts.tsx';
import { songOf } from './songOf.ts';
import { secondsOf } from './times.ts';
import { useSongChange } from './useSongChange.tsx';

/** From a length wished for to edits that can be heard and chosen. */
export function Shaping() {
  const { plan } = useBoard().board;
  const desk = useAudio();
  const stage = useStage();
  const change = useSongChange();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const [found, setFound] = useState<{ for: string; proposals: Proposal[] } | null>(null);
  const [pins, setPins] = useState<ReadonlySet<string>>(new Set());
  const song = songOf(plan);
  const { recording, features } = plan;
  if (!song || !recording || !features) return null;
  const target = plan.target ?? { length: USUAL_WISHES.target, within: USUAL_WISHES.within };
  // Proposals are of one state of the song: after a correction they are asked for anew.
  const asked = JSON.stringify([recording.id, song.grid.beats.length, song.grid.bars, plan.sections]);

  const propose = async () => {
    setBusy(true);
    setProblem(null);
    const wishes = {
      target: target.length,
      within: target.within,
      pins: plan.cues.filter(({ id }) => pins.has(id)).map(({ at }) => at),
    };
    const made = await desk.propose({ recording: recording.id }, song, features, wishes);
    setBusy(false);
    if (made.ok) setFound({ for: asked, proposals: made.value });
    else if (made.problem.code !== 'stopped') setProblem(made.problem.sentence);
  };

  return (
    <section aria-labelledby="shape">
      <h2 id="shape" className="text-2xl">
        Shape the song
      </h2>
      <div className="mt-3 flex flex-wrap items-end gap-4">
        <div className="w-36">
          <TextField
            key={target.length}
            label="About how long"
            defaultValue={clock(target.length)}
            inputMode="numeric"
            disabled={!change.may}
            onBlur={({ target: field }) => {
              const length = secondsOf(field.value);
              if (length === null) field.value = clock(target.length);
              else if (length !== target.length) {
                change.apply([{ register: 'target', value: { ...target, length } }]);
              }
            }}
          />
        </div>
        <div className="w-44">
          <TextField
            key={target.within}
            label="Give or take, seconds"
            type="number"
            min={1}
            max={120}
            defaultValue={target.within}
            disabled={!change.may}
            onBlur={({ target: field }) => {
              const within = Math.min(120, Math.max(1, Math.round(Number(field.value))));
              if (within !== target.within) {
                change.apply([{ register: 'target', value: { ...target, within } }]);
              }
            }}
          />
        </div>
        <Button look="main" disabled={busy} onClick={propose}>
          Propose edits
        </Button>
      </div>
      {plan.cues.length > 0 ? (
        <fieldset className="mt-3">
          <legend className="text-sm text-soft">These must be heard</legend>
          <div className="flex flex-wrap gap-x-5">
            {plan.cues.map(({ id, word }) => (
              <label key={id} className="flex min-h-11 items-center gap-2">
                <input
                  type="checkbox"
                  className="size-5 accent-ink"
                  checked={pins.has(id)}
                  onChange={({ target: box }) => {
                    const next = new Set(pins);
                    if (box.checked) next.add(id);
                    else next.delete(id);
                    setPins(next);
                  }}
                />
                <span className="sung">{word}</span>
              </label>
            ))}
          </div>
        </fieldset>
      ) : null}
      <div className="mt-3">
        {busy ? (
          <Progress
            what={`${stage?.words ?? 'Reading the song'}…`}
            share={stage?.share ?? undefined}
            onCancel={() => desk.stop()}
          />
        ) : null}
        {problem ? <Notice kind="wrong">{problem}</Notice> : null}
        {change.words}
      </div>
      {found && found.for === asked ? <Proposals proposals={found.proposals} change={change} /> : null}
      {found && found.for !== asked ? (
        <p className="mt-3 text-soft">The song was corrected since: ask for proposals again.</p>
      ) : null}
    </section>
  );
}

function Proposals({
  proposals,
  change,
}: {
  proposals: Proposal[];
  change: ReturnType<typeof useSongChange>;
}) {
  const { plan } = useBoard().board;
  const [all, setAll] = useState(false);
  if (proposals.length === 0) {
    return <p className="mt-3">No edit keeps all that must be heard. Ask for less, or make one by hand.</p>;
  }
  const { recording, edit } = plan;
  const chosen = recording && edit ? digestOf(edit, recording) : null;
  const shown = all ? proposals : proposals.slice(0, 5);
  return (
    <>
      <ol className="mt-4 border-t border-rule" aria-label="Proposed edits, the best first">
        {shown.map((proposal) => (
          <OneProposal
            key={JSON.stringify(proposal.edit)}
            proposal={proposal}
            chosen={recording !== null && digestOf(proposal.edit, recording) === chosen}
            change={change}
          />
        ))}
      </ol>
      {proposals.length > shown.length ? (
        <Button look="quiet" onClick={() => setAll(true)}>
          Show {proposals.length - shown.length} more
        </Button>
      ) : null}
    </>
  );
}

function OneProposal({
  proposal,
  chosen,
  change,
}: {
  proposal: Proposal;
  chosen: boolean;
  change: ReturnType<typeof useSongChange>;
}) {
  const { plan } = useBoard().board;
  const beats = plan.grid?.beats ?? [];
  const interval = median(beats.slice(1).map((t, i) => t - beats[i]!));
  return (
    <li className="grid gap-x-8 gap-y-2 border-b border-rule py-4 md:grid-cols-[7rem_1fr_auto]">
      <p>
        <span className="font-serif text-3xl">{clock(proposal.floorLength)}</span>
        <span className="block text-sm text-soft">{proposal.kind}</span>
      </p>
      <div className="min-w-0 space-y-1.5">
        <p className="font-serif text-lg leading-snug">{proposal.words}</p>
        {proposal.leftOut.length > 0 ? (
          <p className="text-sm text-soft">
            left out:{' '}
            {proposal.leftOut
              .map(
                ({ from, to, names }) =>
                  `${clock(to - from)}${names.length > 0 ? ` (${names.join(', ')})` : ''}`,
              )
              .join('; ')}
          </p>
        ) : null}
        {proposal.seam ? <SeamFacts seam={proposal.seam} interval={interval} /> : null}
      </div>
      <div className="flex flex-wrap items-start gap-2 md:justify-end">
        <HearEdit edit={proposal.edit} />
        {chosen ? (
          <p className="flex min-h-11 items-center font-semibold text-moss">chosen</p>
        ) : change.may ? (
          <Button look="main" onClick={() => change.setEdit(proposal.edit)}>
            Choose <span className="sr-only">{proposal.words}</span>
          </Button>
        ) : null}
      </div>
    </li>
  );
}

/** Buttons to hear each join and the fade of an edit, four bars before and after. */
export function HearEdit({ edit }: { edit: Proposal['edit'] }) {
  const { plan } = useBoard().board;
  const desk = useAudio();
  const listening = useListening();
  const { grid, recording } = plan;
  if (!recording) return null;
  const beats = grid?.beats ?? [];
  const beat = beats.length > 1 ? median(beats.slice(1).map((t, i) => t - beats[i]!)) : 0.6;
  const places = hearings(edit, recording.duration, beat * (grid?.beatsPerBar ?? 4));
  return (
    <>
      {places.map(({ key, words, from, to }) => {
        const mine = listening.playing === key;
        return (
          <Button
            key={key}
            aria-pressed={mine}
            onClick={() =>
              listening.play(key, () =>
                desk.excerpt({ recording: recording.id }, edit, floorTime(from), floorTime(to)),
              )
            }
          >
            {mine ? (listening.ready ? 'Stop' : 'Getting ready…') : `Hear ${words}`}
          </Button>
        );
      })}
      {listening.problem ? <Notice kind="wrong">{listening.problem}</Notice> : null}
    </>
  );
}
