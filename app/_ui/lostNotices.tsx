'use client';

import dynamic from 'next/dynamic';
import { type FocusEvent, useEffect, useRef, useState } from 'react';
import { askedAbout } from '@/lib/core/areas/lost.ts';
import { laterPart } from '../_client/laterParts.ts';
import { useBoard } from '../_client/room.tsx';
import { Button } from './button.tsx';
import { holdFocus } from './holdFocus.ts';

/** Comes with the first that is lost. */
const LostNotice = dynamic(
  laterPart(async () => (await import('./lostNotice.tsx')).LostNotice),
  { ssr: false },
);

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
