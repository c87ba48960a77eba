import type { SeamFigures } from '@/lib/core/edit/seam.ts';
import { seamFacts } from './seamWords.ts';

/** How well a join holds, each in a word; what somebody might notice stands out, with its figure. */
export function SeamFacts({
  seam,
  interval,
  figures = false,
}: {
  seam: SeamFigures;
  interval: number;
  /** With all figures behind the words. */
  figures?: boolean;
}) {
  return (
    <ul aria-label="How well the join holds" className="flex flex-wrap gap-x-5 text-sm">
      {seamFacts(seam, interval).map(({ about, word, figure, fine }) => (
        <li key={about} className={fine ? '' : 'text-wine'}>
          {word} {figures || !fine ? <span className="text-soft">{figure}</span> : null}
          {fine ? null : <span className="sr-only"> (may be noticed)</span>}
        </li>
      ))}
    </ul>
  );
}
