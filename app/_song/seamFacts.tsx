import type { SeamFigures } from '@/lib/core/edit/seam.ts';
import { seamFacts } from './seamWords.ts';

/** The figures of a join, each in a word and a number; what somebody might notice is marked by a word, too. */
export function SeamFacts({ seam, interval }: { seam: SeamFigures; interval: number }) {
  return (
    <ul aria-label="How well the join holds" className="flex flex-wrap gap-x-5 text-sm">
      {seamFacts(seam, interval).map(({ about, word, figure, fine }) => (
        <li key={about} className={fine ? '' : 'text-wine'}>
          {word} <span className="text-soft">{figure}</span>
          {fine ? null : <span className="sr-only"> (may be noticed)</span>}
        </li>
      ))}
    </ul>
  );
}
