import { describe, expect, it } from 'vitest';
import type { Rule } from '../../../lib/core/checks/finding.ts';
import { FLOOR_RULES } from '../../../lib/core/checks/floorRules.ts';
import { rules } from '../../../lib/core/checks/rules.generated.ts';

/** Where a threshold comes from. `by definition`: there is none, the finding follows from what the plan itself says. */
type Kind = 'published' | 'common practice' | 'from memory' | 'the moves' | 'the song' | 'by definition';

/** Rule by rule: what it measures against, and where that comes from. */
const sources: [rule: string, threshold: string, kind: Kind, source: string][] = [
  ['band-fade', 'any fade with a band', 'common practice', 'no source'],
  ['cannot-be-danced', 'a foot, hold or place that is not there', 'the moves', 'the moves in a row'],
  [
    'caution',
    'any move with a caution',
    'published',
    'J Dance Med Sci 2009 on lifts; other cautions common practice',
  ],
  ['basic-unsuited', 'metre, least seconds and room of the basic', 'from memory', 'the move'],
  ['day-past', 'the day after the dance', 'by definition', 'the plan'],
  ['length-open', '4:20', 'common practice', 'no source'],
  ['lift-without-spotter', 'any lift', 'published', 'J Dance Med Sci 2009 on lifts; standing by: no source'],
  ['one-move', 'at most one move in more than 2:30', 'common practice', 'no source'],
  ['outfit', 'not tried 56 days before; warns from 14', 'common practice', 'no source'],
  ['surface', 'words for what holds or slides', 'common practice', 'no source'],
  ['tempo-changes', '6 %', 'published', 'twice what is just noticed: Drake & Botte 1993'],
  ['copy-differs', 'another recording or version', 'by definition', 'the comparison says so'],
  ['copy-not-checked', 'an own copy without a comparison', 'common practice', 'no source'],
  ['counts-left', '1 count or more', 'by definition', 'arithmetic: 32 bars of 4 = 21 × 6 + 2'],
  ['cue-removed', 'inside a cut', 'by definition', 'the edit'],
  ['dj-not-answered', 'the day after the one agreed', 'common practice', 'no source'],
  ['dj-not-asked', 'no answer and not asked', 'common practice', 'no source'],
  ['dj-older-version', 'another digest', 'common practice', 'no source'],
  ['dj-proposal-open', 'a proposal unanswered', 'common practice', 'no source'],
  ['ending-overlap', '1 count or more', 'by definition', 'nobody can dance both'],
  ['ending-too-early', 'led before the music or the first step', 'by definition', 'the plan'],
  ['fade-length', '5 to 15 s', 'common practice', 'no source'],
  ['fade-off-phrase', 'not at the end of a phrase', 'common practice', 'no source'],
  ['first-step-removed', 'inside a cut', 'by definition', 'the edit'],
  ['first-step-off-phrase', 'not at the start of a phrase', 'common practice', 'no source'],
  ['grid-not-confirmed', 'nobody has', 'common practice', 'no source'],
  ['hold-connects', 'another hold or place than the basic’s', 'the moves', 'the move and the basic'],
  ['leaves-floor', 'half a metre from the edge', 'common practice', 'no source'],
  ['too-near', '0.3 m from a pillar, 0.5 m from people', 'common practice', 'no source'],
  ['pose-turned', 'three eighths of a turn', 'common practice', 'no source'],
  ['way-longer', '1 m more than counted with; 1.27 m/s', 'published', 'Bohannon 1997: 127 to 146 cm/s'],
  ['landing-in-tail', 'a bar in which nothing is played', 'common practice', 'no source'],
  ['landing-inaudible', '-9 dB', 'common practice', 'no source; a fade by hand up to 2 s early'],
  ['landing-off-target', '185 ms', 'published', 'ITU-R BT.1359-1: +90/-185 ms acceptable'],
  ['landing-removed', 'inside a cut', 'by definition', 'the edit'],
  ['landing-weak', 'another count than the one', 'common practice', 'no source'],
  ['length-outside', 'as agreed by the couple', 'common practice', 'no source'],
  ['lost-move', 'no such move on the board', 'by definition', 'the plan'],
  ['moment-other-recording', 'another than the board’s', 'by definition', 'the plan'],
  ['move-before-first-step', '1 count or more', 'by definition', 'the plan'],
  ['moment-removed', 'inside a cut', 'by definition', 'the edit'],
  ['move-removed', 'inside a cut', 'by definition', 'the edit'],
  ['music-goes-on', '10 s after the pose', 'common practice', 'no source'],
  ['no-ending', 'none', 'common practice', 'no source'],
  ['no-grid', 'none', 'common practice', 'no source'],
  ['no-walk-on', 'none', 'common practice', 'no source'],
  ['not-ready', 'less than “alone” within 14 days', 'common practice', 'no source'],
  [
    'odd-phrase',
    'another length than the usual phrase',
    'published',
    'Harmonix Set (Nieto et al. 2019): 39 % are',
  ],
  ['overlap', '1 count or more', 'by definition', 'nobody can dance both'],
  ['pose-in-silence', '3 s of silence', 'common practice', 'no source'],
  ['pose-kept-short', '3 s', 'common practice', 'no source'],
  ['preparation', 'counts of the move', 'the moves', 'the move’s preparation'],
  ['room', 'metres of the move', 'from memory', 'the move’s room'],
  ['runs-over', 'over the end of its phrase', 'common practice', 'no source'],
  ['safer-form', 'a caution without the safer form chosen', 'common practice', 'no source'],
  ['seam-beat', '6 ms, or 2.5 % above 240 ms a beat', 'published', 'Friberg & Sundberg 1995'],
  ['seam-in-word', '0.4 s after a word begins', 'common practice', 'no source'],
  ['seam-key', '19 of 20 neighbouring bars', 'the song', 'its own steps from bar to bar'],
  ['seam-level', '3 dB', 'common practice', 'three times what is just noticed (1 dB, second-hand)'],
  [
    'seam-off-bar',
    '60 ms and bar position',
    'common practice',
    'design; noticed from 2.5 % (Friberg & Sundberg 1995)',
  ],
  ['seam-tempo', '3 % over six intervals', 'published', 'Drake & Botte 1993'],
  ['seam-timbre', '19 of 20 neighbouring bars', 'the song', 'its own steps from bar to bar'],
  ['section-off-bar', '70 ms', 'published', 'Harmonix Set (Nieto et al. 2019): 82 % within'],
  ['sections-not-confirmed', 'nobody has', 'common practice', 'no source'],
  ['several-seams', 'two', 'common practice', 'no source'],
  ['show-lead-short', 'what of the walk the intro does not hold', 'common practice', 'no source'],
  ['show-no-time', 'none', 'common practice', 'no source'],
  ['show-outdated', 'another fact than printed', 'common practice', 'no source'],
  ['show-too-short', '1 s more than printed', 'common practice', 'no source'],
  ['signal-late', '0.4 s', 'common practice', 'no source'],
  ['signal-missing', 'no word 0.4 to 12 s before', 'common practice', 'no source'],
  ['signal-removed', 'inside a cut', 'by definition', 'the edit'],
  ['stand-still', '12 s; warns from 30', 'common practice', 'no source'],
  ['start-count', 'another count than the move’s', 'the moves', 'the move; six counts in four: arithmetic'],
  ['tempo', 'seconds a count of the move; 1.6 times as slow', 'from memory', 'the move’s least seconds'],
  ['too-many-moves', 'one new move a lesson, the last for the whole', 'common practice', 'no source'],
  ['unmarked-section', 'no move on the change', 'common practice', 'no source'],
  ['walk-too-long', '1.27 m/s', 'published', 'Bohannon 1997: 127 to 146 cm/s'],
  ['wrong-metre', 'another metre', 'the moves', 'the move’s metre'],
];

/** What a rule's own header, which people read, must say for its kind. */
const said: Record<Kind, RegExp> = {
  published: /\b(19|20)\d\d\b|ITU-R|published/,
  'common practice': /common practice, no source|^design/,
  'from memory': /from memory/,
  'the moves': /^the moves? /,
  'the song': /^the song itself/,
  'by definition': /^(design|arithmetic)/,
};

describe('the source of each threshold', () => {
  it('is told for every rule', () => {
    expect(sources.map(([rule]) => rule).sort()).toEqual(rules.map(({ id }) => id).sort());
  });

  it.each(sources)('%s: %s (%s: %s)', (id, _threshold, kind) => {
    const { source } = rules.find((rule) => rule.id === id) as Rule;
    expect(source).toMatch(said[kind]);
    // What is published names its year or number; what is not, does not pass for it.
    if (kind !== 'published' && kind !== 'common practice') expect(source).not.toMatch(/\b(19|20)\d\d\b/);
  });
});

it('the rules whose word stands beside the floor plan are rules that read the floor', () => {
  for (const id of FLOOR_RULES) expect(rules.find((rule) => rule.id === id)?.reads, id).toContain('show');
});
