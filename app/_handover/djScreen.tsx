'use client';

import Link from 'next/link';
import { useState } from 'react';
import { djFacts } from '@/lib/core/agreed/dj.ts';
import { versionNumber } from '@/lib/core/agreed/version.ts';
import { clock } from '@/lib/core/units.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { useChanging } from '../_ui/changing.ts';
import { boardAddress } from '../_ui/roles.ts';
import { Sentence } from '../_ui/sentence.tsx';
import { AnswerPanel, NewInAnswer } from './answerPanel.tsx';
import { BandSheet } from './bandSheet.tsx';
import { CheckCopy } from './checkCopy.tsx';
import { DjFactsView } from './djFactsView.tsx';
import { FiveLines } from './fiveLines.tsx';
import { Inside } from './inside.tsx';
import { Listen } from './listen.tsx';
import { PlaysChoice } from './playsChoice.tsx';

/** What comes next where there is nothing to play: who may choose the song is led to it, who may not, to those who do. */
function NoSong({ me }: { me: Me }) {
  const mayChoose = useRoom().mayWrite('plan');
  return (
    <>
      <h2 className="text-3xl">What to play</h2>
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
      <div className="grid gap-x-12 xl:grid-cols-[minmax(0,1fr)_23rem]">
        <div className="min-w-0">
          <h2 className="text-3xl">What to play</h2>
          <NewInAnswer />
          <p className="mt-1 text-soft">
            {facts.song}, {clock(facts.fullLength)} in full{facts.source ? `, from ${facts.source}` : ''}
          </p>
          {facts.announced ? <p className="text-soft">The dance is announced at {facts.announced}.</p> : null}
          <PlaysChoice
            plays={facts.plays}
            said={board.answer?.plays ?? null}
            mine={me.role === 'dj'}
            onChoose={choose}
          />
          <DjFactsView facts={facts} dj={me.role === 'dj'} />
          <Inside facts={facts} />
          <Listen facts={facts} />
          <FiveLines facts={facts} />
          {facts.planB ? (
            <section aria-labelledby="plan-b" className="mt-10">
              <h3 id="plan-b" className="small-caps">
                If the wrong one plays
              </h3>
              <p className="mt-1 max-w-prose font-serif text-xl">
                <Sentence>{facts.planB}</Sentence>
              </p>
            </section>
          ) : null}
          <CheckCopy plays={facts.plays} />
        </div>
        <AnswerPanel plays={facts.plays} version={facts.version} />
        <p className="mt-6 max-w-prose text-sm text-soft">{facts.cautions.join(' ')}</p>
      </div>
    </BoardFrame>
  );
}
