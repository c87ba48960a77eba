import type { Board } from '../areas/board.ts';
import { digestOf } from '../edit/digest.ts';
import { currentDigest } from './played.ts';

/**
 * Digests of the different edits that the DJ was asked about, answered, or suggested with success, the first ones first. An asking
 * carries those before it, because the next one takes its place.
 */
export function spokenVersions({ plan, answer }: Board): string[] {
  const { asked, recording, replies } = plan;
  const answers = answer?.answers ?? [];
  const accepted = replies.flatMap(({ answer: id, accepted, at }) => {
    const proposal = accepted && answers.find((one) => one.id === id)?.proposal;
    return proposal && recording ? [{ at, digest: digestOf(proposal, recording) }] : [];
  });
  const spoken = [...answers, ...accepted, ...(asked ? [asked] : [])].sort((a, b) =>
    a.at < b.at ? -1 : a.at > b.at ? 1 : 0,
  );
  return [...new Set([...(asked?.before ?? []), ...spoken.map(({ digest }) => digest)])];
}

/**
 * The number of the present edit as people count them, from 1, among those that were spoken of; null while nobody has spoken of
 * it, so that two drafts are never taken for one version. A board that goes back to an earlier edit goes back to its number.
 */
export function versionNumber(board: Board): number | null {
  const present = spokenVersions(board).indexOf(currentDigest(board.plan) ?? '');
  return present === -1 ? null : present + 1;
}

export const versionWords = (version: number | null): string =>
  version === null ? 'a draft' : `version ${version}`;
