import { playedEdit } from '../core/agreed/played.ts';
import type { Plan } from '../core/areas/plan.ts';
import { boardScore } from '../core/areas/score.ts';
import { wholeDance } from '../core/dance/basics.ts';
import { floorOf, songDuration } from '../core/dance/clock.ts';
import { planWalkOn } from '../core/dance/walkOn.ts';
import { compileEdit } from '../core/edit/compile.ts';
import type { FloorTime, RecordTime } from '../core/units.ts';

/** Seconds for which a cue word is shown. */
const SHOWN = 2;

/** `00:02:51.429`, the clock of WebVTT. */
export function vttClock(seconds: number): string {
  const ms = Math.round(Math.max(0, seconds) * 1000);
  const two = (n: number) => String(n).padStart(2, '0');
  const rest = String(ms % 1000).padStart(3, '0');
  return `${two(Math.floor(ms / 3_600_000))}:${two(Math.floor(ms / 60_000) % 60)}:${two(Math.floor(ms / 1000) % 60)}.${rest}`;
}

/** Text of a cue: no markup, no arrow, one line. */
const vttText = (text: string): string =>
  text.replace(/\s+/g, ' ').replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').trim();

interface Shown {
  from: number;
  to: number;
  id: string;
  text: string;
}

/**
 * Cue words and moves as WebVTT, in the clock of the recording or of the music as played; what the edit leaves out is left out.
 */
export function movesVtt(plan: Plan, clock: 'record' | 'floor'): string {
  const score = boardScore(plan);
  const compiled = compileEdit(playedEdit(plan), { duration: songDuration(plan) });
  const at = (floor: FloorTime, record: RecordTime): number => (clock === 'floor' ? floor : record);
  const shown: Shown[] = plan.cues.flatMap((cue) => {
    const floor = floorOf(plan, cue.at);
    if (floor === null) return [];
    const from = at(floor, cue.at);
    return [{ from, to: from + SHOWN, id: `word ${cue.id}`, text: `“${cue.word}”` }];
  });
  const walk = score ? planWalkOn(plan, score) : null;
  if (score && walk?.ok) {
    const { floor, record } = score.counts[walk.value.firstStep]!;
    shown.push({
      from: at(floor, record),
      to: at(floor, record) + SHOWN,
      id: 'first step',
      text: 'first step',
    });
  }
  for (const laid of score ? wholeDance(plan, score) : []) {
    const begins = score!.counts[laid.at];
    const last = score!.counts[laid.end - 1];
    if (!begins || !last) continue;
    const ends = (last.floor + score!.interval) as FloorTime;
    const from = at(begins.floor, begins.record);
    // A move across a join ends, in the recording's clock, where its last count does.
    const to = clock === 'floor' ? ends : Math.max(from + 0.001, compiled.toRecord(ends));
    const often = laid.times > 1 ? ` (${laid.times} times)` : '';
    shown.push({ from, to, id: `move ${laid.id}`, text: `${laid.move.name}${often}` });
  }
  shown.sort((a, b) => a.from - b.from || (a.id < b.id ? -1 : 1));
  const cues = shown.map(
    ({ from, to, id, text }) =>
      `${vttText(id)}\n${vttClock(from)} --> ${vttClock(Math.max(to, from + 0.001))}\n${vttText(text)}\n`,
  );
  return `WEBVTT\n\nNOTE Times of ${clock === 'floor' ? 'the music as it is played' : 'the recording'}.\n\n${cues.join('\n')}`;
}
