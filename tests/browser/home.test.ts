import { expect, type Locator, type Page } from '@playwright/test';
import { standardMoves } from '../../lib/core/dance/library/standard.ts';
import { readAcross } from '../../lib/core/handover/danced.ts';
import { enterStudio, isAtRest, test } from './house.ts';
import { scripts } from './names.ts';
import { join, openStage } from './states.ts';

declare global {
  interface Window {
    /** Every sound that the page has made. */
    sounds: HTMLAudioElement[];
  }
}

test.use({ changes: 'home' });

/** What the page plays is in the test's reach. */
async function hear(page: Page): Promise<void> {
  await page.addInitScript(() => {
    window.sounds = [];
    const { Audio } = window;
    window.Audio = new Proxy(Audio, {
      construct(target, words) {
        const element = Reflect.construct(target, words) as HTMLAudioElement;
        window.sounds.push(element);
        return element;
      },
    });
  });
}

/** How far the sound is that plays now, in seconds; 0 while none does. */
const sounding = (page: Page): Promise<number> =>
  page.evaluate(() =>
    Math.max(0, ...window.sounds.filter(({ paused }) => !paused).map(({ currentTime }) => currentTime)),
  );
const isSounding = async (page: Page): Promise<void> => {
  await expect.poll(() => sounding(page), { timeout: 60_000 }).toBeGreaterThan(0.5);
};

const home = (page: Page) => page.getByRole('heading', { name: 'Homework' });
const addressOf = (page: Page, screen: string): string => page.url().replace(/\/[a-z]+\?/, `/${screen}?`);

test('open the link and practise: two gestures', async ({ browser, house }) => {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true });
  const page = await context.newPage();
  await hear(page);
  let gestures = 0;
  const act = async (action: Promise<unknown>) => {
    gestures += 1;
    await action;
  };
  await act(page.goto(house.demo.couple));
  const practise = page.getByRole('button', { name: /^Practise \d/ });
  await expect(practise).toBeInViewport();
  await act(practise.tap());
  await isSounding(page);
  const screen = page.getByRole('dialog', { name: 'Follow the music' });
  await expect(screen.getByRole('region', { name: 'Now' })).toBeVisible();
  await expect(screen.getByRole('region', { name: 'Next' })).toContainText(/in \d+ (bars|bar|counts)/);
  console.log(`home: ${gestures} gestures from the link to practising with sound`);
  expect(gestures).toBe(2);
  await context.close();
});

test('in ten seconds a newcomer sees what to do: all of it is on the first screen of a phone', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  await page.goto(house.demo.couple);
  await isAtRest(page);
  await expect(page.getByRole('button', { name: /^Practise \d/ })).toBeInViewport({ ratio: 1 });
  await expect(home(page)).toBeInViewport({ ratio: 1 });
  await expect(page.getByRole('checkbox').first()).toBeInViewport({ ratio: 1 });
  await context.close();
});

/**
 * A phone of 390 x 844 CSS px whose screen measures 6 inches from corner to corner: 152.4 mm on 929.7 px, which is .164 mm a px.
 * ISO 9241-303, 5.5.4 (from memory; as ISO 9241-3 before it): letters of at least 16 minutes of arc, 20 to 22 preferred; 10 are usable
 * where the contrast is high (IBM, "Healthy computing: character size"). NUREG-0700 1.3.1-4: height = 6.283 x distance x minutes / 21600.
 */
const MM_A_PX = 152.4 / Math.hypot(390, 844);
const DISTANCE = 3000;
const minutesOf = (px: number): number => (px * MM_A_PX * 21_600) / (6.283 * DISTANCE);
/** The count and the names; and how far ahead the next is, of which a sound eye tells letters of 5 minutes apart (Snellen, from memory). */
const [AT_ONCE, BY_SHAPE] = [16, 8];
/** Of the demo's dance. */
const PHRASES = 11;
/** Shares of its own height by which a round letter, U or 3, reaches over those with a flat end. */
const OVERSHOOT = 0.04;

/** What is read from afar, and the first letter of it, as the page says that it lies and is set. */
interface Lettered {
  mark: string;
  first: string;
  /** Px from the window's corner. */
  box: { x: number; y: number; width: number; height: number };
  /** Px that a capital, or a figure, of this size has by the browser's own measure. */
  capital: number;
}

const lettersOf = (dialog: Locator): Promise<Lettered[]> =>
  dialog.evaluate(async (screen) => {
    await document.fonts.ready;
    const pen = document.createElement('canvas').getContext('2d')!;
    const marked = [
      ...screen.querySelectorAll<HTMLElement>('[data-count],[data-now],[data-when],[data-next]'),
    ];
    return marked.map((one) => {
      const { fontStyle, fontWeight, fontSize, fontFamily } = getComputedStyle(one);
      pen.font = `${fontStyle} ${fontWeight} ${fontSize} ${fontFamily}`;
      const mark = Object.keys(one.dataset)[0]!;
      const text = [...one.childNodes].find((node) => node.nodeType === Node.TEXT_NODE)!;
      const range = document.createRange();
      range.setStart(text, 0);
      range.setEnd(text, 1);
      const { x, y, width, height } = range.getBoundingClientRect();
      return {
        mark,
        first: text.textContent![0]!,
        box: { x, y, width, height },
        capital: pen.measureText(mark === 'count' ? '1' : 'H').actualBoundingBoxAscent,
      };
    });
  });

/** Px from the top of a letter's ink to its foot, in a picture of the screen: light on dark, and the tallest that has no gap. */
async function drawn(page: Page, { x, y, width, height }: Lettered['box']): Promise<number> {
  const clip = { x, y: Math.max(0, y), width, height };
  const picture = await page.screenshot({ clip });
  return page.evaluate(
    async ({ bytes, wide }) => {
      const image = await createImageBitmap(new Blob([Uint8Array.from(bytes)], { type: 'image/png' }));
      const pen = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
      pen.drawImage(image, 0, 0);
      const { data } = pen.getImageData(0, 0, image.width, image.height);
      const isInked = (row: number) =>
        Array.from({ length: image.width }, (_, i) => data[4 * (row * image.width + i)]!).some(
          (red) => red > 128,
        );
      const rows = Array.from({ length: image.height }, (_, row) => (isInked(row) ? '#' : ' ')).join('');
      return (Math.max(...rows.split(' ').map((run) => run.length)) * wide) / image.width;
    },
    { bytes: [...picture], wide: width },
  );
}

for (const [width, height] of [
  [390, 844],
  [844, 390],
] as const)
  test(`now and next are read from three metres at ${width} x ${height}`, async ({ browser, house }) => {
    const context = await browser.newContext({ viewport: { width, height }, deviceScaleFactor: 2 });
    const page = await context.newPage();
    await page.goto(house.demo.couple);
    await page.goto(addressOf(page, 'practise'));
    await isAtRest(page);
    const on = page.getByRole('button', { name: 'a phrase on' });
    const fill = page.getByRole('button', { name: 'Fill the screen' });
    const screen = page.getByRole('dialog', { name: 'Follow the music' });
    /** The smallest of each, over the whole dance, phrase by phrase. */
    const least: Record<string, number> = {};
    const seen = new Set<string>();
    await on.click();
    for (let phrase = 0; phrase < PHRASES; phrase++) {
      await fill.click();
      await expect(screen.locator('[data-now]')).toBeVisible();
      for (const { mark, first, box, capital } of await lettersOf(screen)) {
        least[mark] = Math.min(least[mark] ?? Number.POSITIVE_INFINITY, minutesOf(capital));
        // What begins with a capital, or a figure, is measured in a picture, too: so high it is drawn.
        if (!/[A-Z0-9]/.test(first)) continue;
        const inked = await drawn(page, box);
        expect.soft(inked / capital, `${mark} “${first}”`).toBeGreaterThan(1 - OVERSHOOT);
        expect.soft(inked / capital, `${mark} “${first}”`).toBeLessThan(1 + OVERSHOOT);
        seen.add(`${mark} ${first}`);
      }
      const over = await screen.evaluate((one) => one.scrollHeight - one.clientHeight);
      expect.soft(over).toBeLessThanOrEqual(0);
      await page.keyboard.press('Escape');
      await on.click();
    }
    console.log(`now and next at ${width} x ${height}, least minutes of arc: ${JSON.stringify(least)}`);
    for (const mark of ['now', 'next', 'count'])
      expect([...seen].join(), `${mark} was measured in a picture`).toContain(mark);
    for (const mark of ['count', 'now', 'next'])
      expect.soft(least[mark], mark).toBeGreaterThanOrEqual(AT_ONCE);
    expect.soft(least.when, 'when').toBeGreaterThanOrEqual(BY_SHAPE);
    await context.close();
  });

test('every move of the library is called in letters that are read from three metres', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  await page.goto(house.demo.couple);
  await page.goto(addressOf(page, 'practise'));
  await isAtRest(page);
  await page.getByRole('button', { name: 'a phrase on' }).click();
  await page.getByRole('button', { name: 'Fill the screen' }).click();
  const screen = page.getByRole('dialog', { name: 'Follow the music' });
  const calls = [...new Set(standardMoves.map(({ name }) => readAcross(name).call))];
  for (const [width, height] of [
    [390, 844],
    [844, 390],
  ] as const) {
    await page.setViewportSize({ width, height });
    for (const call of calls) {
      await screen.evaluate((dialog, words) => {
        for (const name of dialog.querySelectorAll('[data-now],[data-next]'))
          name.firstChild!.nodeValue = words;
        // They are fitted anew, as when their letters have come.
        document.fonts.dispatchEvent(new Event('loadingdone'));
      }, call);
      const names = (await lettersOf(screen)).filter(({ mark }) => mark === 'now' || mark === 'next');
      for (const { mark, capital } of names)
        expect
          .soft(minutesOf(capital), `${mark}: ${call}, ${width} x ${height}`)
          .toBeGreaterThanOrEqual(AT_ONCE);
      const over = await screen.evaluate((one) => one.scrollWidth - one.clientWidth);
      expect.soft(over, call).toBeLessThanOrEqual(0);
    }
  }
  await context.close();
});

test('a phone that is turned while it plays shows what is danced, and the word that is heard', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  await hear(page);
  await page.goto(house.demo.couple);
  await page.goto(addressOf(page, 'practise'));
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await isSounding(page);
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await page.setViewportSize({ width: 844, height: 390 });
  const screen = page.getByRole('dialog', { name: 'Follow the music' });
  await expect(screen.locator('[data-heard]')).toBeInViewport({ ratio: 1 });
  await expect(screen.locator('[data-next]')).toBeInViewport({ ratio: 1 });
  await screen.getByRole('button', { name: 'Back' }).click();
  await expect(screen).toHaveCount(0);
  await context.close();
});

test('homework is ticked where it is done, and its phrase goes round with two bars before it', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const context = await browser.newContext();
  const page = await context.newPage();
  await hear(page);
  await join(page, stage, await stage.written(scripts.greek!), 'couple');
  const line = page.getByRole('checkbox', { name: 'Closing pose as a lean, four slow breaths' });
  await line.press(' ');
  await expect(line).toBeChecked();
  await isAtRest(page);
  await page.goto(addressOf(page, 'lessons'));
  await expect(page.getByRole('checkbox', { checked: false })).toHaveCount(1);
  await context.close();

  const couple = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const other = await couple.newPage();
  await hear(other);
  await other.goto(house.demo.couple);
  await other.getByRole('button', { name: /^Practise chorus.*harp runs up/ }).click();
  await isSounding(other);
  const music = other.getByRole('region', { name: 'Music', exact: true });
  await expect(music.getByRole('button', { name: /^again: chorus/ })).toBeVisible();
  await other.getByRole('checkbox', { name: 'Two bars of run-up, to lead the move in' }).isChecked();
  await Promise.all([couple.close(), stage.instructor.context().close()]);
});

test('a question goes to the instructor alone, is seen to wait, and its answer is seen', async ({
  browser,
  house,
}) => {
  const [couple, dj] = await Promise.all([browser.newContext(), browser.newContext()]);
  const instructor = await (await browser.newContext()).newPage();
  await enterStudio(instructor, house);
  const asking = await couple.newPage();
  await asking.goto(house.demo.couple);
  const question = 'Which foot do we begin on after the bells?';
  await asking.getByLabel('Your question').fill(question);
  await asking.getByRole('button', { name: 'Ask', exact: true }).click();
  await expect(asking.getByText('Not read yet')).toBeVisible();
  await isAtRest(asking);

  await instructor.goto(house.address);
  const waits = instructor.getByRole('link', { name: '2 questions to answer, 1 not read yet' });
  await expect(waits).toBeVisible();
  await waits.click();
  const asked = instructor.getByRole('listitem').filter({ hasText: question });
  await asked.getByLabel('Your answer').fill('The left, as ever.');
  await expect(asking.getByText('Marit has read it').first()).toBeVisible();
  // Meanwhile the couple are elsewhere on the board, and see on the tab that there is an answer.
  const song = asking.getByRole('link', { name: 'Song', exact: true });
  await song.click();
  // Until it is left, their home shows the answer, which then is read.
  await expect(song).toHaveAttribute('aria-current', 'page');
  await expect(asking.getByLabel('Your question')).toHaveCount(0);
  await asked.getByRole('button', { name: 'Answer', exact: true }).click();
  const tab = asking.getByRole('link', { name: 'Home (1 new answer)' });
  await expect(tab).toBeVisible();
  await tab.click();
  const answered = asking.getByRole('listitem').filter({ hasText: question });
  await expect(answered).toContainText('New answer');
  await expect(answered).toContainText('The left, as ever.');
  await expect(asking.getByRole('link', { name: 'Home', exact: true })).toBeVisible();

  const stranger = await dj.newPage();
  await stranger.goto(house.demo.dj);
  await stranger.goto(addressOf(stranger, 'remarks'));
  await isAtRest(stranger);
  await expect(stranger.getByText(question)).toHaveCount(0);
  await answered.getByRole('button', { name: 'Let everybody read it' }).click();
  await expect(answered).toContainText('Everybody reads it under Remarks.');
  await expect(stranger.getByText(question)).toBeVisible();
  await stranger.goto(addressOf(stranger, 'home'));
  await expect(stranger.getByText('This page is the couple’s.')).toBeVisible();
  await Promise.all([couple.close(), dj.close(), instructor.context().close()]);
});

test('what others changed since last time is told until it is seen; what one changed oneself is not', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const board = await stage.written(scripts.greek!);
  const context = await browser.newContext();
  const page = await context.newPage();
  await join(page, stage, board, 'couple');
  const news = page.getByRole('heading', { name: 'New since last time' });
  await expect(page.getByRole('heading', { name: /^Ask / })).toBeVisible();
  await expect(news).toHaveCount(0);

  const { instructor } = stage;
  await instructor.goto(`${house.address}/board/${board}/lessons?as=instructor`);
  await instructor.getByLabel('Next lesson').fill('2031-05-09T18:30');
  await instructor.getByLabel('Next lesson').blur();
  await isAtRest(instructor);
  await page.goto(addressOf(page, 'lessons'));
  await page.getByRole('button', { name: 'One lesson more' }).click();
  await isAtRest(page);
  await page.goto(addressOf(page, 'home'));
  await expect(news).toBeVisible();
  const told = page.getByRole('region', { name: 'New since last time' }).getByRole('listitem');
  await expect(told).toHaveText(['The next lesson is on 9 May 2031, 18:30.']);
  await page.reload();
  await expect(told).toHaveCount(1);
  await page.getByRole('button', { name: 'Seen', exact: true }).click();
  await expect(news).toHaveCount(0);
  await page.reload();
  await expect(page.getByRole('heading', { name: /^Ask / })).toBeVisible();
  await expect(news).toHaveCount(0);
  await Promise.all([context.close(), instructor.context().close()]);
});

test('of two pages that practise, the one that began last is heard', async ({ browser, house }) => {
  const context = await browser.newContext();
  const open = async (): Promise<Page> => {
    const page = await context.newPage();
    await hear(page);
    await page.goto(house.demo.couple);
    await page.goto(addressOf(page, 'practise'));
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await isSounding(page);
    return page;
  };
  const first = await open();
  const second = await open();
  await expect.poll(() => sounding(first)).toBe(0);
  await expect(first.getByRole('button', { name: 'Play', exact: true })).toBeVisible();
  expect(await sounding(second)).toBeGreaterThan(0);
  await context.close();
});

test('visited once, the home opens without a network, and a tick made there is stored later', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const context = await browser.newContext();
  const page = await context.newPage();
  await join(page, stage, await stage.written(scripts.greek!), 'couple');
  // It is kept once the page is at leisure.
  const isKept = () =>
    page.evaluate(async () => {
      const cache = await caches.open('larkstep-pages-2');
      return (await cache.keys()).some(({ url }) => url.includes('/home?'));
    });
  await expect.poll(isKept, { timeout: 60_000 }).toBe(true);
  await context.setOffline(true);
  await page.reload();
  const line = page.getByRole('checkbox', { name: 'Closing pose as a lean, four slow breaths' });
  await line.press(' ');
  await expect(line).toBeChecked();
  // So does practice, where nobody has been yet.
  const here = page.url();
  await page.goto(addressOf(page, 'practise'));
  await expect(page.getByRole('region', { name: 'Music', exact: true })).toBeVisible();
  await expect(page.getByRole('button', { name: 'Tap along' })).toBeVisible();
  await page.goto(here);
  await expect(line).toBeChecked();
  await context.setOffline(false);
  await isAtRest(page);
  await page.reload();
  await expect(line).toBeChecked();
  await Promise.all([context.close(), stage.instructor.context().close()]);
});

test('round by round: slow first, and mirrored for the studio’s mirror', async ({ browser, house }) => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(house.demo.couple);
  await page.goto(addressOf(page, 'practise'));
  await isAtRest(page);
  const speed = page.getByRole('status', { name: 'Speed' });
  const slow = page.getByRole('checkbox', { name: 'Slow first, a little faster each round' });
  await slow.press(' ');
  await expect(speed).toHaveText('70 % speed');
  await slow.press(' ');
  await expect(speed).toHaveText('100 % speed');
  await page.getByRole('button', { name: 'phrase 2 of verse 1', exact: true }).press('Enter');
  await page.getByRole('button', { name: 'Wider: verse 1', exact: true }).press('Enter');
  await expect(page.getByRole('button', { name: /^again: verse 1/ })).toBeVisible();
  await page.getByRole('button', { name: 'Wider: the whole dance', exact: true }).press('Enter');
  await expect(page.getByRole('button', { name: 'again: the whole dance' })).toBeVisible();
  await expect(page.getByRole('button', { name: /^Wider: / })).toHaveCount(0);
  await page.getByRole('checkbox', { name: /^Mirrored/ }).press(' ');
  await page.getByRole('button', { name: 'Fill the screen' }).press('Enter');
  await expect(page.getByRole('dialog').locator('[data-mirrored=true]')).toBeVisible();
  await context.close();
});

test('the link leads there, and from there to every other page', async ({ browser, house }) => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(house.demo.couple);
  await expect(page).toHaveURL(/\/home\?as=couple$/);
  await page.getByRole('link', { name: 'Sheet', exact: true }).click();
  await expect(page).toHaveURL(/\/sheet\?as=couple$/);
  await context.close();
});
