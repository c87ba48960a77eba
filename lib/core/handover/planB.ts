import { playedEdit } from '../areas/answerState.ts';
import type { Plan } from '../areas/plan.ts';
import { sectionWords } from '../checks/words.ts';
import { floorOf } from '../dance/clock.ts';
import { inOrder, sectionNames } from '../edit/sectionNames.ts';
import { clock } from '../units.ts';

/**
 * What tells the couple that the full song is playing instead of their edit, and where to finish then. Empty when the whole
 * song is what they dance to.
 */
export function planB(plan: Plan): string {
  const edit = playedEdit(plan);
  const cut = edit.cuts[0];
  if (cut) {
    const names = sectionNames(plan.sections);
    const sections = inOrder(plan.sections);
    const goesOn = sections.find(({ start }) => start >= cut.from - 0.5 && start < cut.to);
    const after = [...plan.cues].filter(({ at }) => at < cut.from).sort((a, b) => b.at - a.at)[0];
    const what = goesOn
      ? sectionWords({ kind: goesOn.kind, name: names.get(goesOn.id)! })
      : 'music that you do not know';
    const when = after ? ` after “${after.word}”` : '';
    return `If ${what} comes${when}, the full song is playing: keep to the basic, and ${finish(plan)}.`;
  }
  if (edit.end.kind === 'fade') {
    return `If the music does not fade, the full song is playing: ${finish(plan)}, then bow and walk off together.`;
  }
  if (edit.start > 0)
    return `If the song begins with its beginning, wait ${Math.round(edit.start)} s longer before the first step.`;
  return '';
}

/** The closing pose in the full song: at the same word, later by what was not left out. */
function finish(plan: Plan): string {
  const { ending } = plan;
  if (!ending) return 'finish when you like';
  const cue = plan.cues.find(({ id }) => id === ending.target.cue);
  const floor = floorOf(plan, ending.target.at);
  const later = floor === null ? 0 : ending.target.at - floor;
  const where = cue ? `finish on “${cue.word}” all the same` : 'finish with the same pose';
  return later > 1 ? `${where}, which comes ${clock(later)} later` : where;
}
