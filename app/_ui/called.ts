import type { LostPlace } from '@/lib/core/areas/lost.ts';

/** What a register, or a field of a collection's entries, is called by people; one place, until each field says it of itself. */
const CALLED: Readonly<Record<string, string>> = {
  title: 'the title',
  couple: 'the names of the couple',
  date: 'the day of the party',
  venue: 'the venue',
  instructor: 'the name of the instructor',
  musicBy: 'who plays the music',
  eveningBy: 'who runs the evening',
  lessonsLeft: 'how many lessons are left',
  nextLesson: 'the next lesson',
  target: 'the length that is wanted',
  recordingWords: 'the words about the recording',
  heard: 'what was heard in the recording',
  features: 'what was measured in the recording',
  grid: 'the beats and bars',
  sectionsConfirmedBy: 'who looked at the sections',
  phraseBars: 'the bars a phrase',
  walkOn: 'the walk-on',
  asked: 'the question to the DJ',
  settled: 'whether song and edit are settled',
  startsAt: 'when it starts',
  zone: 'the time zone',
  lead: 'the time before the music',
  applause: 'the time for applause',
  announcedBy: 'who announces it',
  after: 'what comes after it',
  final: 'the final word on the entry',
  'sections.start': 'the start',
  'sections.kind': 'the kind',
  'sections.like': 'the letter',
  'sections.name': 'the name',
  'sections.phraseBars': 'the bars a phrase',
  'cues.at': 'the place',
  'cues.word': 'the cue word',
  'placed.at': 'the place',
  'placed.move': 'the move',
  'placed.times': 'how often it is danced',
  'moments.at': 'the time',
  'moments.who': 'whose moment it is',
  'moments.what': 'the moment',
};

/** In plain words, with its article; what has no name of its own here goes by that of the field. */
export function calledAt(place: LostPlace): string {
  const key = 'register' in place ? place.register : `${place.collection}.${place.field}`;
  const field = 'register' in place ? place.register : place.field;
  return CALLED[key] ?? `the ${field.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)}`;
}
