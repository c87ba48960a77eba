import type { CopyCheck } from '../areas/answer.ts';
import type { Board } from '../areas/board.ts';
import { songDuration } from '../dance/clock.ts';
import { compileEdit } from '../edit/compile.ts';
import type { FloorTime, RecordTime } from '../units.ts';
import { copyCheckOf } from './copy.ts';
import { type Plays, playedEdit, playsOf } from './played.ts';

/** Whose clock the DJ's times are in: what they play decides. */
export interface PlayClock {
  plays: Plays;
  /** As it is named beside the times. */
  name: 'the finished file' | 'your own copy' | 'the recording';
  /** Seconds on that clock; null where the finished file leaves the moment out. */
  ofRecord(at: RecordTime): number | null;
  ofFloor(at: FloorTime): number;
}

/** Checks of a copy after which its clock is known. */
const known = (copy: CopyCheck | null): copy is CopyCheck =>
  copy?.verdict === 'same' || copy?.verdict === 'shifted';

/**
 * The clock of what the DJ said they play, else of the finished file. An own copy's is the recording's, stretched by the
 * ratio and shifted by the offset that the copy check found; unchecked, it is the recording's.
 */
export function playClock(board: Board, plays: Plays | null): PlayClock {
  const { plan } = board;
  const compiled = compileEdit(playedEdit(plan), { duration: songDuration(plan) });
  const chosen = plays ?? playsOf(board) ?? 'finished file';
  if (chosen === 'finished file') {
    return { plays: chosen, name: 'the finished file', ofRecord: compiled.toFloor, ofFloor: (at) => at };
  }
  const copy = copyCheckOf(board);
  const { ratio, offsetMs } = known(copy) ? copy : { ratio: 1, offsetMs: 0 };
  const ofRecord = (at: RecordTime) => Math.max(0, at * ratio + offsetMs / 1000);
  return {
    plays: chosen,
    name: known(copy) ? 'your own copy' : 'the recording',
    ofRecord,
    ofFloor: (at) => ofRecord(compiled.toRecord(at)),
  };
}
