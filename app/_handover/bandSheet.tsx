'use client';

import { djFacts } from '@/lib/core/agreed/dj.ts';
import { versionNumber } from '@/lib/core/agreed/version.ts';
import { clock } from '@/lib/core/units.ts';
import { useBoard } from '../_client/room.tsx';

/** A band plays: no file and no answer, but the form of the song as it was rehearsed. */
export function BandSheet() {
  const { board, score } = useBoard('board', 'score');
  const facts = djFacts(board, versionNumber(board));
  const { start, closingPose } = facts;
  const cues = [...board.plan.cues].sort((a, b) => a.at - b.at);
  const rows = (score?.sections ?? []).map((section, i, all) => ({
    ...section,
    bars: Math.round(section.counts / (score?.countsPerBar || 1)),
    words: cues.filter(
      ({ at }) => at >= section.record - 0.5 && at < (all[i + 1]?.record ?? Number.POSITIVE_INFINITY) - 0.5,
    ),
  }));
  return (
    <div className="max-w-3xl">
      <h2 className="text-3xl">For the band</h2>
      <p className="mt-1 text-soft">
        Rehearsed with: {facts.song}. {clock(facts.musicLength)} as the couple dance it.
      </p>
      <p className="mt-4 font-serif text-2xl">
        Start {start.signal ? `on ${start.signal}` : 'on their sign'}
        {start.lastWords ? `, after “${start.lastWords}”` : ''}.
      </p>
      <table className="mt-5 w-full text-left">
        <caption className="sr-only">The form of the song</caption>
        <thead>
          <tr className="border-b-2 border-ink text-sm text-soft">
            <th className="w-20 py-1 font-normal">about</th>
            <th className="font-normal">part</th>
            <th className="w-16 font-normal">bars</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.index} className="border-b border-rule align-baseline">
              <td className="py-2">{clock(row.floor)}</td>
              <td>
                <span className="font-serif text-xl">{row.name}</span>{' '}
                <span className="sung text-lg text-soft">{row.words.map(({ word }) => word).join(', ')}</span>
              </td>
              <td>{row.bars}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length === 0 ? <p className="mt-2 text-soft">The parts of the song are not marked yet.</p> : null}
      <p className="mt-5 font-serif text-2xl text-gold">
        {closingPose
          ? `Closing pose at about ${clock(closingPose.at)}${closingPose.on ? `, on “${closingPose.on}”` : ''}: hold it there ${closingPose.kept} seconds.`
          : facts.poseLeftOut
            ? 'The closing pose is left out by the present edit.'
            : 'The closing pose is not set yet.'}
      </p>
      <p className="mt-2">Last heard: {facts.lastHeard}.</p>
      <p className="mt-6 max-w-prose text-soft">
        A band plays as it breathes: the couple follow the words, not the clock. Please play the parts in this
        order and length, and tell the couple in Remarks what you do otherwise.
      </p>
    </div>
  );
}
