import { type EntryFacts, factWords } from '../core/agreed/entry.ts';
import { dayWords } from '../core/areas/days.ts';
import { timeWords } from '../core/areas/eveningWords.ts';
import { effectsCaution, generalCaution, rightsCaution } from '../core/dance/cautions.ts';
import type { DanceStrip } from '../core/handover/danceStripShape.ts';
import { clock } from '../core/units.ts';
import { entryTimes } from '../zone/entryTimes.ts';
import type { Block, Paper, PaperSize } from './paper.ts';
import { entryWords as words } from './words.ts';

/** The run-of-show entry as the planner's papers take it. */
export function entrySheet(
  entry: EntryFacts,
  { strip, size }: { strip: DanceStrip | null; size: PaperSize },
): Paper {
  const { final } = entry;
  const times = entryTimes(entry);
  const say = (text: string, wrong = true): Block => ({ kind: 'words', words: text, wrong });
  const blocks: Block[] = [
    ...(final && !final.outdated ? [say(words.final(final.by), false)] : []),
    ...(final?.outdated ? [say(words.changed(final.differs))] : []),
    ...(times?.note ? [say(times.note)] : []),
    ...(entry.missing.length > 0 ? [say(words.open(entry.missing))] : []),
    {
      kind: 'figures',
      all: [
        { label: words.before, big: clock(entry.lead), words: words.beforeLine },
        {
          label: words.music,
          big: entry.musicLength === null ? words.unknown : clock(entry.musicLength),
          words: '',
        },
        { label: words.applause, big: clock(entry.applause), words: '' },
        { label: words.all, big: entry.total === null ? words.unknown : clock(entry.total), words: '' },
      ],
    },
    ...(strip ? [{ kind: 'strip' as const, strip }] : []),
    ...(entry.moments.length > 0 ? [{ kind: 'heading' as const, words: words.moments }] : []),
    ...entry.moments.map(({ after, floor, who, what }) => ({
      kind: 'row' as const,
      time: times?.clock(after) ?? clock(floor),
      word: who,
      rest: `${times ? `${clock(floor)}: ` : ''}${what}`,
    })),
    { kind: 'heading', words: words.facts },
    ...Object.entries(entry.facts)
      .filter(([label]) => !label.startsWith('moment ') && label !== 'still open')
      .map(([label, value]) => ({ kind: 'row' as const, name: label, rest: factWords(label, value) })),
  ];
  return {
    title: entry.title,
    under: [entry.facts.place, dayWords(entry.day), timeWords(entry.time), entry.zone]
      .filter(Boolean)
      .join(' · '),
    size,
    blocks,
    cautions: [effectsCaution, rightsCaution, generalCaution],
    foot: entry.title,
  };
}
