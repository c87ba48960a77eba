import { facts } from '@/lib/core/areas/field.ts';
import type { LostPlace } from '@/lib/core/areas/lost.ts';
import { planShape } from '@/lib/core/areas/plan.ts';
import { showShape } from '@/lib/core/areas/show.ts';

const registers = { ...planShape.registers, ...showShape.registers };

/** What a field of a collection's entries is called by people. */
const CALLED: Readonly<Record<string, string>> = {
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
  if ('register' in place)
    return Object.hasOwn(registers, place.register)
      ? registers[place.register as keyof typeof registers][facts].called
      : `the ${place.register}`;
  const { collection, field } = place;
  return (
    CALLED[`${collection}.${field}`] ??
    `the ${field.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)}`
  );
}
