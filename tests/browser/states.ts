import { type Browser, type BrowserContext, expect, type Page } from '@playwright/test';
import { screensOf } from '../../app/_ui/roles.ts';
import type { Answer } from '../../lib/core/areas/answer.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import type { Plan } from '../../lib/core/areas/plan.ts';
import { recordTime, wholeMicros } from '../../lib/core/units.ts';
import { closings } from '../../lib/protocol/close.ts';
import { AGAIN, changeAnyway, enterStudio, type House, isAtRest, toSheet } from './house.ts';
import { longest, scripts, type Written, widest } from './names.ts';

/** Where states are shown: a house, and its instructor at work in a browser of their own. */
export interface Stage {
  house: House;
  instructor: Page;
  /** A new board without anything but two names; its id. */
  empty(): Promise<string>;
  /** The demo's board once more, with other names, words and song title, and whatever else of its plan and of what the DJ said; its id. */
  written(
    words: Written,
    more?: Partial<Plan> | ((plan: Plan) => Partial<Plan>),
    answer?: Partial<Answer>,
  ): Promise<string>;
  delete(board: string): Promise<void>;
  linkFor(board: string, role: Role): Promise<string>;
}

/** A state that a page may be in. */
export interface State {
  name: string;
  /** Brings a new page into it. */
  show(page: Page, stage: Stage): Promise<void>;
  /** It leaves nothing behind and needs no first visit: such states are looked at in one browser, one after the other. */
  isPlain?: true;
  /** What the browser itself then notes in its console. */
  noted?: RegExp;
}

/**
 * What the browser notes where there is no network: of its own requests, of those that the service worker answers, and of the
 * worker's own program, which it looks for by itself soon after a page is opened.
 */
export const OFFLINE =
  /ERR_INTERNET_DISCONNECTED|ERR_FAILED|Failed to load resource|unknown error occurred when fetching the script/;

const boardOf = (page: Page): string => new URL(page.url()).pathname.split('/')[2]!;

export async function openStage(browser: Browser, house: House): Promise<Stage> {
  const context = await browser.newContext();
  const instructor = await context.newPage();
  await enterStudio(instructor, house);
  await instructor.goto(house.demo.instructor);
  const demo = boardOf(instructor);
  const send = async (path: string, data: unknown) => {
    const headers = { origin: house.address };
    const answer = await instructor.request.post(house.address + path, { data, headers, ...AGAIN });
    expect(answer.status(), await answer.text()).toBeLessThan(300);
    return answer.json();
  };
  return {
    house,
    instructor,
    empty: async () =>
      (await send('/api/boards', { one: 'Runa', other: 'Casimir', date: null, venue: '' })).id,
    async written(words, more = {}, answer = {}) {
      const paper = `${house.address}/api/boards/${demo}/papers/board.json?as=instructor`;
      const file = await (await instructor.request.get(paper, AGAIN)).json();
      const changed = typeof more === 'function' ? more(file.plan) : more;
      const said = { ...file, answer: { ...file.answer, ...answer } };
      return (await send('/api/boards/import', reworded(said, words, changed))).id;
    },
    async delete(board) {
      const headers = { origin: house.address };
      const address = `${house.address}/api/boards/${board}?as=instructor`;
      await instructor.request.delete(address, { headers, ...AGAIN });
    },
    linkFor: async (board, role) =>
      (await send(`/api/boards/${board}/links?as=instructor`, { role, days: null })).url,
  };
}

/** The same board with the words of other people. */
function reworded<B extends Pick<Board, 'plan'>>(file: B, words: Written, more: Partial<Plan>): B {
  const { plan } = file;
  return {
    ...file,
    plan: {
      ...plan,
      couple: plan.couple && {
        one: { ...plan.couple.one, name: words.one },
        other: { ...plan.couple.other, name: words.other },
      },
      venue: words.venue,
      title: words.song,
      recordingWords: plan.recordingWords && { ...plan.recordingWords, title: words.song },
      cues: plan.cues.map((cue, i) => (i % 2 === 0 ? { ...cue, word: words.cue } : cue)),
      moves: plan.moves.map((move, i) => (i % 2 === 0 ? { ...move, name: words.move } : move)),
      ...more,
    },
  };
}

const status = (page: Page) => page.getByRole('banner').getByRole('status');
const alert = (page: Page) => page.getByRole('main').getByRole('alert');

export async function join(
  page: Page,
  stage: Stage,
  board: string,
  role: Role,
  screen?: string,
): Promise<void> {
  const link = await stage.linkFor(board, role);
  // The link leads to the role's first page; what is on another need not wait for that.
  await page.request.get(link, { headers: { accept: 'text/html' }, maxRedirects: 0, ...AGAIN });
  await page.goto(`${stage.house.address}/board/${board}${screen ? `/${screen}` : ''}?as=${role}`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  if (screen !== 'night') await isAtRest(page);
}

const empty: State[] = screensOf.instructor.map((screen) => ({
  name: `empty-${screen}`,
  isPlain: true,
  show: async (page, stage) => join(page, stage, await stage.empty(), 'couple', screen),
}));

/** What a couple's link opens on a board without anything. */
const emptyHome: State = {
  name: 'empty-home',
  isPlain: true,
  show: async (page, stage) => join(page, stage, await stage.empty(), 'couple', 'home'),
};

const emptyForDj: State[] = screensOf.dj.map((screen) => ({
  name: `empty-${screen}-for-dj`,
  isPlain: true,
  show: async (page, stage) => join(page, stage, await stage.empty(), 'dj', screen),
}));

/** Where names stand, and who reads them there. */
const named: [string, Role][] = [
  ['home', 'couple'],
  ['sheet', 'couple'],
  ['lessons', 'couple'],
  ['dj', 'dj'],
  ['show', 'planner'],
  ['night', 'couple'],
  ['links', 'couple'],
];

const writtenStates = (name: string, words: Written, screens = named): State[] =>
  screens.map(([screen, role]) => ({
    name: `${name}-${screen}`,
    isPlain: true,
    // A couple's home makes its music ready, and a board that came as a file has none yet.
    ...(screen === 'home' ? { noted: /404.*\/audio\// } : {}),
    show: async (page, stage) => join(page, stage, await stage.written(words), role, screen),
  }));

const alphabets = Object.entries(scripts).flatMap(([script, words]) =>
  // All screens of a script that runs from the right; of the others one with names, title and words.
  writtenStates(script, words, script === 'arabic' ? named : [['dj', 'dj']]),
);

const studio: State = {
  name: 'studio-all-alphabets',
  async show(page, stage) {
    for (const words of [longest, ...Object.values(scripts)]) await stage.written(words);
    await stage.empty();
    await page.context().addCookies(await stage.instructor.context().cookies());
    await page.goto(stage.house.address);
    await page.getByRole('button', { name: 'New couple' }).waitFor();
  },
};

const hold = (context: BrowserContext) => context.routeWebSocket(/\/sync\//, () => {});

/** The server closes every connection with this word of its own, after the page has opened the board. */
export const closed = (
  word: keyof typeof closings,
  after: (page: Page) => Promise<void>,
  screen = 'sheet',
): State['show'] =>
  async function show(page, stage) {
    let end = false;
    const lines = new Set<() => void>();
    await page.context().routeWebSocket(/\/sync\//, (ws) => {
      const close = () => void ws.close({ code: closings[word].code, reason: closings[word].sentence });
      if (end) return close();
      ws.connectToServer();
      lines.add(close);
    });
    await join(page, stage, await stage.written(scripts.greek!), 'couple', screen);
    end = true;
    for (const close of lines) close();
    await after(page);
  };

const waiting: State[] = [
  {
    name: 'opening',
    async show(page, { house }) {
      await hold(page.context());
      await toSheet(page, house);
      await expect(page.getByText('Opening the board…')).toBeVisible();
    },
  },
  {
    name: 'opening-slowly',
    async show(page, { house }) {
      // None of its scripts arrives: the page as it was served has to say it.
      await page.route('**/*.js', () => undefined);
      await page.goto(house.demo.couple, { waitUntil: 'commit' });
      const words = page.getByText(/takes longer than it should/);
      await expect(page.getByText('Opening the board…')).toBeVisible();
      await expect(words).toBeHidden();
      await words.evaluate((element) => {
        const [clock] = element.closest('.opening')?.getAnimations() ?? [];
        clock?.finish();
      });
      await expect(words).toBeVisible();
    },
  },
  {
    name: 'offline',
    async show(page, stage) {
      await join(page, stage, await stage.written(scripts.greek!), 'couple', 'remarks');
      await page.context().setOffline(true);
      await expect(status(page)).toHaveText('no connection: kept on this device');
    },
    noted: OFFLINE,
  },
];

const chosen: State = {
  name: 'song-proposals',
  async show(page, { house }) {
    await toSheet(page, house);
    await page.getByRole('link', { name: 'Song', exact: true }).click();
    await page.getByRole('button', { name: 'Propose edits' }).click();
    await expect(page.getByRole('list', { name: 'Proposed edits, the best first' })).toBeVisible();
  },
};

/** Of what was heard, people have confirmed nothing, with the bars unsure; or a part. */
const heard: State[] = (
  [
    ['nobody', { metre: null, beats: null, bars: null }, 0],
    ['in-part', { metre: 'Rosa', beats: 'Rosa', bars: null }, 7],
  ] as const
).map(([name, confirmedBy, sections]) => ({
  name: `song-confirmed-by-${name}`,
  async show(page, stage) {
    const board = await stage.written(scripts.greek!, (plan) => ({
      grid: plan.grid && { ...plan.grid, confirmedBy },
      sections: plan.sections.map((one, i) => ({ ...one, confirmedBy: i < sections ? 'Rosa' : null })),
      heard: plan.heard && { ...plan.heard, confidence: { ...plan.heard.confidence, bars: 0.6 } },
    }));
    await join(page, stage, board, 'couple', 'song');
    await expect(page.getByRole('button', { name: 'All of this is right' })).toBeVisible();
  },
}));

/** The edit leaves out the first step, and with it what was to be danced there. */
const withoutFirstStep: State = {
  name: 'first-step-left-out',
  async show(page, stage) {
    const board = await stage.written(scripts.greek!, (plan) => ({
      edit: plan.edit && { ...plan.edit, start: recordTime(wholeMicros(plan.walkOn!.firstStep! + 1)) },
    }));
    await join(page, stage, board, 'couple', 'sheet');
    // On a phone it is folded.
    await expect(page.getByText('lacks a first step')).toBeAttached();
  },
};

const failing: State[] = [
  {
    name: 'storing-failed',
    show: closed('failed', async (page) => {
      await expect(page.getByText(closings.failed.sentence)).toBeVisible();
    }),
    noted: /WebSocket/,
  },
  {
    name: 'server-restarting',
    show: closed('stopping', async (page) => {
      await expect(page.getByText(closings.stopping.sentence)).toBeVisible();
    }),
    noted: /WebSocket/,
  },
  {
    name: 'links-failed',
    async show(page, stage) {
      await page.route('**/api/boards/*/links*', (route) => route.fulfill({ status: 500 }));
      await join(page, stage, await stage.written(scripts.greek!), 'couple', 'links');
      await expect(alert(page)).toBeVisible();
    },
    noted: /500/,
  },
  {
    name: 'new-couple-failed',
    async show(page, { house, instructor }) {
      await page.context().addCookies(await instructor.context().cookies());
      await page.goto(house.address);
      await page.route('**/api/boards', (route) => route.fulfill({ status: 500 }));
      await page.getByRole('button', { name: 'New couple' }).click();
      await page.getByLabel('One of them').fill('Runa');
      await page.getByLabel('The other', { exact: true }).fill('Casimir');
      await page.getByRole('button', { name: 'Begin their board' }).click();
      await expect(alert(page)).toBeVisible();
    },
    noted: /500/,
  },
  {
    name: 'wrong-passphrase',
    async show(page, { house }) {
      await page.goto(house.address);
      await page.getByLabel('Passphrase').fill('not this one at all');
      await page.getByRole('button', { name: 'Sign in' }).click();
      await expect(alert(page)).toBeVisible();
    },
    noted: /40[0-9]/,
  },
];

const refused: State[] = [
  ...(['lessons', 'song', 'links', 'practise', 'night'] as const).map(
    (screen): State => ({
      name: `not-for-dj-${screen}`,
      isPlain: true,
      async show(page, stage) {
        await page.goto(stage.house.demo.dj);
        await page.goto(`${stage.house.address}/board/${boardOf(page)}/${screen}?as=dj`);
        await page.getByRole('heading', { level: 1 }).waitFor();
      },
    }),
  ),
  {
    name: 'another-role',
    async show(page, { house }) {
      await page.goto(house.demo.dj);
      await page.goto(`${house.address}/board/${boardOf(page)}/sheet?as=instructor`);
      await expect(alert(page)).toContainText('holds no link to that page');
    },
  },
  {
    name: 'link-ended',
    show: closed('ended', async (page) => {
      await expect(alert(page)).toContainText(closings.ended.sentence);
    }),
  },
  {
    name: 'link-taken-back',
    show: closed('revoked', async (page) => {
      await expect(alert(page).first()).toContainText(closings.revoked.sentence);
    }),
  },
  {
    name: 'newer-version',
    show: closed('reload', async (page) => {
      await expect(alert(page)).toContainText(closings.reload.sentence);
    }),
  },
  {
    name: 'change-refused',
    show: closed('invalid', async (page) => {
      await expect(alert(page)).toContainText(closings.invalid.sentence);
    }),
  },
  {
    name: 'board-deleted',
    async show(page, stage) {
      const board = await stage.written(scripts.greek!);
      await join(page, stage, board, 'couple', 'remarks');
      await stage.delete(board);
      await expect(alert(page).first()).toContainText(closings.gone.sentence);
    },
  },
  {
    name: 'lesson-deleted',
    async show(page, stage) {
      const board = await stage.empty();
      await join(page, stage, board, 'couple', 'lessons');
      await page.getByRole('button', { name: 'New lesson' }).click();
      await expect(page.getByLabel('Title')).toBeVisible();
      await expect(status(page)).toHaveText('saved');
      const other = await page.context().newPage();
      await other.goto(page.url());
      await other.getByRole('button', { name: 'Delete this lesson' }).click();
      await expect(page.getByText('was deleted by somebody else')).toBeVisible();
      await other.close();
    },
  },
  {
    name: 'nothing-undone',
    async show(page, stage) {
      const board = await stage.written(scripts.greek!);
      await join(page, stage, board, 'couple', 'sheet');
      const first = (on: Page) => on.locator('[id^="ribbon-"]').and(on.getByRole('button')).first();
      const moved = async (on: Page, key: string) => {
        const move = first(on);
        const before = (await move.getAttribute('aria-label'))!;
        await move.focus();
        await on.keyboard.press(key);
        await expect(move).not.toHaveAttribute('aria-label', before);
        return (await move.getAttribute('aria-label'))!;
      };
      const mine = await moved(page, 'Shift+ArrowRight');
      const other = await page.context().newPage();
      await other.goto(page.url());
      await expect(first(other)).toHaveAttribute('aria-label', mine);
      const theirs = await moved(other, 'Shift+ArrowRight');
      await expect(first(page)).toHaveAttribute('aria-label', theirs);
      await other.close();
      await page.keyboard.press('Control+z');
      await expect(page.getByText('Not undone: this was changed elsewhere')).toBeVisible();
    },
  },
];

/** Somebody else changes the venue, and this page has read it. @param agreed the DJ has said yes to the one before */
export async function moveTheParty(
  page: Page,
  stage: Stage,
  board: string,
  venue: string,
  agreed = false,
): Promise<void> {
  const other = await page.context().newPage();
  await join(other, stage, board, 'couple', 'show');
  const field = other.getByLabel('Venue');
  await field.fill(venue);
  await field.blur();
  if (agreed) await changeAnyway(other);
  await expect(page.getByRole('banner')).toContainText(venue);
  await other.close();
}

const copy = {
  verdict: 'cut differently' as const,
  offsetMs: 0,
  ratio: 1,
  confidence: 0.9,
  at: '2026-11-20T10:00:00.000Z' as const,
};
const sayYes = (page: Page) => page.getByRole('button', { name: 'Yes, exactly this' }).click();

/** Where the DJ's word stands, and what was not on the screen when it was given. */
const saying: State[] = [
  {
    name: 'dj-changed-after-yes',
    async show(page, stage) {
      const board = await stage.written(scripts.greek!);
      await join(page, stage, board, 'dj', 'dj');
      await page.getByText('I play the finished file').click();
      await sayYes(page);
      await moveTheParty(page, stage, board, 'Tidemill Loft, second floor', true);
      await expect(page.getByRole('button', { name: 'Yes, to this too' })).toBeVisible();
    },
  },
  {
    name: 'dj-changed-while-looking',
    async show(page, stage) {
      const board = await stage.written(scripts.greek!);
      await join(page, stage, board, 'dj', 'dj');
      await page.getByText('I play the finished file').click();
      await moveTheParty(page, stage, board, 'Tidemill Loft, second floor');
      await sayYes(page);
      await expect(page.getByText('This changed while you looked')).toBeVisible();
    },
  },
  {
    name: 'dj-copy-does-not-fit',
    async show(page, stage) {
      const board = await stage.written(scripts.greek!, {}, { copy });
      await join(page, stage, board, 'dj', 'dj');
      await page.getByText('I play my own copy').click();
      await sayYes(page);
      await expect(page.getByText('But your copy is cut differently')).toBeVisible();
    },
  },
  {
    name: 'dj-check-has-not-ended',
    async show(page, stage) {
      const checking = { state: 'begun' as const, at: copy.at };
      const board = await stage.written(scripts.greek!, {}, { checking, plays: 'own copy' });
      await join(page, stage, board, 'dj', 'dj');
      await expect(page.getByText('has not ended')).toBeVisible();
    },
  },
  {
    name: 'show-length-open',
    async show(page, stage) {
      const board = await stage.written(scripts.greek!, {}, { copy, plays: 'own copy' });
      await join(page, stage, board, 'planner', 'show');
      await expect(page.getByText('How long it takes is open')).toBeVisible();
    },
  },
  {
    name: 'show-changed-while-looking',
    async show(page, stage) {
      const board = await stage.written(scripts.greek!);
      await join(page, stage, board, 'planner', 'show');
      await moveTheParty(page, stage, board, 'Tidemill Loft, second floor');
      await page.getByRole('button', { name: 'Mark it final' }).click();
      await expect(page.getByText('This changed while you looked')).toBeVisible();
    },
  },
];

export const states: State[] = [
  ...saying,
  ...empty,
  emptyHome,
  ...emptyForDj,
  ...waiting,
  chosen,
  ...heard,
  withoutFirstStep,
  ...failing,
  ...refused,
  ...writtenStates('long', longest),
  ...writtenStates('wide', widest, [
    ['sheet', 'couple'],
    ['night', 'couple'],
  ]),
  ...alphabets,
  studio,
];
