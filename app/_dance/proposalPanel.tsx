import { useEffect, useState } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { acrossOf } from '@/lib/core/dance/floor.ts';
import { isFigure, isUnbegun } from '@/lib/core/dance/kinds.ts';
import { practiceLoad } from '@/lib/core/dance/practice.ts';
import type { Wishes } from '@/lib/core/dance/proposeDance.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice } from '../_ui/notice.tsx';
import { deskPlace } from '../_ui/stageWays.ts';
import { useDesk } from './desk.tsx';
import { lastStrongTarget } from './endingTargets.ts';
import type { Offered } from './proposal.ts';
import { titles, words } from './proposalWords.ts';
import { type Offering, useOffers } from './useOffers.ts';

/** Three dances from the couple's moves, each said in a sentence before it is taken, and taken back in one step. */
export function ProposalPanel() {
  const { plan, score, change } = useDesk();
  const { board, today } = useBoard('board', 'today');
  const room = useRoom();
  const wishes = useWishes(plan);
  const { offering, ask, cancel } = useOffers();
  /** The dance before a proposal was taken, and with it, once the page shows that. */
  const [taken, setTaken] = useState<{ before: string; after: string | null } | null>(null);
  const danced = danceOf(plan);
  if (taken && taken.after === null && danced !== taken.before) setTaken({ ...taken, after: danced });
  const asked = (anew: boolean) =>
    ask({ plan, wishes, anew, landing: plan.ending ? null : lastStrongTarget(board, score, today) });
  // Whoever opens this on a sheet without moves wants dances: nothing more is asked.
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, as it opens
  useEffect(() => {
    if (isUnbegun(plan)) asked(false);
  }, []);
  const take = ({ changes }: Offered) =>
    change(changes, {
      way: 'suggestion',
      // The change is made, but the page shows it a moment later.
      done: () => setTaken({ before: danced, after: null }),
    });
  if (taken !== null && taken.after === danced) {
    return (
      <div className="space-y-3 pb-2">
        <Notice kind="settled">{words.stands}</Notice>
        <Button
          onClick={() => {
            room.undo();
            setTaken(null);
            cancel();
          }}
        >
          {words.takeBack}
        </Button>
      </div>
    );
  }
  if (!plan.moves.some(isFigure)) return <p className="sung pb-2 text-xl">{words.noMoves}</p>;
  return (
    <div className="space-y-4 pb-2">
      <div className="flex flex-wrap items-center gap-2">
        {plan.placed.length > 0 ? (
          <>
            <Button look="main" onClick={() => asked(false)}>
              {words.around}
            </Button>
            <Button onClick={() => asked(true)}>{words.anew}</Button>
          </>
        ) : (
          <Button look="main" onClick={() => asked(false)}>
            {words.whole}
          </Button>
        )}
        {offering.state === 'at work' ? <Button onClick={cancel}>{words.cancel}</Button> : null}
      </div>
      <Offers offering={offering} plan={plan} onTake={take} onAgain={asked} />
      <Load plan={plan} wishes={wishes} />
    </div>
  );
}

function Offers({
  offering,
  plan,
  onTake,
  onAgain,
}: {
  offering: Offering;
  plan: Plan;
  onTake(offered: Offered): void;
  onAgain(anew: boolean): void;
}) {
  if (offering.state === 'at work') {
    return (
      <p role="status" className="flex items-center gap-3 text-soft">
        {words.atWork}
        <progress aria-label={words.atWork} value={offering.share} max={1} />
      </p>
    );
  }
  if (offering.state === 'failed') return <Notice kind="wrong">{words.failed}</Notice>;
  if (offering.state === 'idle') return null;
  const { offers, of, anew } = offering;
  if (danceOf(of) !== danceOf(plan)) {
    return (
      <div className="space-y-2">
        <Notice>{words.changed}</Notice>
        <Button onClick={() => onAgain(anew)}>{words.again}</Button>
      </div>
    );
  }
  if (offers.problem) return <Notice kind="wrong">{offers.problem}</Notice>;
  if (offers.dances.length === 0) return <p className="text-soft">{anew ? words.noneAnew : words.none}</p>;
  return (
    <div className="grid gap-x-10 gap-y-6 @4xl:grid-cols-3">
      {offers.dances.map((offered, i) => (
        <Offer
          key={offered.manner}
          offered={offered}
          takesAway={anew}
          isFirst={i === 0}
          onTake={() => onTake(offered)}
        />
      ))}
    </div>
  );
}

function Offer({
  offered,
  takesAway,
  isFirst,
  onTake,
}: {
  offered: Offered;
  takesAway: boolean;
  /** Whoever is led to a dance to take is led to this one. */
  isFirst: boolean;
  onTake(): void;
}) {
  return (
    <section aria-label={titles[offered.manner]} className="space-y-2">
      <p className="sung text-xl leading-snug">{offered.sentence}</p>
      {offered.ends.map((one) => (
        <p key={one} className="leading-snug">
          {one}
        </p>
      ))}
      <details>
        <summary className="min-h-11 content-center text-soft">{words.where}</summary>
        <ul className="space-y-1">
          {offered.words.map((one) => (
            <li key={one}>{one}</li>
          ))}
        </ul>
        <p className="text-soft">{offered.exact ? words.exact : words.bounded}</p>
      </details>
      {takesAway ? <p className="text-soft">{words.taken}</p> : null}
      <Button look="main" data-does={isFirst ? deskPlace('proposal') : undefined} onClick={onTake}>
        {words.take}
        <span className="sr-only">: {titles[offered.manner]}</span>
      </Button>
    </section>
  );
}

/** How many moves are still to learn, against the lessons left. */
function Load({ plan, wishes }: { plan: Plan; wishes: Wishes }) {
  if (plan.lessonsLeft === null) return null;
  const danced = plan.moves.filter(({ id }) => plan.placed.some(({ move }) => move === id));
  return <p className="text-soft">{practiceLoad(danced, wishes.readiness ?? [], plan.lessonsLeft).words}</p>;
}

function useWishes({ lessonsLeft }: Plan): Wishes {
  const { lessons, show } = useBoard('board').board;
  const floor = show?.floor;
  return {
    readiness: lessons?.readiness ?? [],
    lessonsLeft,
    across: floor ? acrossOf(floor) : null,
  };
}

/** What a proposal changes, as text: while it is the same, one undo takes exactly the proposal back. */
const danceOf = ({ placed, moves, cues, walkOn, ending }: Plan): string =>
  JSON.stringify([placed, moves, cues, walkOn, ending]);
