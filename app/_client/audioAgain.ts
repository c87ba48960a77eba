import { bad, good, type Result } from '@/lib/core/result.ts';
import type { Samples } from '@/lib/core/signal/samples.ts';
import { choicesOf, questionOf } from '@/lib/core/song/ask.ts';
import { framesOf } from '@/lib/core/song/frames.ts';
import { hearAgain } from '@/lib/core/song/hearAgain.ts';
import { type Hearable, hearable } from '@/lib/core/song/readings.ts';
import type { AudioJobs, CountsAgain, Stage } from './audioWork.ts';

/** A decoded recording, and what of it was prepared to be heard again: some 2 MB, made once. */
export interface HeldSong {
  samples: Samples;
  hearable?: Hearable;
}

export function heardAgain(
  held: HeldSong,
  { grid, said, lastSound }: AudioJobs['again']['given'],
  report: (stage: Stage) => void,
): Result<CountsAgain> {
  held.hearable ??= hearable(
    framesOf(held.samples, (share) => report({ words: 'Listening to the recording again', share })),
  );
  report({ words: 'Following the beat', share: null });
  const heard = hearAgain(held.hearable, lastSound, grid, said);
  if (!heard) {
    return bad(
      'no beat',
      'No beat is heard here that goes with this; tap eight beats or more where they are plain.',
    );
  }
  const { readings, late } = heard;
  return good({ grid: heard.grid, late, choices: choicesOf(readings), question: questionOf(readings) });
}
