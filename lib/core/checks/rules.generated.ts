// Generated from the files under rules/ by `node --import tsx tests/core/checks/write.ts`; do not edit.
import type { Rule } from './finding.ts';
import { rule as bandFade } from './rules/band-fade.ts';
import { rule as basicUnsuited } from './rules/basic-unsuited.ts';
import { rule as cannotBeDanced } from './rules/cannot-be-danced.ts';
import { rule as caution } from './rules/caution.ts';
import { rule as copyDiffers } from './rules/copy-differs.ts';
import { rule as copyNotChecked } from './rules/copy-not-checked.ts';
import { rule as countsLeft } from './rules/counts-left.ts';
import { rule as cueRemoved } from './rules/cue-removed.ts';
import { rule as dayPast } from './rules/day-past.ts';
import { rule as djNotAnswered } from './rules/dj-not-answered.ts';
import { rule as djNotAsked } from './rules/dj-not-asked.ts';
import { rule as djOlderVersion } from './rules/dj-older-version.ts';
import { rule as djProposalOpen } from './rules/dj-proposal-open.ts';
import { rule as endingOverlap } from './rules/ending-overlap.ts';
import { rule as endingTooEarly } from './rules/ending-too-early.ts';
import { rule as fadeLength } from './rules/fade-length.ts';
import { rule as fadeOffPhrase } from './rules/fade-off-phrase.ts';
import { rule as firstStepOffPhrase } from './rules/first-step-off-phrase.ts';
import { rule as firstStepRemoved } from './rules/first-step-removed.ts';
import { rule as gridNotConfirmed } from './rules/grid-not-confirmed.ts';
import { rule as holdConnects } from './rules/hold-connects.ts';
import { rule as landingInTail } from './rules/landing-in-tail.ts';
import { rule as landingInaudible } from './rules/landing-inaudible.ts';
import { rule as landingOffTarget } from './rules/landing-off-target.ts';
import { rule as landingRemoved } from './rules/landing-removed.ts';
import { rule as landingWeak } from './rules/landing-weak.ts';
import { rule as leavesFloor } from './rules/leaves-floor.ts';
import { rule as lengthOpen } from './rules/length-open.ts';
import { rule as lengthOutside } from './rules/length-outside.ts';
import { rule as liftWithoutSpotter } from './rules/lift-without-spotter.ts';
import { rule as lostMove } from './rules/lost-move.ts';
import { rule as momentOtherRecording } from './rules/moment-other-recording.ts';
import { rule as momentRemoved } from './rules/moment-removed.ts';
import { rule as moveBeforeFirstStep } from './rules/move-before-first-step.ts';
import { rule as moveRemoved } from './rules/move-removed.ts';
import { rule as musicGoesOn } from './rules/music-goes-on.ts';
import { rule as noEnding } from './rules/no-ending.ts';
import { rule as noGrid } from './rules/no-grid.ts';
import { rule as noWalkOn } from './rules/no-walk-on.ts';
import { rule as notReady } from './rules/not-ready.ts';
import { rule as oddPhrase } from './rules/odd-phrase.ts';
import { rule as oneMove } from './rules/one-move.ts';
import { rule as outfit } from './rules/outfit.ts';
import { rule as overlap } from './rules/overlap.ts';
import { rule as poseInSilence } from './rules/pose-in-silence.ts';
import { rule as poseKeptShort } from './rules/pose-kept-short.ts';
import { rule as poseTurned } from './rules/pose-turned.ts';
import { rule as preparation } from './rules/preparation.ts';
import { rule as room } from './rules/room.ts';
import { rule as runsOver } from './rules/runs-over.ts';
import { rule as saferForm } from './rules/safer-form.ts';
import { rule as seamBeat } from './rules/seam-beat.ts';
import { rule as seamInWord } from './rules/seam-in-word.ts';
import { rule as seamKey } from './rules/seam-key.ts';
import { rule as seamLevel } from './rules/seam-level.ts';
import { rule as seamOffBar } from './rules/seam-off-bar.ts';
import { rule as seamTempo } from './rules/seam-tempo.ts';
import { rule as seamTimbre } from './rules/seam-timbre.ts';
import { rule as sectionOffBar } from './rules/section-off-bar.ts';
import { rule as sectionsNotConfirmed } from './rules/sections-not-confirmed.ts';
import { rule as severalSeams } from './rules/several-seams.ts';
import { rule as showLeadShort } from './rules/show-lead-short.ts';
import { rule as showNoTime } from './rules/show-no-time.ts';
import { rule as showOutdated } from './rules/show-outdated.ts';
import { rule as showTooShort } from './rules/show-too-short.ts';
import { rule as signalLate } from './rules/signal-late.ts';
import { rule as signalMissing } from './rules/signal-missing.ts';
import { rule as signalRemoved } from './rules/signal-removed.ts';
import { rule as standStill } from './rules/stand-still.ts';
import { rule as startCount } from './rules/start-count.ts';
import { rule as surface } from './rules/surface.ts';
import { rule as tempo } from './rules/tempo.ts';
import { rule as tempoChanges } from './rules/tempo-changes.ts';
import { rule as tooManyMoves } from './rules/too-many-moves.ts';
import { rule as tooNear } from './rules/too-near.ts';
import { rule as unmarkedSection } from './rules/unmarked-section.ts';
import { rule as walkTooLong } from './rules/walk-too-long.ts';
import { rule as wayLonger } from './rules/way-longer.ts';
import { rule as wrongMetre } from './rules/wrong-metre.ts';

/** All rules, by id. */
export const rules: readonly Rule[] = [
  bandFade,
  basicUnsuited,
  cannotBeDanced,
  caution,
  copyDiffers,
  copyNotChecked,
  countsLeft,
  cueRemoved,
  dayPast,
  djNotAnswered,
  djNotAsked,
  djOlderVersion,
  djProposalOpen,
  endingOverlap,
  endingTooEarly,
  fadeLength,
  fadeOffPhrase,
  firstStepOffPhrase,
  firstStepRemoved,
  gridNotConfirmed,
  holdConnects,
  landingInTail,
  landingInaudible,
  landingOffTarget,
  landingRemoved,
  landingWeak,
  leavesFloor,
  lengthOpen,
  lengthOutside,
  liftWithoutSpotter,
  lostMove,
  momentOtherRecording,
  momentRemoved,
  moveBeforeFirstStep,
  moveRemoved,
  musicGoesOn,
  noEnding,
  noGrid,
  noWalkOn,
  notReady,
  oddPhrase,
  oneMove,
  outfit,
  overlap,
  poseInSilence,
  poseKeptShort,
  poseTurned,
  preparation,
  room,
  runsOver,
  saferForm,
  seamBeat,
  seamInWord,
  seamKey,
  seamLevel,
  seamOffBar,
  seamTempo,
  seamTimbre,
  sectionOffBar,
  sectionsNotConfirmed,
  severalSeams,
  showLeadShort,
  showNoTime,
  showOutdated,
  showTooShort,
  signalLate,
  signalMissing,
  signalRemoved,
  standStill,
  startCount,
  surface,
  tempo,
  tempoChanges,
  tooManyMoves,
  tooNear,
  unmarkedSection,
  walkTooLong,
  wayLonger,
  wrongMetre,
];
