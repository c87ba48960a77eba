import { type DjFacts, momentWords } from '../core/agreed/dj.ts';
import type { Given } from '../core/agreed/given.ts';
import type { DjJoin } from '../core/agreed/joins.ts';
import { versionWords } from '../core/agreed/version.ts';
import { clock, signed } from '../core/units.ts';
import { Figures, Heading, type PaperSize, Row, Sheet, Words } from './paper.tsx';

/** What the DJ plays, on one page; and whether a yes was given to that. */
export function DjSheet({ facts, given, size }: { facts: DjFacts; given: Given | null; size: PaperSize }) {
  const { start, fade } = facts;
  const at = (seconds: number) => momentWords(facts, seconds);
  const announced = facts.announced ? `announced at ${facts.announced}` : '';
  const own = facts.plays === 'own copy';
  const after = start.lastWords ? `after “${start.lastWords}”` : '';
  return (
    <Sheet
      title={facts.title ? `${facts.title}, for the first dance` : 'First dance'}
      under={[facts.couple, facts.date, announced, facts.venue, versionWords(facts.version)]
        .filter(Boolean)
        .join(' · ')}
      size={size}
      letters={JSON.stringify([facts, given])}
      cautions={facts.cautions}
      foot={`First dance of ${facts.couple}, ${versionWords(facts.version)}`}
    >
      {given ? <Words wrong={!given.holds}>{given.words}</Words> : null}
      <Words>{`${facts.song}, ${clock(facts.fullLength)} in full${facts.source ? `; ${facts.source}` : ''}`}</Words>
      <Words>{`All times are of ${facts.clockOf}. ${levelWords(facts)}`}</Words>
      <Figures
        all={[
          {
            label: own ? 'your own copy' : 'file',
            big: clock(own ? facts.fullLength : facts.fileLength),
            words: own
              ? `plays ${clock(facts.musicLength)} of it`
              : `${clock(facts.musicLength)} of music, then silence; ${facts.fileName}`,
          },
          {
            label: 'start',
            big: at(start.at),
            words: [
              start.signal || 'on their sign',
              after,
              start.where ? `the couple come from ${start.where}` : '',
            ]
              .filter(Boolean)
              .join(', '),
          },
          { label: 'closing pose', ...poseWords(facts) },
          {
            label: 'let it ring to',
            big: at(facts.ringTo),
            words: `last heard: ${facts.lastHeard}${facts.after ? `; afterwards: ${facts.after}` : ''}`,
          },
        ]}
      />
      {facts.joins.length > 0 ? <Heading>{own ? 'Joins' : 'Inside the file'}</Heading> : null}
      {facts.joins.map((join) => (
        <Row
          key={join.goOn}
          time={at(own ? join.leave : join.goOn)}
          rest={own ? byHand(join, at) : inFile(join)}
        />
      ))}
      {fade ? <Heading>Fade</Heading> : null}
      {fade ? (
        <Row
          time={at(fade.from)}
          rest={
            own || fade.byHand
              ? `start fading; gone by ${at(fade.gone)}${own ? '' : '; the file fades there too'}`
              : 'the fade is in the file'
          }
        />
      ) : null}
      {facts.byEar.length > 0 ? <Heading>Is it the right version? Listen for</Heading> : null}
      {facts.byEar.map(({ word, at: when }, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a paper is drawn once, and two may say the same at one time
        <Row key={i} time={at(when)} word={word} rest="" />
      ))}
      {facts.planB ? <Heading>If the full song plays</Heading> : null}
      {facts.planB ? <Words>{facts.planB}</Words> : null}
      <Heading>In five lines</Heading>
      {facts.lines.map((line) => (
        <Words key={line}>{line}</Words>
      ))}
    </Sheet>
  );
}

function poseWords(facts: DjFacts): { big: string; words: string } {
  const { closingPose } = facts;
  if (!closingPose)
    return facts.poseLeftOut
      ? { big: 'left out', words: 'by the present edit' }
      : { big: 'open', words: 'not chosen yet' };
  const { at, on, kept } = closingPose;
  return { big: momentWords(facts, at), words: `${on ? `on “${on}”, ` : ''}kept ${kept} s` };
}

/** A join that the DJ makes. */
const byHand = ({ lastWord, firstWord, goOn, leftOut }: DjJoin, at: (seconds: number) => string): string =>
  `${lastWord ? `after “${lastWord}”` : 'leave here'}, go on at ${at(goOn)}${firstWord ? ` with “${firstWord}”` : ''}; ${clock(leftOut)} left out`;

/** A join that is in the file: nothing is to be done there. */
const inFile = ({ lastWord, firstWord, leftOut }: DjJoin): string =>
  `${lastWord ? `after “${lastWord}”, ` : ''}${clock(leftOut)} is left out${firstWord ? `; it goes on with “${firstWord}”` : ''}`;

/** How loud the recording is, to set the level before the dance, and how fast it is played. */
function levelWords({ loudness, speed, plays }: DjFacts): string {
  const level = loudness === null ? '' : `The recording measures ${signed(loudness, 1)} LUFS.`;
  if (speed === 1) return level;
  const file = plays === 'finished file' ? ', in the file already' : '';
  return `${level} Played at ${Math.round(speed * 1000) / 10} % of its speed, key kept${file}.`.trim();
}
