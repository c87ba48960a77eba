import { encodeImprint, imprintOf } from '@/lib/core/compare/imprint.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { durationOf, type Samples } from '@/lib/core/signal/samples.ts';
import { gridFrom } from '@/lib/core/song/correct.ts';
import { featuresFrom } from '@/lib/core/song/features.ts';
import { framesOf } from '@/lib/core/song/frames.ts';
import { type HeardSoFar, type Listening, listen } from '@/lib/core/song/listen.ts';
import { energiesOf } from '@/lib/core/song/loudness.ts';
import type { Recording } from '@/lib/core/song/recording.ts';
import type { HeardSong, Stage } from './audioWork.ts';

/** What is being listened for, as a person would say it. */
const STAGES: Record<string, string> = {
  loudness: 'Listening: how loud it is',
  beats: 'Listening for the beat',
  metre: 'Listening for the bars',
  sections: 'Listening for verse and chorus',
  done: 'Writing down what was heard',
};

/** "3 beats a bar, about 90 a minute" */
const heardWords = ({ metre, tempo }: HeardSoFar): string =>
  `${metre.beats} ${metre.subdivision === 3 ? 'beats of three' : 'beats'} a bar, about ${Math.round(tempo)} a minute`;

/** Everything the plan keeps of a recording. A song without a steady beat comes without a grid, and with the reason. */
export function hearSong(
  samples: Samples,
  recording: Recording,
  report: (stage: Stage) => void,
): Result<HeardSong> {
  let known: Pick<Stage, 'heard'> = {};
  const heard = listen(samples, (share, stage, soFar) => {
    if (soFar) known = { heard: heardWords(soFar) };
    report({ words: STAGES[stage] ?? 'Listening', share, ...known });
  });
  if (!heard.ok && heard.problem.code !== 'no beat') return heard;
  report({ words: 'Taking its imprint', share: null, ...known });
  const imprint = encodeImprint(imprintOf(samples));
  if (!heard.ok) {
    const frames = framesOf(samples, (share) => report({ words: 'Taking its imprint', share }));
    const features = featuresFrom(frames, energiesOf(samples));
    const { sentence } = heard.problem;
    return good({ recording, heard: null, features, imprint, grid: null, word: sentence, sections: [] });
  }
  return good({ recording, imprint, word: '', ...planParts(heard.value, durationOf(samples)) });
}

function planParts(heard: Listening, duration: number): Omit<HeardSong, 'recording' | 'imprint' | 'word'> {
  const { tempo, key, loudness, truePeak, firstSound, lastSound, confidence, features } = heard;
  return {
    heard: {
      ...{ tempo, key, loudness, truePeak, confidence, firstSound },
      lastSound: Math.min(lastSound, duration),
    },
    features,
    grid: gridFrom(heard),
    sections: heard.sections.map(({ start, kind, like }) => ({
      start,
      kind,
      like,
      name: '',
      phraseBars: null,
      confirmedBy: null,
    })),
  };
}
