'use client';

type Plays = 'finished file' | 'own copy';
const words: Record<Plays, { mine: string; theirs: string }> = {
  'finished file': { mine: 'I play the finished file', theirs: 'for the finished file' },
  'own copy': { mine: 'I play my own copy', theirs: 'for their own copy' },
};

/** The first question; everything below is told for its answer, on that one's clock. */
export function PlaysChoice({
  plays,
  said,
  mine,
  onChoose,
}: {
  plays: Plays;
  said: Plays | null;
  mine: boolean;
  onChoose: (plays: Plays) => void;
}) {
  return (
    <fieldset className="no-print mt-3 md:mt-5">
      <legend className="mb-1.5 text-soft">
        {mine
          ? said === null
            ? 'First of all: which one will you play?'
            : 'You play:'
          : said === null
            ? 'The DJ has not said yet which one they play. Below, all is told'
            : `The DJ plays ${said === 'finished file' ? 'the finished file' : 'their own copy'}. Below, all is told`}
      </legend>
      <div className="grid w-full grid-cols-2 overflow-hidden rounded-3xl border border-ink sm:inline-grid sm:w-auto">
        {(['finished file', 'own copy'] as const).map((each) => (
          <label
            key={each}
            className="relative flex min-h-11 cursor-pointer items-center justify-center px-4 py-1 text-center leading-tight font-semibold has-checked:bg-ink has-checked:text-paper has-focus-visible:outline-3 has-focus-visible:-outline-offset-4 has-focus-visible:outline-edge"
          >
            <input
              type="radio"
              name="plays"
              checked={(mine ? said : plays) === each}
              // A click, not a change: the one shown at first may be the answer, too. Arrow keys click as well.
              onClick={() => onChoose(each)}
              readOnly
              className="absolute inset-0 cursor-pointer opacity-0"
            />
            {words[each][mine ? 'mine' : 'theirs']}
          </label>
        ))}
      </div>
    </fieldset>
  );
}
