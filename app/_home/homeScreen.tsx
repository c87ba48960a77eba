'use client';

import type { Me } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { HomeworkList } from './homeworkList.tsx';
import { News } from './news.tsx';
import { NextLesson } from './nextLesson.tsx';
import { PractiseFirst } from './practiseFirst.tsx';
import { Questions } from './questions.tsx';
import { home } from './words.ts';

/** What a couple's link opens: practise, what to practise, when the next lesson is, what is new, and a question. */
export function HomeScreen({ me }: { me: Me }) {
  const { board } = useBoard('board');
  return (
    <BoardFrame>
      <h2 className="sr-only">{home.title}</h2>
      {board.lessons === null ? (
        <p className="max-w-prose text-lg">{home.notYours}</p>
      ) : (
        <div className="grid gap-x-14 gap-y-8 lg:grid-cols-[minmax(0,1fr)_22rem]">
          <div className="min-w-0 space-y-8">
            <PractiseFirst me={me} />
            <HomeworkList me={me} />
          </div>
          <div className="min-w-0 space-y-8">
            <NextLesson me={me} />
            <News me={me} />
            <Questions me={me} />
          </div>
        </div>
      )}
    </BoardFrame>
  );
}
