'use client';

import { type DjFacts, momentWords } from '@/lib/core/agreed/dj.ts';
import { clock, signed } from '@/lib/core/units.ts';
import { Sentence } from '../_ui/sentence.tsx';
import { clockWords } from './clockWords.ts';
import { djFigures as words } from './words.ts';

/** A start signal longer than this does not fit where the large figure stands. */
const SHORT = 18;

/** The four things that matter in the dark, large. @param dj for the DJ; else for one who looks after them */
export function DjFactsView({ facts, dj }: { facts: DjFacts; dj: boolean }) {
  const { start, closingPose, fade } = facts;
  const own = facts.plays === 'own copy';
  const signal = start.signal ? words.on(start.signal) : words.onTheirSign;
  const at = (seconds: number) => momentWords(facts, seconds);
  const after = facts.after ? words.afterwards(facts.after) : '';
  const short = signal.length <= SHORT;
  const from = own && at(start.at) !== at(0) ? words.from(at(start.at)) : '';
  const pose = closingPose
    ? { big: at(closingPose.at), words: closingPose.on ? words.poseOn(closingPose.on) : '' }
    : facts.poseLeftOut
      ? words.leftOut
      : words.notSet;
  return (
    <dl className="mt-4 grid print:mt-2 grid-cols-2 border-t-2 border-b border-t-ink border-b-rule lg:grid-cols-4 print:grid-cols-4">
      <Fact
        term={own ? (dj ? words.ownCopy : words.theirCopy) : words.file}
        figure={clock(own ? facts.fullLength : facts.fileLength)}
        lines={
          own
            ? [facts.song, joinWords(facts)]
            : [
                words.music(facts.musicLength),
                facts.fileName,
                fade?.byHand ? words.nothingToCut : words.nothingToDo,
              ]
        }
      />
      <Fact
        term={words.start}
        figure={short ? signal : from || '0:00'}
        lines={[
          // A longer one is a sentence of its own: who does what.
          short ? from : start.signal,
          start.lastWords ? words.after(start.lastWords) : '',
          start.where ? words.comeFrom(start.where) : '',
        ]}
      />
      <Fact
        term={words.pose}
        gold
        figure={pose.big}
        lines={[pose.words, closingPose ? words.kept(closingPose.kept) : '']}
      />
      {fade && (own || fade.byHand) ? (
        <Fact
          term={words.fade}
          figure={at(fade.from)}
          lines={[words.gone(at(fade.gone)), own ? '' : words.fadesThere, after]}
        />
      ) : (
        <Fact
          term={words.ring}
          figure={at(facts.ringTo)}
          lines={[words.lastHeard(facts.lastHeard), after || words.applause]}
        />
      )}
    </dl>
  );
}

/** Whose clock all times are on, how loud the recording is, and words to check by ear that it is the right one. */
export function ClockLine({ facts, dj }: { facts: DjFacts; dj: boolean }) {
  const own = facts.plays === 'own copy';
  const at = (seconds: number) => momentWords(facts, seconds);
  return (
    <>
      <p className="mt-6 text-soft print:mt-3">
        All times are those of {clockWords(facts.clockOf, dj)}
        {facts.clockOf === 'the recording' ? '' : ', unless it says “of the recording”'}.
        {facts.speed === 1 ? '' : ` It is played at ${Math.round(facts.speed * 1000) / 10} % of its speed.`}
        {facts.loudness === null
          ? ''
          : ` The whole recording measures ${signed(facts.loudness, 1)} LUFS${own ? '' : '; the file keeps its level'}.`}
      </p>
      {own && facts.byEar.length > 0 ? (
        <p className="mt-2">
          To check by ear:{' '}
          {facts.byEar.map(({ word, at: when }, i) => (
            <span key={`${word}/${when}`}>
              {i > 0 ? ', ' : ''}“<bdi className="sung">{word}</bdi>” at {at(when)}
            </span>
          ))}
          .
        </p>
      ) : null}
    </>
  );
}

const joinWords = ({ joins }: DjFacts): string =>
  joins.length === 0
    ? 'nothing to cut'
    : joins.map(({ leave, goOn }) => `leave at ${clock(leave, 1)}, go on at ${clock(goOn, 1)}`).join('; ');

function Fact({
  term,
  figure,
  lines,
  gold = false,
}: {
  term: string;
  figure: string;
  lines: string[];
  gold?: boolean;
}) {
  return (
    <div className="min-w-0 border-rule py-2 pr-3 nth-[n+3]:border-t md:py-3.5 md:pr-5 lg:nth-[n+3]:border-t-0">
      <dt className="text-soft max-md:leading-tight">{term}</dt>
      <dd>
        <span
          className={`block font-serif leading-tight break-words ${figure.length > 11 ? 'text-2xl md:text-3xl' : 'text-3xl md:text-4xl'} ${gold ? 'text-gold' : ''}`}
        >
          {figure}
        </span>
        {lines.filter(Boolean).map((line) => (
          <span key={line} className="block leading-snug break-words max-md:text-[0.95rem] md:mt-1">
            <Sentence>{line}</Sentence>
          </span>
        ))}
      </dd>
    </div>
  );
}
