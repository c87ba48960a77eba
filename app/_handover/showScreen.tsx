'use client';

import { maySubscribe, mayTake } from '@/lib/access/roles.ts';
import { entryFacts, LENGTH_OPEN, POSE_LEFT_OUT, POSE_MISSING } from '@/lib/core/agreed/entry.ts';
import type { AreaName } from '@/lib/core/areas/board.ts';
import { effectsCaution, rightsCaution } from '@/lib/core/dance/cautions.ts';
import { owedBy } from '@/lib/core/handover/owed.ts';
import { lackOf } from '@/lib/export/needs.ts';
import type { Paper } from '@/lib/protocol/api.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard, usePlan, useRoom } from '../_client/room.tsx';
import { Papers } from '../_studio/takeAlong.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { Entry } from './entry.tsx';
import { FinalWord } from './finalWord.tsx';
import { MusicStrip } from './musicStrip.tsx';
import { PartyFields } from './partyFields.tsx';
import { ShowFields } from './showFields.tsx';
import { Subscription } from './subscription.tsx';
import { useArriving } from './useSeen.ts';
import { showPage as words } from './words.ts';

const papers: { paper: Paper; words: string }[] = [
  { paper: 'planner.pdf', words: 'To print (PDF)' },
  { paper: 'planner.ics', words: 'For a calendar (ICS)' },
  { paper: 'planner.csv', words: 'For a spreadsheet (CSV)' },
];

/**
 * The run-of-show entry: what is open, the fields it is made of, and how it will read. Who plans has their fields first; side by
 * side on a wide page, the entry stands on the left for everybody.
 */
export function ShowScreen({ me }: { me: Me }) {
  const { board } = useBoard('board');
  const room = useRoom();
  const entry = entryFacts(board);
  const mine = papers.filter(({ paper }) => mayTake(me.role, paper));
  const isForMe = mine.length > 0 || maySubscribe(me.role);
  const plans = room.mayWrite('show');
  // What it lacks is not known before all of it is here, and a list that vanishes again would pull up all beneath.
  if (useArriving() && navigator.onLine)
    return (
      <BoardFrame>
        <p className="text-soft">{words.arriving}</p>
      </BoardFrame>
    );
  const fields = (
    <div className="no-print min-w-0 space-y-10 lg:col-start-2 lg:row-start-1">
      {room.mayWrite('plan') ? <PartyFields /> : null}
      <ShowFields />
      {room.mayWrite('plan') ? null : <PartyFields />}
    </div>
  );
  return (
    <BoardFrame>
      <h2 className="text-2xl md:text-3xl">Run of show</h2>
      {entry.missing.length > 0 ? <StillOpen me={me} missing={entry.missing} /> : null}
      {plans ? (
        <a href="#entry" className="no-print inline-flex min-h-11 items-center lg:hidden">
          To the entry, as it will read
        </a>
      ) : null}
      <div className="mt-4 grid gap-x-14 gap-y-12 print:block lg:grid-cols-[minmax(0,1fr)_minmax(0,27rem)]">
        {plans ? fields : null}
        <div className="min-w-0 lg:col-start-1 lg:row-start-1">
          <p id="entry" className="no-print text-soft">
            The entry, as it will read.
          </p>
          <Entry entry={entry} strip={<MusicStrip entry />} />
          {plans ? null : <FinalWord entry={entry} />}
          <section aria-labelledby="take" className="no-print mt-10">
            <h3 id="take" className={isForMe ? 'text-2xl' : 'sr-only'}>
              {isForMe ? 'Take it along' : 'To mind'}
            </h3>
            <Papers me={me} papers={mine} />
            {maySubscribe(me.role) && lackOf('planner.ics', board) === null ? <Subscription me={me} /> : null}
            <p className="mt-6 max-w-prose text-sm text-soft">
              {effectsCaution} {rightsCaution}
            </p>
          </section>
        </div>
        {plans ? null : fields}
      </div>
      {plans ? <FinalWord entry={entry} /> : null}
    </BoardFrame>
  );
}

/** Where what the entry lacks is said, and in which area it is kept. */
const places: Record<string, [AreaName, (me: Me) => string]> = {
  'the date': ['plan', () => '#party'],
  'the time': ['show', () => '#evening'],
  'the time zone': ['show', () => '#evening'],
  'who announces it': ['show', () => '#evening'],
  [LENGTH_OPEN]: ['answer', (me) => boardAddress(me.board, 'dj', me.role)],
  'the song': ['plan', (me) => boardAddress(me.board, 'song', me.role)],
  [POSE_MISSING]: ['plan', (me) => boardAddress(me.board, 'sheet', me.role)],
  [POSE_LEFT_OUT]: ['plan', (me) => boardAddress(me.board, 'sheet', me.role)],
};

function StillOpen({ me, missing }: { me: Me; missing: string[] }) {
  const plan = usePlan();
  return (
    <section aria-labelledby="open" className="no-print mt-3">
      <h3 id="open" className="text-2xl">
        Still open
      </h3>
      <ul className="mt-1">
        {missing.map((one) => (
          <li key={one} className="border-l-2 border-wine py-0.5 pl-3">
            <Missing me={me} missing={one} />
            <span className="text-soft">, owed by {owedBy(one, plan)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** A thing that is still open; whoever may say it is led there. */
function Missing({ me, missing }: { me: Me; missing: string }) {
  const room = useRoom();
  const [area, address] = places[missing] ?? [];
  return area && address && room.mayWrite(area) ? (
    <a href={address(me)} className="text-wine">
      {missing}
    </a>
  ) : (
    <span className="text-wine">{missing}</span>
  );
}
