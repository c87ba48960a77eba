'use client';

import dynamic from 'next/dynamic';
import Link from 'next/link';
import { useState } from 'react';
import { djFacts } from '@/lib/core/agreed/dj.ts';
import { versionNumber } from '@/lib/core/agreed/version.ts';
import type { Me } from '../_client/boardState.ts';
import { laterPart } from '../_client/laterParts.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { useChanging } from '../_ui/changing.ts';
import { boardAddress } from '../_ui/roles.ts';
import { Sentence } from '../_ui/sentence.tsx';
import { AnswerPanel, NewInAnswer } from './answerPanel.tsx';
import { CheckCopy } from './checkCopy.tsx';
import { ClockLine, DjFactsView } from './djFactsView.tsx';
import { FiveLines } from './fiveLines.tsx';
import { Inside } from './inside.tsx';
import { Listen } from './listen.tsx';
import { MusicStrip } from './musicStrip.tsx';
import { PlaysChoice } from './playsChoice.tsx';
import { useArriving } from './useSeen.ts';
import { djPage as words } from './words.ts';

/** Comes where a band plays. */
const BandSheet = dynamic(
  laterPart(async () => (await import('./bandSheet.tsx')).BandSheet),
  { ssr: false },
);

/** What comes next where there is nothing to play: who may choose the song is led to it, who may not, to those who do. */
function NoSong({ me }: { me: Me }) {
  const mayChoose = useRoom().mayWrite('plan');
  return (
    <>
      <h2 className="text-3xl">{words.title}</h2>
      <p className="mt-2 max-w-prose text-lg">
        There is no song on this board yet. As soon as there is one, its file, its times and its cues stand
        here.
      </p>
      <p className="mt-2 max-w-prose text-lg">
        {mayChoose ? null : 'The couple and their instructor choose it. '}
        <Link href={boardAddress(me.board, mayChoose ? 'song' : 'remarks', me.role)} prefetch={false}>
          {mayChoose ? 'Choose the recording on the Song page.' : 'Ask them under Remarks.'}
        </Link>
      </p>
    </>
  );
}

/** Whoever plays the music sees exactly what to play, checks their copy, and says yes or something else. */
export function DjScreen({ me }: { me: Me }) {
  const { board } = useBoard('board');
  const { change } = useChanging('answer');
  const [seen, setSeen] = useState<'finished file' | 'own copy' | null>(null);
  const { plan } = board;
  // What the DJ said comes by a line of its own: shown before it is here, all beneath would jump. Without a network nothing comes.
  if (useArriving() && navigator.onLine)
    return (
      <BoardFrame>
        <p className="text-soft">{words.arriving}</p>
      </BoardFrame>
    );
  if (plan.recording === null)
    return (
      <BoardFrame>
        <NoSong me={me} />
      </BoardFrame>
    );
  if (plan.musicBy === 'band')
    return (
      <BoardFrame>
        <BandSheet />
      </BoardFrame>
    );
  const facts = djFacts(board, versionNumber(board), seen);
  const choose = (plays: 'finished file' | 'own copy') => {
    setSeen(plays);
    if (me.role === 'dj') change({ register: 'plays', value: plays });
  };
  return (
    <BoardFrame>
      <div className="grid gap-x-12 print:block xl:grid-cols-[minmax(0,1fr)_23rem] xl:grid-rows-[auto_1fr]">
        <div className="min-w-0">
          <h2 className="text-2xl md:text-3xl">{words.title}</h2>
          <NewInAnswer />
          <p className="text-soft md:mt-1">
            {words.full(facts.song, facts.fullLength, facts.source)}.{' '}
            {facts.announced ? words.announced(facts.announced) : ''}
          </p>
          <PlaysChoice
            plays={facts.plays}
            said={board.answer?.plays ?? null}
            mine={me.role === 'dj'}
            onChoose={choose}
          />
          <DjFactsView facts={facts} dj={me.role === 'dj'} />
          <MusicStrip />
        </div>
        <AnswerPanel plays={facts.plays} version={facts.version} />
        <section aria-labelledby="details" className="min-w-0 xl:col-start-1">
          <h3 id="details" className="sr-only">
            {words.details}
          </h3>
          <ClockLine facts={facts} dj={me.role === 'dj'} />
          <Inside facts={facts} />
          <Listen facts={facts} />
          <FiveLines facts={facts} />
          {facts.planB ? (
            <section aria-labelledby="plan-b" className="mt-8 print:mt-3">
              <h4 id="plan-b" className="small-caps">
                {words.planB}
              </h4>
              <p className="mt-1 max-w-prose font-serif text-xl print:max-w-none print:text-base">
                <Sentence>{facts.planB}</Sentence>
              </p>
            </section>
          ) : null}
          <CheckCopy plays={facts.plays} />
          <p className="mt-6 max-w-prose text-sm text-soft print:mt-3 print:max-w-none">
            {facts.cautions.join(' ')}
          </p>
        </section>
      </div>
    </BoardFrame>
  );
}
