import type { Role } from '../../lib/core/areas/people.ts';
import type { House } from '../browser/house.ts';
import { pathOf } from '../codec/files/all.ts';
import type { Person } from './person.ts';

/** One of the main ways through the board, as a person goes it; throws where it does not lead to its end. */
export interface Way {
  name: string;
  go(person: Person, house: House): Promise<void>;
}

/** Seconds that the clock of the music says, by the bar at the page's foot. */
const CLOCK = `() => {
  const words = [...document.querySelectorAll('[aria-label=Music] p')].map((p) => p.textContent).find((text) => text.includes('Time in the music'));
  const found = /(-?)(\\d+):([\\d.]+)\\s*$/.exec(words ?? '');
  return found ? (found[1] === '-' ? -1 : 1) * (60 * Number(found[2]) + Number(found[3])) : null;
}`;
/** Several readings of the clock since this was first asked; it may go round a stretch again and again. */
const READINGS = `() => {
  window.engineClock ??= new Set();
  window.engineClock.add((${CLOCK})());
  return window.engineClock.size > 4;
}`;

/** The music sounds: its clock goes on, by more than one step. */
async function sounds(person: Person): Promise<void> {
  await person.sees({ role: 'button', name: 'Pause', within: 'Music' });
  await person.look('() => void delete window.engineClock');
  await person.until('the clock of the music goes on', READINGS);
}

const boardOf = (person: Person): Promise<string> =>
  person.until('an address of a board', `() => /board\\/([^/]+)/.exec(location.pathname)?.[1]`);
/** By the link that somebody was sent, to one of their pages. */
async function open(person: Person, house: House, role: Role, screen: string): Promise<void> {
  await person.open(house.demo[role]);
  await person.open(`${house.address}/board/${await boardOf(person)}/${screen}?as=${role}`);
  await person.sees({ role: 'text', name: 'saved' });
}
const ribbons = (name: string) =>
  `() => [...document.querySelectorAll('[id^="ribbon-"][role=button]')].filter((each) => each.ariaLabel?.toLowerCase().startsWith('${name}')).length`;

const THIRD_ROW = `() => document.querySelectorAll('li[data-row]')[2]?.querySelector('[role=slider]')?.getAttribute('aria-label')`;

export const ways: readonly Way[] = [
  {
    name: 'open a link',
    async go(person, house) {
      await open(person, house, 'couple', 'sheet');
      await person.until('a drawn sheet', `() => document.querySelectorAll('[id^="ribbon-"]').length > 3`);
    },
  },
  {
    name: 'place a move',
    async go(person) {
      const before = await person.look<number>(ribbons('underarm turn'));
      const move = { role: 'button', name: /^Take in hand.*Underarm turn/ } as const;
      await person.pressUntil({ role: 'button', name: 'Moves' }, move);
      await person.press(move);
      const row = await person.until<string>('the third phrase', THIRD_ROW);
      await person.press({ role: 'slider', name: row }, { x: 120, y: 5 });
      await person.until('one move more', `(before) => (${ribbons('underarm turn')})() > before`, before);
      await person.sees({ role: 'text', name: 'saved' });
    },
  },
  {
    name: 'hear it',
    async go(person) {
      await person.press({ role: 'button', name: /^Hear it from/ });
      await sounds(person);
      await person.press({ role: 'button', name: 'Pause', within: 'Music' });
    },
  },
  {
    name: 'practise with sound',
    async go(person, house) {
      await open(person, house, 'couple', 'practise');
      await person.sees({ role: 'text', name: /opens and plays without a network/ });
      await person.press({ role: 'button', name: 'Play', within: 'Music' });
      await sounds(person);
      await person.press({ role: 'button', name: 'slower', within: 'Music' });
      await person.sees({ role: 'text', name: /9\d % speed/ });
      await person.press({ role: 'button', name: 'Pause', within: 'Music' });
    },
  },
  {
    name: 'say yes',
    async go(person, house) {
      await open(person, house, 'dj', 'dj');
      await person.press({ role: 'text', name: 'I play the finished file' });
      // What comes while they look is shown first, and they press again.
      await person.pressUntil(
        { role: 'button', name: 'Yes, exactly this' },
        {
          role: 'text',
          name: /You said yes to exactly this/,
        },
      );
    },
  },
  {
    name: 'mark final',
    async go(person, house) {
      await open(person, house, 'planner', 'show');
      await person.pressUntil(
        { role: 'button', name: 'Mark it final' },
        { role: 'text', name: /This is final/ },
      );
    },
  },
  {
    name: 'bring an M4A',
    async go(person, house) {
      await person.open(house.address);
      await person.write('Code', house.code);
      await person.write('Your name', 'Marit');
      await person.write('Passphrase', house.passphrase);
      await person.write('The same passphrase again', house.passphrase);
      await person.press({ role: 'button', name: 'Open the studio' });
      await person.press({ role: 'button', name: 'New couple' });
      await person.write('One of them', 'Ilse');
      await person.write('The other', 'Teodor');
      await person.press({ role: 'button', name: 'Begin their board' });
      await person.choose('The song’s file', pathOf('song.m4a'));
      await person.sees({ role: 'text', name: /four beats a bar/, within: 'Put it right' });
      await person.sees({ role: 'text', name: 'saved' });
    },
  },
];

/** With the server gone: what was kept on the device opens, and plays. */
export const withoutNetwork: Way = {
  name: 'practise without a network',
  async go(person, house) {
    await person.open(`${house.address}/board/${await boardOf(person)}/practise?as=couple`);
    await person.sees({ role: 'text', name: /no connection/ });
    await person.press({ role: 'button', name: 'Play', within: 'Music' });
    await sounds(person);
  },
};
