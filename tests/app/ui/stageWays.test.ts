import { describe, expect, it } from 'vitest';
import { screensOf } from '../../../app/_ui/roles.ts';
import { deskPlace, notePlace, wayOf } from '../../../app/_ui/stageWays.ts';
import { role } from '../../../lib/core/areas/people.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { owes } from '../../../lib/core/handover/owed.ts';
import { type Stage, stages } from '../../../lib/core/handover/stages.ts';
import { barAt, boardOf, cutOut, endingOn, libraryMove, micros, placed } from '../../kit/board.ts';

const board = boardOf(
  {},
  {
    moves: ['waltz-box', 'waltz-underarm', 'dip-three'].map(libraryMove),
    // A count late: something to settle.
    placed: [placed('p', 'waltz-underarm', barAt(24) + 2 / 3, 2)],
    ending: endingOn(barAt(108), ['dip-three']),
    walkOn: { ...usualWalkOn, firstStep: micros(barAt(8)) },
    edit: cutOut(barAt(48), barAt(88)),
  },
);
const findings = checkBoard(board, '2027-01-01' as never);
const all = stages(board, findings);
const named = (name: Stage['name']) => all.find((one) => one.name === name)!;

describe('where a stage leads', () => {
  it('to the note that says what is owed, for each who has the sheet', () => {
    const dance = named('dance');
    expect(dance.settled).toBe(false);
    const way = wayOf(dance, findings, 'couple')!;
    expect(way.screen).toBe('sheet');
    expect(way.place).toBe(notePlace(findings.find(({ id }) => dance.findings.includes(id))!.id));
  });
  it('to the part of the desk that gives what the dance lacks, where no note says it', () => {
    const stage: Stage = { ...named('dance'), findings: [] };
    const to = (words: string) => wayOf({ ...stage, words }, findings, 'instructor')!.place;
    expect(to('to begin')).toBe(deskPlace('moves'));
    expect(to('to put together')).toBe(deskPlace('proposal'));
    expect(to('lacks a first step and a closing pose')).toBe(deskPlace('walk-on'));
    expect(to('lacks a closing pose')).toBe(deskPlace('ending'));
  });
  it('to what one tap settles: the song’s grid, the final word', () => {
    const open = (name: Stage['name'], words: string): Stage => ({
      ...named(name),
      settled: false,
      words,
      findings: [],
    });
    const to = (name: Stage['name'], words: string) => wayOf(open(name, words), findings, 'instructor');
    expect(to('song', 'metre to confirm')).toEqual({ screen: 'song', place: 'heard' });
    expect(to('edit', 'to choose')).toEqual({ screen: 'song', place: 'shape' });
    expect(to('run of show', 'to mark final')).toEqual({ screen: 'show', place: 'final' });
    expect(to('run of show', 'lacks the time')).toEqual({ screen: 'show', place: '' });
  });
  it('nowhere that a role is not led to anyway', () => {
    for (const who of role.options)
      for (const stage of all) {
        const way = wayOf(stage, findings, who);
        if (way) expect(screensOf[who]).toContain(way.screen);
      }
    expect(wayOf(named('DJ'), findings, 'planner')?.screen ?? 'none').toBe('none');
    expect(wayOf(named('run of show'), findings, 'dj')?.screen).toBe('show');
  });
});

describe('who owes what', () => {
  it('is each their own', () => {
    const { owedBy } = named('dance');
    expect(role.options.filter((who) => owes(who, owedBy))).toEqual(['instructor', 'couple']);
    expect(role.options.filter((who) => owes(who, 'DJ'))).toEqual(['dj']);
    expect(role.options.filter((who) => owes(who, 'planner'))).toEqual(['planner']);
    expect(role.options.filter((who) => owes(who, null))).toEqual([]);
  });
});
