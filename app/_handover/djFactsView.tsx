'use client';

import { type DjFacts, momentWords } from '@/lib/core/agreed/dj.ts';
import { clock, signed } from '@/lib/core/units.ts';
import { Sentence } from '../_ui/sentence.tsx';
import { clockWords } from './clockWords.ts';

/** A start signal longer than this does not fit where the large figure stands. */
const SHORT = 18;

/** The four things that matter in the dark, large; and whose clock they are on. @param dj for the DJ; else for one who looks after them */
export function DjFactsView({ facts, dj }: { facts: DjFacts; dj: boolean }) {
  const { start, closingPose, fade } = facts;
  const own = facts.plays === 'own copy';
  const signal = start.signal ? `on ${start.signal}` : 'on their sign';
  const at = (seconds: number) => momentWords(facts, seconds);
  const after = facts.after ? `afterwards: ${facts.after}` : '';
  const short = signal.length <= SHORT;
  const from = own && at(start.at) !== at(0) ? `from ${at(start.at)}` : '';
  return (
    <>
      <dl className="mt-6 grid border-t-2 border-b border-t-ink border-b-rule sm:grid-cols-2 lg:grid-cols-4">
        <Fact
          term={own ? (dj ? 'your copy' : 'the DJ’s copy') : 'file'}
          figure={clock(own ? facts.fullLength : facts.fileLength)}
          lines={
            own
              ? [facts.song, joinWords(facts)]
              : [
                  `${clock(facts.musicLength)} of music, then silence`,
                  facts.fileName,
                  fade?.byHand ? 'nothing to cut' : 'nothing to cut, nothing to fade',
                ]
          }
        />
        <Fact
          term="start"
          figure={short ? signal : from || '0:00'}
          lines={[
            // A longer one is a sentence of its own: who does what.
            short ? from : start.signal,
            start.lastWords ? `after “${start.lastWords}”` : '',
            start.where ? `the couple come from ${start.where}` : '',
          ]}
        />
        <Fact
          term="closing pose"
          gold
          figure={closingPose ? at(closingPose.at) : facts.poseLeftOut ? 'left out' : 'not set'}
          lines={
            closingPose
              ? [closingPose.on ? `on “${closingPose.on}”` : '', `kept ${closingPose.kept} s`]
              : [facts.poseLeftOut ? 'by the present edit' : 'the couple choose it']
          }
        />
        {fade && (own || fade.byHand) ? (
          <Fact
            term="start fading"
            figure={at(fade.from)}
            lines={[`gone by ${at(fade.gone)}`, own ? '' : 'the file fades there too', after]}
          />
        ) : (
          <Fact
            term="let it ring to"
            figure={at(facts.ringTo)}
            lines={[`last heard: ${facts.lastHeard}`, after || 'then applause']}
          />
        )}
      </dl>
      <p className="mt-2 text-soft">
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
    <div className="min-w-0 border-rule py-3.5 pr-5 not-first:border-t sm:not-first:border-t-0">
      <dt className="text-soft">{term}</dt>
      <dd>
        <span
          className={`block font-serif leading-tight break-words ${figure.length > 11 ? 'text-3xl' : 'text-4xl'} ${gold ? 'text-gold' : ''}`}
        >
          {figure}
        </span>
        {lines.filter(Boolean).map((line) => (
          <span key={line} className="mt-1 block leading-snug break-words">
            <Sentence>{line}</Sentence>
          </span>
        ))}
      </dd>
    </div>
  );
}
