import type { Plan } from '../areas/plan.ts';
import { floorOf, songDuration } from '../dance/clock.ts';
import { compileEdit } from '../edit/compile.ts';
import type { Edit } from '../edit/edit.ts';
import { inOrder, sectionNames, sectionWords } from '../edit/sectionNames.ts';
import type { Section } from '../song/section.ts';
import { clock } from '../units.ts';
import { playedEdit } from './played.ts';

/**
 * What tells that the full song is playing instead of the edit, and what whoever reads it does then: to couple and DJ by the same
 * words of the song. Empty when the whole song is what is danced to.
 */
export function planB(plan: Plan, reader: 'couple' | 'DJ'): string {
  const edit = playedEdit(plan);
  const { spans } = compileEdit(edit, { duration: songDuration(plan) });
  const [played, goesOnWith] = spans;
  const start = played?.from ?? 0;
  const late =
    start > 0
      ? `If the song begins with its beginning, ${theCouple(reader)}wait ${start < 60 ? `${Math.max(1, Math.round(start))} s` : clock(start)} longer before the first step.`
      : '';
  return [
    late,
    later(plan, reader, edit, played && goesOnWith ? { from: played.to, to: goesOnWith.from } : null),
  ]
    .filter(Boolean)
    .join(' ');
}

/** The DJ does nothing but let it run, and is told what the couple do. */
const theCouple = (reader: 'couple' | 'DJ'): string => (reader === 'DJ' ? 'let it run; the couple ' : '');

/** The same for what comes after the start: the first join, or the fade. */
function later(
  plan: Plan,
  reader: 'couple' | 'DJ',
  edit: Edit,
  cut: { from: number; to: number } | null,
): string {
  if (cut) {
    const names = sectionNames(plan.sections);
    const sections = inOrder(plan.sections);
    const goesOn = sections.find(({ start }) => start >= cut.from - 0.5 && start < cut.to);
    const after = plan.cues.filter(({ at }) => at < cut.from).sort((a, b) => b.at - a.at)[0];
    const wordsOf = ({ kind, id }: Section) => sectionWords({ kind, name: names.get(id)! });
    // Within a section it is that one which goes on, long before the next begins.
    const within =
      goesOn && goesOn.start <= cut.from + 0.5
        ? undefined
        : sections.findLast(({ start }) => start < cut.from);
    const unknown = reader === 'DJ' ? 'music that is to be left out' : 'music that you do not know';
    const what = within ? `${wordsOf(within)} goes on` : `${goesOn ? wordsOf(goesOn) : unknown} comes`;
    const when = after ? ` after “${after.word}”` : '';
    return `If ${what}${when}, the full song is playing: ${theCouple(reader)}keep to the basic, and ${finish(plan, reader)}.`;
  }
  if (edit.end.kind === 'fade') {
    const off = reader === 'DJ' ? ': fade it out then' : '';
    return `If the music does not fade, the full song is playing: ${theCouple(reader)}${finish(plan, reader)}, then bow and walk off together${off}.`;
  }
  return '';
}

/** The closing pose in the full song: at the same word, later by what was not left out. */
function finish(plan: Plan, reader: 'couple' | 'DJ'): string {
  const { cues, ending } = plan;
  const floor = ending && floorOf(plan, ending.target.at);
  // One that the edit leaves out was never practised to this music.
  if (!ending || floor === null) return `finish when ${reader === 'DJ' ? 'they' : 'you'} like`;
  const cue = cues.find(({ id }) => id === ending.target.cue);
  const later = ending.target.at - floor;
  const where = cue ? `finish on “${cue.word}” all the same` : 'finish with the same pose';
  return later > 1 ? `${where}, which comes ${clock(later)} later` : where;
}
