'use client';

import { useState } from 'react';
import { dayWords } from '@/lib/core/areas/days.ts';
import type { Lessons } from '@/lib/core/areas/lessons.ts';
import type { Day } from '@/lib/core/calendar.ts';
import { useRoom } from '../_client/room.tsx';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { DraftField } from '../_ui/draftField.tsx';
import { Notice } from '../_ui/notice.tsx';
import { Rich } from '../_ui/rich.tsx';
import { hasWords, RichView } from '../_ui/richView.tsx';
import { WhatIsLeft } from './whatIsLeft.tsx';

type Lesson = Lessons['lessons'][number];

const nameOf = (lesson: Lesson): string => lesson.title || `Lesson of ${dayWords(lesson.date)}`;

/** One lesson: closed it reads as its title; open it is a page to write on. */
export function LessonPage({
  lesson,
  open,
  onOpen,
}: {
  lesson: Lesson;
  open: boolean;
  onOpen: (open: boolean) => void;
}) {
  const name = nameOf(lesson);
  return (
    <li className="border-b border-rule py-3">
      <h3>
        <button
          type="button"
          aria-expanded={open}
          onClick={() => onOpen(!open)}
          className="flex min-h-11 w-full items-center justify-between gap-x-4 py-1 text-left hover:bg-paper-2"
        >
          <span className="flex min-w-0 flex-wrap items-baseline gap-x-4">
            <span className="font-sans text-base text-soft">{dayWords(lesson.date)}</span>
            <span className="text-2xl">
              {lesson.title || <span className="sung text-soft">untitled</span>}
            </span>
          </span>
          <span aria-hidden="true" className="font-sans text-base text-soft">
            {open ? '▴' : '▾'}
          </span>
        </button>
      </h3>
      {open ? <OpenPage lesson={lesson} name={name} onClose={() => onOpen(false)} /> : null}
    </li>
  );
}

function OpenPage({ lesson, name, onClose }: { lesson: Lesson; name: string; onClose: () => void }) {
  const { change, make, problem, may } = useChanging('lessons');
  const fragment = useRoom().text('lessons', lesson.id);
  const set = (fields: Partial<Pick<Lesson, 'date' | 'title'>>) =>
    change({ collection: 'lessons', id: lesson.id, fields });
  if (!may) return <RichView text={lesson.text} empty="Nothing was written yet." />;
  return (
    <div className="mt-2 mb-4">
      <div className="mb-4 grid items-baseline gap-4 sm:grid-cols-[12rem_1fr]">
        <DraftField
          label="Day"
          type="date"
          value={lesson.date}
          onKeep={(date) => (date ? set({ date: date as Day }) : undefined)}
        />
        <DraftField
          label="Title"
          value={lesson.title}
          maxLength={120}
          placeholder="What it was about"
          onKeep={(title) => set({ title: title.trim() })}
        />
      </div>
      {fragment ? (
        <Rich
          fragment={fragment}
          label={name}
          placeholder="What you danced, what went well. “To do” makes a line of homework."
        />
      ) : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      <Remove
        name={name}
        written={hasWords(lesson.text)}
        onRemove={() => {
          make([{ collection: 'lessons', id: lesson.id, fields: null }], { done: onClose });
        }}
      />
    </div>
  );
}

/** The page that was open when somebody else deleted it. */
export function DeletedPage({ lesson, onDone }: { lesson: Lesson; onDone: () => void }) {
  return (
    <WhatIsLeft text={lesson.text} onDone={onDone}>
      “<bdi>{nameOf(lesson)}</bdi>” was deleted by somebody else just now.
    </WhatIsLeft>
  );
}

function Remove({ name, written, onRemove }: { name: string; written: boolean; onRemove: () => void }) {
  const [asking, setAsking] = useState(false);
  return (
    <p className="mt-2 text-right">
      <Button look="quiet" className="px-2!" onClick={() => (written ? setAsking(true) : onRemove())}>
        Delete this lesson
      </Button>
      {asking ? (
        <Asking
          title={`Delete “${name}”?`}
          yes="Delete the lesson"
          onNo={() => setAsking(false)}
          onYes={() => {
            setAsking(false);
            onRemove();
          }}
        >
          <p>Its notes and its homework go with it, for all of you.</p>
        </Asking>
      ) : null}
    </p>
  );
}
