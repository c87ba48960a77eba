import { type EntryFacts, factWords } from '../core/agreed/entry.ts';
import { dayWords } from '../core/areas/days.ts';
import { timeWords } from '../core/areas/eveningWords.ts';
import { effectsCaution, generalCaution, rightsCaution } from '../core/dance/cautions.ts';
import { clock } from '../core/units.ts';
import { entryTimes } from '../zone/entryTimes.ts';
import { Fact, Figures, Heading, type PaperSize, Row, Sheet, Words } from './paper.tsx';

/** The run-of-show entry as the planner's papers take it. */
export function EntrySheet({ entry, size }: { entry: EntryFacts; size: PaperSize }) {
  const { final } = entry;
  const times = entryTimes(entry);
  return (
    <Sheet
      title={entry.title}
      under={[entry.facts.place, dayWords(entry.day), timeWords(entry.time), entry.zone]
        .filter(Boolean)
        .join(' · ')}
      size={size}
      letters={JSON.stringify(entry)}
      cautions={[effectsCaution, rightsCaution, generalCaution]}
      foot={entry.title}
    >
      {final && !final.outdated ? <Words>{`Final, marked by ${final.by}.`}</Words> : null}
      {final?.outdated ? (
        <Words wrong>{`Changed since it was final: ${final.differs.join('; ')}.`}</Words>
      ) : null}
      {times?.note ? <Words wrong>{times.note}</Words> : null}
      {entry.missing.length > 0 ? <Words wrong>{`Still open: ${entry.missing.join(', ')}.`}</Words> : null}
      <Figures
        all={[
          { label: 'before the music', big: clock(entry.lead), words: 'announcement and coming on' },
          { label: 'music', big: entry.musicLength === null ? 'open' : clock(entry.musicLength), words: '' },
          { label: 'applause', big: clock(entry.applause), words: '' },
          { label: 'in all', big: entry.total === null ? 'open' : clock(entry.total), words: '' },
        ]}
      />
      {entry.moments.length > 0 ? <Heading>Who does what, in the music’s time</Heading> : null}
      {entry.moments.map(({ after, floor, who, what }, i) => (
        <Row
          // biome-ignore lint/suspicious/noArrayIndexKey: a paper is drawn once, and two may say the same at one time
          key={i}
          time={times?.clock(after) ?? clock(floor)}
          word={who}
          rest={`${times ? `${clock(floor)}: ` : ''}${what}`}
        />
      ))}
      <Heading>Facts</Heading>
      {Object.entries(entry.facts)
        .filter(([label]) => !label.startsWith('moment ') && label !== 'still open')
        .map(([label, value]) => (
          <Fact key={label} name={label} rest={factWords(label, value)} />
        ))}
    </Sheet>
  );
}
