'use client';

import { useEffect, useRef, useState } from 'react';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { CountsAgain } from '../_client/audioWork.ts';
import { newId } from '../_client/newId.ts';
import { usePlan } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { tempoOf } from './confirmWords.ts';
import { countsChanges, withSaid } from './correctionSteps.ts';
import { type Mark, markChanges, markedSections, markedWords, saidBy, tallyOf } from './marking.ts';
import { useHearAgain } from './useHearAgain.tsx';
import { useSongChange } from './useSongChange.tsx';
import { again as againWords, mark as words } from './words.ts';

/** What the program makes of the marks, before it is used: one step, taken back by one undo. */
export function MarkingResult({
  marks,
  onMore,
  onEnd,
}: {
  marks: readonly Mark[];
  onMore: () => void;
  onEnd: () => void;
}) {
  const plan = usePlan();
  const [me] = useMyName();
  const change = useSongChange();
  const { listen, busy, words: progress } = useHearAgain();
  const said = saidBy(marks, me, plan.recording!.duration);
  const [made, setMade] = useState<CountsAgain | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [cues, setCues] = useState<Record<number, string>>({});
  const heading = useRef<HTMLHeadingElement>(null);
  const begun = useRef(false);
  useEffect(() => {
    heading.current?.focus();
    if (begun.current || said.length === 0) return;
    begun.current = true;
    void listen(said).then((result) => {
      if (result.ok) setMade(result.value);
      else setProblem(result.problem.sentence);
    });
  });

  const grid = made?.grid ?? plan.grid;
  const own = made ? made.late.slice(made.late.length - said.length).filter((_, i) => said[i]!.byHand) : [];
  const late = own.find((_, i) => said[i]?.kind === 'beats' || said[i]?.kind === 'bars') ?? 0.04;
  const sections = grid ? markedSections(plan, grid, marks, late) : [];
  const heardWords = markedWords(marks, late);
  const use = () => {
    const ids = said.map(() => newId());
    const counts: PlanChange[] = made
      ? [...withSaid(plan, said, ids).changes, ...countsChanges(plan, made.grid, said, me)]
      : [];
    const moved = new Set(sections.map(({ id }) => id));
    const rest = counts.filter(
      (one) => !('collection' in one && one.collection === 'sections' && moved.has(one.id)),
    );
    const named = heardWords.map((at, i) => ({ at, word: cues[i] ?? words.word(i + 1) }));
    const fresh = marks.map(() => newId());
    if (change.apply([...rest, ...markChanges(plan, sections, named, me, fresh)])) onEnd();
  };
  const isMade = made !== null || said.length === 0;
  return (
    <div className="mt-3 rounded border border-edge p-3">
      <h3 ref={heading} tabIndex={-1} className="text-lg">
        {words.made}
      </h3>
      <p className="text-soft">{words.tally(tallyOf(marks))}</p>
      {progress}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      {change.words}
      {isMade ? (
        <>
          <ul className="mt-2 list-disc space-y-1 pl-5">
            {made ? (
              <>
                <li>{againWords.late(late)}</li>
                <li>
                  {words.counts(made.grid.beatsPerBar, tempoOf(made.grid.beats), made.grid.bars.length)}
                </li>
                {made.grid.waits?.map((at) => (
                  <li key={at}>{words.wait(at)}</li>
                ))}
              </>
            ) : null}
            {sections.map(({ id, name, from, start }) => (
              <li key={start}>
                {id === null || from === null
                  ? words.sectionNew(start)
                  : Math.abs(from - start) < 0.1
                    ? words.sectionStays(name, start)
                    : words.sectionMoved(name, from, start)}
              </li>
            ))}
          </ul>
          <div className="mt-2 grid max-w-xl gap-2 sm:grid-cols-2">
            {heardWords.map((at, i) => (
              <TextField
                key={at}
                label={words.wordLabel(at)}
                value={cues[i] ?? words.word(i + 1)}
                maxLength={80}
                onChange={({ target }) => setCues((before) => ({ ...before, [i]: target.value }))}
              />
            ))}
          </div>
        </>
      ) : null}
      <div className="mt-3 flex flex-wrap gap-2">
        <Button look="main" once disabled={busy || !isMade} onClick={use}>
          {words.use}
        </Button>
        <Button disabled={busy} onClick={onMore}>
          {words.more}
        </Button>
        <Button onClick={onEnd}>{words.leave}</Button>
      </div>
    </div>
  );
}
