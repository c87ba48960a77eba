'use client';

import { useState } from 'react';
import { dayIn } from '@/lib/zone/dayIn.ts';
import type { Me } from '../_client/boardState.ts';
import { newId } from '../_client/newId.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { DrillChoice } from '../_home/drillChoice.tsx';
import { Questions } from '../_home/questions.tsx';
import { nowInstant } from '../_studio/dates.ts';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice } from '../_ui/notice.tsx';
import { homework, latestFirst } from './homework.ts';
import { DeletedPage, LessonPage } from './lessonPage.tsx';
import { LessonsLeft } from './lessonsLeft.tsx';
import { Readiness } from './readiness.tsx';

/** Lesson by lesson: what was taught, what to practise, and how well each move goes. */
export function LessonsScreen({ me }: { me: Me }) {
  const { board } = useBoard('board');
  const room = useRoom();
  const lessons = latestFirst(board.lessons?.lessons ?? []);
  const [chosen, setOpen] = useState<string | null | undefined>(undefined);
  // The latest is open at first, also where it comes a moment after the page.
  if (chosen === undefined && lessons[0]) setOpen(lessons[0].id);
  const open = chosen ?? null;
  const [problem, setProblem] = useState<string | null>(null);
  // The open page as it was last here: somebody else may delete it meanwhile.
  const here = lessons.find(({ id }) => id === open) ?? null;
  const [last, setLast] = useState(here);
  if (here !== null && here !== last) setLast(here);
  const deleted = here === null && last?.id === open ? last : null;
  if (board.lessons === null)
    return (
      <BoardFrame>
        <h2 className="text-3xl">Lessons</h2>
        <p className="mt-2 max-w-prose text-lg">
          Lesson notes are between the couple and their instructor. What is meant for all of you stands under
          Remarks.
        </p>
      </BoardFrame>
    );
  const begin = () => {
    const id = newId();
    // The day of a lesson is that of who gives it, wherever the party will be.
    const fields = { date: dayIn(null), title: '', writtenAt: nowInstant() };
    const made = room.write('lessons', [{ collection: 'lessons', id, fields }], id, {
      done: () => setOpen(id),
    });
    setProblem(made.ok ? null : made.problem.sentence);
  };
  return (
    <BoardFrame>
      <div className="grid gap-x-14 gap-y-10 lg:grid-cols-[1fr_22rem]">
        <section aria-labelledby="lessons" className="min-w-0">
          <div className="flex flex-wrap items-center justify-between gap-3">
            <h2 id="lessons" className="text-3xl">
              Lessons
            </h2>
            <Button look="main" once onClick={begin}>
              New lesson
            </Button>
          </div>
          {problem ? <Notice kind="wrong">{problem}</Notice> : null}
          {deleted ? <DeletedPage lesson={deleted} onDone={() => setOpen(null)} /> : null}
          {lessons.length === 0 ? (
            <p className="mt-6 max-w-prose text-lg">
              A page for each lesson: what went well, what to watch, and what to practise at home. Nobody but
              the couple and the instructor can read it.
            </p>
          ) : (
            <ol className="mt-4 border-t-2 border-ink">
              {lessons.map((lesson) => (
                <LessonPage
                  key={lesson.id}
                  lesson={lesson}
                  open={open === lesson.id}
                  onOpen={(yes) => setOpen(yes ? lesson.id : null)}
                />
              ))}
            </ol>
          )}
        </section>
        <aside className="min-w-0 space-y-10">
          {me.role === 'instructor' ? <Questions me={me} /> : null}
          <LessonsLeft />
          <Homework onOpen={setOpen} />
          <Readiness />
        </aside>
      </div>
    </BoardFrame>
  );
}

/** What is still to practise, from all pages. */
function Homework({ onOpen }: { onOpen: (lesson: string) => void }) {
  const { board } = useBoard('board');
  const all = homework(board.lessons?.lessons ?? []);
  const todo = all.filter((task) => !task.done);
  if (all.length === 0) return null;
  return (
    <section aria-labelledby="homework">
      <h2 id="homework" className="text-2xl">
        To practise
      </h2>
      {todo.length === 0 ? <p className="mt-1 text-moss">All of it is done.</p> : null}
      <ul className="mt-1">
        {todo.map((task) => (
          <li key={`${task.lesson}/${task.place}`} className="border-b border-rule">
            <button
              type="button"
              onClick={() => onOpen(task.lesson)}
              className="min-h-11 w-full py-2 text-left break-words hover:bg-paper-2"
            >
              {task.words}
            </button>
            <div className="pb-2">
              <DrillChoice words={task.words} />
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}
