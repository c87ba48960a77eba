'use client';

import { type FocusEvent, type ReactNode, useEffect, useRef, useState } from 'react';
import { allOf, askedAbout, takeInstead } from '@/lib/core/areas/lost.ts';
import type { showShape } from '@/lib/core/areas/show.ts';
import type { BoardState } from '../_client/boardState.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { Button } from './button.tsx';
import { holdFocus } from './holdFocus.ts';
import { lostWords } from './lostWords.ts';

type LostHere = BoardState['lost'][number];

/** What two wrote at the same time, at the foot of the page until it is taken or left: the latest, the others folded. */
export function LostNotices({ night = false }: { night?: boolean }) {
  const { lost } = useBoard('lost');
  const asked = askedAbout(lost).reverse();
  const [open, setOpen] = useState(false);
  const { strip, before, onFocus } = useFocusBefore();
  const shown = open ? asked : asked.slice(0, 1);
  const more = asked.length - shown.length;
  const answered = useRef(false);
  useEffect(() => {
    if (asked.length === 0) setOpen(false);
    if (!answered.current) return;
    answered.current = false;
    holdFocus(strip.current?.querySelector('button') ?? before.current);
  });
  return (
    <section
      ref={strip}
      onFocus={onFocus}
      aria-label="Written at the same time"
      aria-live="polite"
      className={
        asked.length > 0
          ? `max-h-[40dvh] overflow-y-auto border-t px-4 pt-2 pb-2 last:pb-[max(0.5rem,env(safe-area-inset-bottom))] md:px-10 ${night ? 'border-night-soft bg-night text-night-ink' : 'border-edge bg-paper'}`
          : undefined
      }
    >
      {shown.map((one) => (
        <LostNotice
          key={one.told}
          lost={one}
          night={night}
          onAnswer={() => {
            answered.current = true;
          }}
        />
      ))}
      {more > 0 || (open && asked.length > 1) ? (
        <p className="mx-auto max-w-[84rem]">
          <Button look={night ? 'night' : 'quiet'} aria-expanded={open} onClick={() => setOpen(!open)}>
            {open ? 'Only the latest' : `${more} more`}
          </Button>
        </p>
      ) : null}
    </section>
  );
}

function LostNotice({ lost, night, onAnswer }: { lost: LostHere; night: boolean; onAnswer: () => void }) {
  const { board, lost: all } = useBoard('board', 'lost');
  const room = useRoom();
  const [problem, setProblem] = useState('');
  const { said, take } = lostWords(lost, board);

  const change = () => {
    const made = makeChange(room, lost.area, allOf(lost, all), onAnswer);
    setProblem(made.ok ? '' : made.problem.sentence);
  };
  return (
    <div className="mx-auto mb-1 max-w-[84rem] items-center gap-x-6 border-l-[3px] border-edge py-1 pl-3 lg:flex">
      <div className="min-w-0 flex-1 wrap-anywhere">
        <p>
          <Isolated text={said} />
        </p>
        {problem ? (
          <p role="alert" className={night ? 'text-night-wine' : 'text-wine'}>
            {problem}
          </p>
        ) : null}
      </div>
      <p className="mt-1 flex flex-wrap gap-2 lg:mt-0 lg:shrink-0">
        <Button look={night ? 'night' : 'plain'} className="max-w-full wrap-anywhere" onClick={change}>
          <span>
            <Isolated text={take} />
          </span>
        </Button>
        <Button
          look={night ? 'night' : 'quiet'}
          onClick={() => {
            onAnswer();
            room.dismissLost(lost);
          }}
        >
          Leave it
        </Button>
      </p>
    </div>
  );
}

/** One step of undo; what was settled or agreed since is asked about, as with every change. */
const makeChange = (
  room: ReturnType<typeof useRoom>,
  area: LostHere['area'],
  lost: readonly LostHere[],
  done: () => void,
) =>
  area === 'plan'
    ? room.change(
        'plan',
        lost.map((one) => takeInstead(one)),
        { done },
      )
    : room.change(
        'show',
        lost.map((one) => takeInstead<typeof showShape>(one)),
        { done },
      );

/** What people wrote, each in the direction of its own alphabet. */
function Isolated({ text }: { text: string }): ReactNode {
  const [, before, quoted, after] = /^([^“]*)(“[^”]*”)(.*)$/s.exec(text) ?? [];
  if (!quoted) return text;
  return (
    <>
      {before}
      <bdi>{quoted}</bdi>
      <Isolated text={after!} />
    </>
  );
}

/** Where the focus was before it came into a strip: it goes back there when what had it is gone. */
function useFocusBefore() {
  const strip = useRef<HTMLElement>(null);
  const before = useRef<Element | null>(null);
  const onFocus = ({ relatedTarget }: FocusEvent) => {
    if (!(relatedTarget instanceof Element && strip.current?.contains(relatedTarget)))
      before.current = relatedTarget;
  };
  return { strip, before, onFocus };
}
