import { type Driver, KEYS } from './driver.ts';

/** Milliseconds until what should be there counts as missing; hearing a song takes most of it. */
const PATIENCE = 90_000;
/** Milliseconds after which a press is tried once more. */
const A_WHILE = 6000;
/** Milliseconds between two looks: a page that is asked all the time gets no work done. */
const LOOK = 100;

/** What is looked for: a role and a name as people with a screen reader meet them; a string is the whole name. */
export interface Wanted {
  role: 'button' | 'link' | 'slider' | 'region' | 'text' | 'field';
  name: string | RegExp;
  /** Only inside the region of that name. */
  within?: string | RegExp;
}

/** A person at a browser: sees what is on the page, presses it, types. Waits for what is not there yet. */
export class Person {
  constructor(private readonly driver: Driver) {}

  open = (address: string): Promise<void> => this.driver.open(address);
  look = <T>(source: string, ...given: unknown[]): Promise<T> => this.driver.run(source, given) as Promise<T>;
  type = (keys: string): Promise<void> => this.driver.type(keys);

  /** Waits until the function of the page gives something, and gives that. */
  async until<T>(what: string, source: string, given: unknown = null, patience = PATIENCE): Promise<T> {
    const began = Date.now();
    let last: unknown = null;
    while (Date.now() - began < patience) {
      const seen = await this.look<T | null>(source, given).catch((error) => {
        // Between two pages there is none to look at.
        last = error;
        return null;
      });
      if (seen !== null && seen !== undefined && seen !== false) return seen;
      await new Promise((resolve) => setTimeout(resolve, LOOK));
    }
    const words = await this.look<string>(
      '() => document.body.innerText.replace(/\\s+/g, " ").slice(0, 300)',
    ).catch(() => '');
    throw new Error(
      `${what}: not seen in ${patience / 1000} s${last ? ` (${last})` : ''}. The page says: ${words}`,
    );
  }

  sees = (wanted: Wanted): Promise<Place> => this.until(told(wanted), FIND, asked(wanted));

  /**
   * Presses what is wanted, once it is there, can be pressed and lies still. What moved away just then is pressed once more.
   * @param at a place in it, pixels from its corner; its middle by itself
   */
  async press(wanted: Wanted, at?: { x: number; y: number }): Promise<void> {
    const finger = { ...asked(wanted), at: at ?? null, pressed: true };
    for (let tries = 0; tries < 5; tries++) {
      const { x, y, width, height } = await this.until<Place>(told(wanted), FIND, finger);
      await this.driver.press(x + (at?.x ?? width / 2), y + (at?.y ?? height / 2));
      // Where it has led to another page, there is nothing to ask any more.
      if ((await this.look(MISSED).catch(() => false)) !== true) return;
    }
    throw new Error(`${told(wanted)}: it moves away whenever it is pressed`);
  }

  /** Presses, and once more where what should follow does not for a while: it may have moved away under the finger. */
  async pressUntil(wanted: Wanted, then: Wanted): Promise<void> {
    await this.press(wanted);
    const there = await this.until('', FIND, asked(then), A_WHILE).catch(() => null);
    if (there !== null) return;
    await this.press(wanted);
    await this.sees(then);
  }

  /** Writes into a field, over what stands there, and leaves it. */
  async write(name: string | RegExp, words: string): Promise<void> {
    await this.sees({ role: 'field', name });
    await this.look(SELECT, asked({ role: 'field', name }));
    await this.driver.type(words + KEYS.tab);
  }

  /** Gives a file to the field of that name, which may be out of sight. */
  async choose(name: string, path: string): Promise<void> {
    const selector = `input[type=file][aria-label="${name}"]`;
    await this.until(name, '(selector) => document.querySelector(selector) !== null', selector);
    await this.driver.choose(selector, path);
  }
}

export interface Place {
  x: number;
  y: number;
  width: number;
  height: number;
  name: string;
}

const told = ({ role, name }: Wanted) => `${role} ${name}`;
const pattern = (name: string | RegExp) =>
  typeof name === 'string'
    ? { source: `^${name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`, flags: '' }
    : { source: name.source, flags: name.flags };
const asked = ({ role, name, within }: Wanted) => ({
  role,
  name: pattern(name),
  within: within === undefined ? null : pattern(within),
});

/**
 * Runs in the page: the first element of a role with a name, by its label or its words. It is brought into sight, and given once it
 * lies still, shows and is what a press at its middle would meet.
 */
const FIND_ELEMENT = `(wanted) => {
  const SELECTORS = {
    button: 'button, [role=button], summary, input[type=radio], input[type=checkbox], [role=radio]',
    link: 'a[href]',
    slider: '[role=slider], input[type=range]',
    region: 'section, [role=region], [role=dialog], nav, header',
    field: 'input, textarea, select',
    text: 'p, dd, li, h1, h2, h3, span, div, label, legend, summary, strong, output',
  };
  const words = (element) => {
    const heard = element.cloneNode(true);
    for (const silent of heard.querySelectorAll('[aria-hidden=true], option')) silent.remove();
    return (heard.textContent ?? '').replace(/\\s+/g, ' ').trim();
  };
  const nameOf = (element) => {
    const labelled = (element.getAttribute('aria-labelledby') ?? '').split(' ').map((id) => document.getElementById(id));
    if (labelled[0]) return labelled.map((each) => (each ? words(each) : '')).join(' ');
    const label = element.getAttribute('aria-label');
    if (label !== null) return label;
    const own = [...(element.labels ?? [])].map(words);
    return own.length ? own.join(' ') : words(element);
  };
  const made = ({ source, flags }) => new RegExp(source, flags);
  const name = made(wanted.name);
  let rooms = [document];
  if (wanted.within) {
    const inside = made(wanted.within);
    rooms = [...document.querySelectorAll(SELECTORS.region)].filter((each) => inside.test(nameOf(each)));
  }
  for (const room of rooms)
    for (const element of room.querySelectorAll(SELECTORS[wanted.role])) {
      if (wanted.role === 'text' && [...element.children].some((child) => name.test(words(child)))) continue;
      if (name.test(wanted.role === 'text' ? words(element) : nameOf(element)) && element.getClientRects().length > 0) return element;
    }
  return null;
}`;
const FIND = `async (wanted) => {
  const element = (${FIND_ELEMENT})(wanted);
  if (!element || element.disabled || element.getAttribute('aria-disabled') === 'true') return null;
  const box = () => element.getBoundingClientRect();
  const inside = ({ top, bottom }) => top >= 0 && bottom <= innerHeight;
  if (!inside(box())) element.scrollIntoView({ block: 'center', behavior: 'instant' });
  const before = box();
  await new Promise((resolve) => setTimeout(resolve, 60));
  const { x, y, width, height } = box();
  if (x !== before.x || y !== before.y) return null;
  const met = document.elementFromPoint(x + (wanted.at?.x ?? width / 2), y + (wanted.at?.y ?? height / 2));
  const labels = [...(element.labels ?? [])];
  if (wanted.pressed && !element.contains(met) && !labels.some((each) => each.contains(met))) {
    element.scrollIntoView({ block: 'center', behavior: 'instant' });
    return null;
  }
  if (wanted.pressed) {
    window.engineMissed = true;
    for (const each of [element, ...labels])
      each.addEventListener('pointerdown', () => { window.engineMissed = false; }, { capture: true, once: true });
  }
  return { x, y, width, height, name: element.getAttribute('aria-label') ?? element.textContent };
}`;
const MISSED = '() => window.engineMissed';
const SELECT = `(wanted) => {
  const element = (${FIND_ELEMENT})(wanted);
  element.focus();
  element.select?.();
}`;
