import type { Loss } from './losses.ts';

/** What a person is asked before something agreed is undone. */
export interface Question {
  title: string;
  /** What is lost, and who must be told; a list where it has parts. */
  parts: { words: string; list: string[] }[];
  yes: string;
  no: string;
}

/** The question before a change, in words; of several losses the first gives the title. */
export function questionOf(losses: readonly Loss[]): Question {
  const [first] = losses;
  const said = losses.map(wordsOf);
  const [head] = said;
  return {
    title: head?.title ?? 'Change it?',
    parts: said.flatMap(({ title, words, list, more = [] }, i) => [
      { words: i === 0 ? words : `${title}. ${words}`, list },
      ...more.filter((part) => part.list.length > 0),
    ]),
    yes:
      first?.kind === 'mark'
        ? 'Go back'
        : first?.kind === 'recording'
          ? 'Take the new recording'
          : 'Change it anyway',
    no: 'Leave it as it is',
  };
}

/** Whoever has no name here is signed as `The planner`. */
const within = (by: string): string => by.replace(/^The (?=[a-zA-Z]+$)/, 'the ');

interface Said {
  title: string;
  words: string;
  list: string[];
  /** Further lists; one that is empty is not shown. */
  more?: { words: string; list: string[] }[];
}

function wordsOf(loss: Loss): Said {
  const said = (title: string, words: string, list: string[] = []): Said => ({ title, words, list });
  switch (loss.kind) {
    case 'mark':
      return said(
        'Go back to this mark?',
        loss.songStays
          ? 'Song and edit are settled and stay; the dance goes back. It is one change, for all of you, and you can undo it.'
          : 'It is one change, for all of you, and you can undo it.',
        loss.differs,
      );
    case 'recording':
      return {
        ...said('Another recording in place of this one?', foundWords(loss)),
        more: [
          { words: 'This comes along, to the same music:', list: loss.along },
          { words: 'This goes, because it has no place in it:', list: loss.gone },
          { words: 'This is made anew:', list: loss.anew },
          { words: 'This stays at its second, for those to look at who may change it:', list: loss.left },
          { words: 'This was said of the recording before:', list: loss.names },
        ],
      };
    case 'left behind':
      return said(
        'These were set in the other recording',
        'They stay at their seconds, where this one has other music:',
        loss.things,
      );
    case 'settled':
      return said(
        `${loss.by || 'The instructor'} has settled song and edit`,
        `${loss.word === '' ? '' : `“${loss.word}” `}If you change it, it is no longer settled. Please tell ${within(loss.by || 'the instructor')}.`,
      );
    case 'yes':
      return said(
        `${loss.by || 'The DJ'} has said yes to this`,
        !loss.newFile
          ? 'Their yes no longer holds: tell them what is new, and ask again.'
          : loss.plays === 'finished file'
            ? 'Their yes no longer holds: they need the new file, and to be asked again.'
            : 'Their yes no longer holds: they need the new times, and to be asked again.',
        loss.differs,
      );
    case 'final':
      return said(
        'The run-of-show entry is final',
        `This changes what it says. Please tell ${within(loss.by || 'whoever marked it')}.`,
        loss.differs,
      );
    case 'left out':
      return said('This leaves out a part of the dance', 'It is not played any more:', loss.what);
    case 'placed':
      return said('Moves that somebody placed would change', 'They stand on the sheet now.', loss.moves);
    case 'danced':
      return said(
        'This is danced on the sheet',
        'Without it these are no moves that the couple know:',
        loss.moves,
      );
    case 'listened for':
      return said(
        'The ending listens for this',
        'Without it the couple have no sign for the ending:',
        loss.words,
      );
  }
}

function foundWords({ along, gone, anew }: Extract<Loss, { kind: 'recording' }>): string {
  if (anew.length === 0 && gone.length === 0) return 'It holds the same music.';
  return along.length > 0
    ? 'It holds some of the same music, not all of it.'
    : 'The same music was not found in it.';
}
