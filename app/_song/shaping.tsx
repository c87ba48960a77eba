'use client';

import { type ReactNode, useState } from 'react';
import { type Proposal, USUAL_WISHES } from '@/lib/core/edit/propose.ts';
import type { Wishes as WishesOf } from '@/lib/core/edit/ranking.ts';
import { inOrder, sectionNames } from '@/lib/core/edit/sectionNames.ts';
import { isUnsure } from '@/lib/core/song/confirmed.ts';
import { clock } from '@/lib/core/units.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Drawer } from '../_ui/drawer.tsx';
import { TextField } from '../_ui/field.tsx';
import { Notice, Progress } from '../_ui/notice.tsx';
import { leadTo } from '../_ui/place.ts';
import { PROPOSALS, Proposals } from './proposals.tsx';
import { songOf } from './songOf.ts';
import { Row } from './step.tsx';
import { secondsOf } from './times.ts';
import type { SongChange } from './useSongChange.tsx';
import { ask, page, length as words } from './words.ts';

interface Found {
  busy: boolean;
  problem: string | null;
  propose(wishes: WishesOf): void;
  /** The proposals, each in a row of its own; null before any were asked for. */
  rows: ReactNode;
}

/** Proposals of the song as it is: after a correction they are asked for anew. */
export function useProposals(change: SongChange): Found {
  const plan = usePlan();
  const desk = useAudio();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const [found, setFound] = useState<{ for: string; proposals: Proposal[] } | null>(null);
  const { recording, features, grid, sections } = plan;
  const asked = JSON.stringify([recording?.id, grid?.beats.length, grid?.bars, sections]);
  const propose = async (wishes: WishesOf) => {
    const song = songOf(plan);
    if (!song || !recording || !features) return;
    setBusy(true);
    setProblem(null);
    const made = await desk.propose({ recording: recording.id }, song, features, wishes);
    setBusy(false);
    if (made.ok) {
      setFound({ for: asked, proposals: made.value });
      // On to the best of them, unless they went elsewhere meanwhile: a button that is busy has lost the focus.
      if (made.value.length > 0 && document.activeElement === document.body) leadTo(PROPOSALS);
    } else if (made.problem.code !== 'stopped') setProblem(made.problem.sentence);
  };
  const rows =
    found === null || !change.may ? null : found.for === asked ? (
      <Proposals proposals={found.proposals} change={change} />
    ) : (
      <Row side={null}>
        <p className="mt-3 text-soft">{words.corrected}</p>
      </Row>
    );
  return { busy, problem, propose: (wishes) => void propose(wishes), rows };
}

/** A length wished for, and what must stay. */
export function Wishes({ change, proposals }: { change: SongChange; proposals: Found }) {
  const plan = usePlan();
  const desk = useAudio();
  const stage = useStage();
  const [pins, setPins] = useState<ReadonlySet<string>>(new Set());
  const [keep, setKeep] = useState<ReadonlySet<string>>(new Set());
  const [ownEnding, setOwnEnding] = useState(false);
  const [noJoin, setNoJoin] = useState(false);
  const { recording, features } = plan;
  if (!songOf(plan) || !recording || !features || !change.may) return null;
  const names = sectionNames(plan.sections);
  const target = plan.target ?? { length: USUAL_WISHES.target, within: USUAL_WISHES.within };
  const wishes = (): WishesOf => ({
    target: target.length,
    within: target.within,
    pins: plan.cues.filter(({ id }) => pins.has(id)).map(({ at }) => at),
    keep: [...keep],
    ...{ ownEnding, noJoin },
  });
  const { busy, problem } = proposals;
  return (
    <>
      {isUnsure(plan) ? <Notice>{ask.shaping}</Notice> : null}
      <div className="mt-2 flex flex-wrap items-baseline gap-4">
        <div className="w-36">
          <TextField
            key={target.length}
            label={words.about}
            defaultValue={clock(target.length)}
            inputMode="numeric"
            onBlur={({ target: field }) => {
              const length = secondsOf(field.value);
              if (length === null) field.value = clock(target.length);
              else if (length !== target.length) {
                change.apply([{ register: 'target', value: { ...target, length } }]);
              }
            }}
          />
        </div>
        <Button look="main" data-does="shape" disabled={busy} onClick={() => proposals.propose(wishes())}>
          {words.propose}
        </Button>
      </div>
      <Drawer title={page.mustStay}>
        <div className="w-44">
          <TextField
            key={target.within}
            label={words.within}
            type="number"
            min={1}
            max={120}
            defaultValue={target.within}
            onBlur={({ target: field }) => {
              const within = Math.min(120, Math.max(1, Math.round(Number(field.value))));
              if (within !== target.within) {
                change.apply([{ register: 'target', value: { ...target, within } }]);
              }
            }}
          />
        </div>
        <Insisted
          legend={words.mustBeHeard}
          of={plan.cues.map(({ id, word, at }) => ({
            id,
            words: plan.cues.some((other) => other.word === word && other.id !== id)
              ? `${word}, ${clock(at)}`
              : word,
          }))}
          chosen={pins}
          choose={setPins}
          className="sung"
        />
        <Insisted
          legend={words.mustBeWhole}
          of={inOrder(plan.sections).map(({ id }) => ({ id, words: names.get(id)! }))}
          chosen={keep}
          choose={setKeep}
        />
        <fieldset className="mt-3">
          <legend className="text-sm text-soft">{words.mustHave}</legend>
          <div className="flex flex-wrap gap-x-5">
            <Tick words={words.ownEnding} on={ownEnding} set={setOwnEnding} />
            <Tick words={words.noJoin} on={noJoin} set={setNoJoin} />
          </div>
        </fieldset>
      </Drawer>
      {busy ? (
        <Progress
          what={`${stage?.words ?? words.reading}…`}
          share={stage?.share ?? undefined}
          onCancel={() => desk.stop()}
        />
      ) : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
    </>
  );
}
interface InsistedProps {
  legend: string;
  of: { id: string; words: string }[];
  chosen: ReadonlySet<string>;
  choose(next: ReadonlySet<string>): void;
  className?: string;
}

/** What a proposal may not leave out, to be ticked. */
function Insisted({ legend, of, chosen, choose, className }: InsistedProps) {
  if (of.length === 0) return null;
  const set = (id: string, on: boolean) =>
    choose(new Set([...chosen].filter((other) => other !== id).concat(on ? [id] : [])));
  return (
    <fieldset className="mt-3">
      <legend className="text-sm text-soft">{legend}</legend>
      <div className="flex flex-wrap gap-x-5">
        {of.map(({ id, words }) => (
          <Tick key={id} words={words} on={chosen.has(id)} set={(on) => set(id, on)} className={className} />
        ))}
      </div>
    </fieldset>
  );
}

interface TickProps {
  words: string;
  on: boolean;
  set(on: boolean): void;
  className?: string | undefined;
}

function Tick({ words, on, set, className = '' }: TickProps) {
  return (
    <label className="flex min-h-11 items-center gap-2">
      <input
        type="checkbox"
        className="size-5 accent-ink"
        checked={on}
        onChange={({ target }) => set(target.checked)}
      />
      <span className={`min-w-0 ${className}`}>{words}</span>
    </label>
  );
}
