import type { FloorPlan } from '@/lib/core/handover/floorPlan.ts';
import { usePlan } from '../_client/room.tsx';
import { phraseWords, shownWords, walkWords, words } from './words.ts';

/** The same in words: for who cannot see the drawing, and beneath it on paper. */
export function ToldPlan({ plan: { walk, pose, phrases } }: { plan: FloorPlan }) {
  const { couple } = usePlan();
  return (
    <div className="max-w-prose space-y-1">
      {walk ? <p>{walkWords(walk)}</p> : null}
      {pose?.shown.map((shown) => (
        <p key={shown.camera.id}>{shownWords(shown, couple)}</p>
      ))}
      <p className="text-sm text-soft">
        {words.band} {pose && pose.shown.length > 0 ? words.camera : ''}
      </p>
      {phrases.length > 0 ? (
        <details className="no-print">
          <summary className="min-h-11 content-center text-soft">{words.inWords}</summary>
          <ol>
            {phrases.map((phrase) => (
              <li key={phrase.number}>{phraseWords(phrase)}</li>
            ))}
          </ol>
        </details>
      ) : null}
    </div>
  );
}
