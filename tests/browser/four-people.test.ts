import { type Browser, expect, type JSHandle, type Locator, type Page } from '@playwright/test';
import ICAL from 'ical.js';
import { PARTY } from './days.ts';
import { AGAIN, changeAnyway, enterStudio, stagesOf, test } from './house.ts';
import { lineTo } from './line.ts';
import { openRecording } from './songPage.ts';

/**
 * Four people, each with a browser of their own, do a couple's dance from the file to the hand-over, against the production
 * server. The recording is the demo's: 4:40 of music in three, composed for this project.
 */
const SONG = 'public/demo/tarnlight-stair.mp3';

interface People {
  instructor: Page;
  couple: Page;
  dj: Page;
  planner: Page;
}

async function newPerson(browser: Browser, problems: string[], who: string): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    hasTouch: who === 'couple',
  });
  const page = await context.newPage();
  page.on('pageerror', (error) => problems.push(`${who}: ${error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error') problems.push(`${who}: ${message.text()} ${message.location().url}`);
  });
  return page;
}

/** Another page of the same board, by the links at its top. */
async function goTo(page: Page, name: string): Promise<void> {
  await page
    .getByRole('navigation', { name: 'Pages of this board' })
    .getByRole('link', { name, exact: true })
    .click();
  await expect(page.getByRole('link', { name, exact: true })).toHaveAttribute('aria-current', 'page');
}

const saved = (page: Page): Locator => page.getByRole('banner').getByText('saved', { exact: true });
const stage = (page: Page, name: string): Locator =>
  stagesOf(page)
    .getByRole('listitem')
    .filter({ has: page.getByText(name, { exact: true }) });

const wordsFor = { couple: 'the couple', dj: 'the DJ, or whoever plays the music', planner: 'the planner' };

async function linkFor(instructor: Page, role: keyof typeof wordsFor): Promise<string> {
  await instructor.getByLabel('A link for', { exact: true }).selectOption(role);
  await instructor.getByRole('button', { name: 'Make the link' }).click();
  const made = instructor.getByRole('region', { name: `A link for ${wordsFor[role]}` });
  return (await made.getByText(/^http.*\/join\//).textContent()) ?? '';
}

test('four people plan a first dance together and hand it over', async ({ browser, house }) => {
  const problems: string[] = [];
  const people: People = {
    instructor: await newPerson(browser, problems, 'instructor'),
    couple: await newPerson(browser, problems, 'couple'),
    dj: await newPerson(browser, problems, 'DJ'),
    planner: await newPerson(browser, problems, 'planner'),
  };
  const { instructor, couple, dj, planner } = people;
  const line = await lineTo(house.address);

  await test.step('from a file to a board', async () => {
    await enterStudio(instructor, house);
    await instructor.getByRole('button', { name: 'New couple' }).click();
    await instructor.getByLabel('One of them').fill('Ilse');
    await instructor.getByLabel('The other', { exact: true }).fill('Teodor');
    await instructor.getByLabel('Day of the party, if known').fill(PARTY);
    await instructor.getByLabel('Venue, if known').fill('Kiln Yard');
    await instructor.getByRole('button', { name: 'Begin their board' }).click();
    await instructor.getByLabel('The song’s file', { exact: true }).setInputFiles(SONG);
    const heard = instructor.getByRole('region', { name: 'Put it right' });
    await expect(heard).toContainText('three beats a bar', { timeout: 120_000 });
    await openRecording(instructor);
    await instructor.getByLabel('Title').fill('Tarnlight Stair');
    await expect(stage(instructor, 'song')).toContainText('metre, beats, bars and sections to confirm');
    await instructor.getByRole('button', { name: 'All of this is right' }).click();
    await expect(heard.getByText(/^Confirmed by/).first()).toBeVisible();
    await expect(stage(instructor, 'song')).toContainText('confirmed');
    await expect(saved(instructor)).toBeVisible();
  });

  await test.step('links bring the others in', async () => {
    await goTo(instructor, 'Links');
    for (const [role, page] of [
      ['couple', couple],
      ['dj', dj],
      ['planner', planner],
    ] as const) {
      const link = await linkFor(instructor, role);
      await page.goto(page === couple ? line.by(link) : link);
      await expect(page.getByRole('banner')).toContainText('Ilse & Teodor');
    }
    await goTo(instructor, 'Song');
    await expect(instructor.getByRole('list', { name: 'Here now' }).getByRole('listitem')).toHaveCount(4);
  });

  await test.step('shape: hear a proposal, choose a join; all see it', async () => {
    await instructor.getByRole('button', { name: 'Propose edits' }).click();
    const proposals = instructor.getByRole('list', { name: 'Proposed edits, the best first' });
    await expect(proposals).toBeVisible({ timeout: 60_000 });
    await expect(proposals.getByText('a fade', { exact: true }).first()).toBeVisible();
    const joined = proposals
      .getByRole('listitem')
      .filter({ has: instructor.getByText('a join', { exact: true }) })
      .first();
    await joined.getByRole('button', { name: /join/ }).first().click();
    await expect(joined.getByRole('button', { pressed: true })).toBeVisible();
    await joined.getByRole('button', { name: /^Choose/ }).click();
    await expect(joined).toContainText('chosen');
    await goTo(couple, 'Sheet');
    await expect(couple.getByRole('button', { name: /left out: / }).first()).toBeVisible();
    await expect(dj.getByRole('region', { name: 'Inside the file' })).toContainText('left out');
    const lengths = () =>
      Promise.all(
        Object.values(people).map(
          async (page) => /as played \d:\d\d/.exec((await page.getByRole('banner').textContent()) ?? '')?.[0],
        ),
      );
    await expect.poll(async () => new Set(await lengths()).size).toBe(1);
    await expect(planner.getByRole('banner')).toContainText(/as played [23]:\d\d/);
  });

  const turn = (page: Page) =>
    page
      .getByRole('button', { name: /^underarm turn/i })
      .and(page.locator('[id^=ribbon-]'))
      .first();
  const words = async (page: Page) => (await turn(page).getAttribute('aria-label')) ?? '';

  await test.step('dance: moves placed by keyboard, moved by keys, mouse and finger; each sees the other', async () => {
    await goTo(instructor, 'Sheet');
    await couple.getByRole('button', { name: 'Moves', exact: true }).click();
    // On a board without moves the library stands open.
    for (const move of ['Box step', 'Underarm turn', 'Balance steps'])
      await couple.getByRole('button', { name: `Add ${move}`, exact: true }).click();
    await couple.getByRole('button', { name: /^Take in hand.*Underarm turn/ }).click();
    const row = couple.getByRole('slider', { name: /^Counts of/ }).nth(4);
    await row.focus();
    await row.press('Enter');
    await expect(turn(instructor)).toBeVisible();

    const placed = await words(couple);
    await turn(instructor).focus();
    await turn(instructor).press('Shift+ArrowRight');
    await expect(turn(couple)).not.toHaveAttribute('aria-label', placed);
    await instructor.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect(turn(couple)).toHaveAttribute('aria-label', placed);

    const said = await drag(instructor, turn(instructor), 60);
    await expect(turn(couple)).not.toHaveAttribute('aria-label', placed);
    // Let go, it stays: it is not for a moment drawn where it came from.
    expect(await said.jsonValue()).not.toContain(placed);
    const dragged = await words(couple);
    await swipe(couple, turn(couple), 60);
    await expect(turn(instructor)).not.toHaveAttribute('aria-label', dragged);
    await couple.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect(turn(instructor)).toHaveAttribute('aria-label', dragged);
  });

  await test.step('a move that does not fit is noted in the margin, and the fix applies', async () => {
    const note = instructor.getByText(/“Underarm turn” takes/);
    await turn(instructor).focus();
    const looking = instructor.locator('[aria-busy=true]');
    await expect(looking).toHaveCount(0);
    while (!(await note.first().isVisible())) {
      const before = await words(instructor);
      await turn(instructor).press('Shift+ArrowRight');
      await expect(turn(instructor)).not.toHaveAttribute('aria-label', before);
      await expect(looking).toHaveCount(0);
    }
    await expect(couple.getByText(/“Underarm turn” takes/).first()).toBeVisible();
    await instructor
      .getByRole('button', { name: /^Start it .* earlier$/ })
      .first()
      .click();
    await expect(note).toHaveCount(0);
    await expect(couple.getByText(/“Underarm turn” takes/)).toHaveCount(0);
  });

  await test.step('walk-on and first step, ending solved back from the last strong count', async () => {
    await couple.getByRole('button', { name: 'Walk-on' }).click();
    await couple.getByLabel('From', { exact: true }).fill('the kiln door');
    await couple.getByLabel('Metres to walk').fill('6');
    await couple.getByLabel('Metres to walk').blur();
    await couple.getByRole('button', { name: /the proposal: / }).click();
    await expect(instructor.getByText(/walk on from the kiln door/).first()).toBeVisible();
    await couple.getByRole('button', { name: 'Ending' }).click();
    await couple.getByRole('button', { name: /last strong count/ }).click();
    await couple.getByLabel('Closing pose', { exact: true }).selectOption({ label: 'Dip' });
    await expect(couple.getByLabel('Dance the safer form')).toBeVisible();
    await couple.getByLabel('Led into it by').selectOption({ label: 'Underarm turn' });
    await expect(instructor.getByText(/closing pose \d:\d\d, kept/).first()).toBeVisible();
    await expect(dj.locator('dl').filter({ hasText: 'let it ring to' })).toContainText(/closing pose\d:\d\d/);
  });

  await test.step('the DJ and the planner read the dance and cannot change it', async () => {
    for (const page of [dj, planner]) {
      await goTo(page, 'Sheet');
      await expect(page.getByText(/closing pose \d:\d\d, kept/).first()).toBeVisible();
      await expect(page.getByRole('button', { name: 'Walk-on' })).toHaveCount(0);
    }
    await goTo(dj, 'For the DJ');
    await goTo(planner, 'Run of show');
  });

  await test.step('lesson notes written by two at once, a remark for all', async () => {
    await goTo(instructor, 'Lessons');
    await instructor.getByRole('button', { name: 'New lesson' }).click();
    const pad = (page: Page) => page.locator('[contenteditable=true]').first();
    await pad(instructor).pressSequentially('The turn goes well. ');
    await goTo(couple, 'Lessons');
    await expect(pad(couple)).toContainText('The turn goes well.');
    await pad(couple).click();
    await pad(couple).press('Control+End');
    await Promise.all([
      pad(couple).pressSequentially('Practise the walk-on.'),
      pad(instructor)
        .press('Control+Home')
        .then(() => pad(instructor).pressSequentially('First: ')),
    ]);
    for (const page of [instructor, couple]) {
      await expect(pad(page)).toContainText('Practise the walk-on.');
      await expect(pad(page)).toContainText('First:');
    }
    await goTo(planner, 'Remarks');
    await planner.getByRole('button', { name: 'Write a remark' }).click();
    await pad(planner).pressSequentially('Guests stand on three sides.');
    await planner.getByRole('button', { name: 'Done' }).click();
    await goTo(couple, 'Remarks');
    await expect(
      couple.getByRole('article').filter({ hasText: 'Guests stand on three sides.' }),
    ).toBeVisible();
    await goTo(planner, 'Run of show');
  });

  await test.step('the couple go offline, both edit, and all is merged', async () => {
    await goTo(couple, 'Sheet');
    await goTo(instructor, 'Sheet');
    line.cut();
    await expect(couple.getByText('no connection: kept on this device')).toBeVisible();
    await couple
      .getByRole('button', { name: /^No word at .* Write it$/ })
      .first()
      .click();
    await couple.getByLabel(/^Word or sound that is heard/).fill('two bells');
    await couple.getByLabel(/^Word or sound that is heard/).press('Enter');
    const before = await words(instructor);
    await turn(instructor).focus();
    await turn(instructor).press('ArrowUp');
    await expect(turn(instructor)).not.toHaveAttribute('aria-label', before);
    const moved = await words(instructor);
    await expect(saved(instructor)).toBeVisible();
    line.mend();
    await expect(saved(couple)).toBeVisible();
    await expect(turn(couple)).toHaveAttribute('aria-label', moved);
    await expect(instructor.getByRole('button', { name: /two bells/ }).first()).toBeVisible();
  });

  await test.step('the DJ says yes; the edit changes; everybody sees that the yes is for an older version', async () => {
    await goTo(couple, 'For the DJ');
    await couple.getByRole('button', { name: 'Ask the DJ' }).click();
    // Words and moves were changed while this page stood open: the DJ comes back to it and looks anew.
    await goTo(dj, 'Run of show');
    await goTo(dj, 'For the DJ');
    await dj.getByText('I play the finished file').click();
    await dj.getByRole('button', { name: 'Yes, exactly this' }).click();
    for (const page of [instructor, couple, dj, planner])
      await expect(stage(page, 'DJ')).toContainText(/yes/);
    await goTo(instructor, 'Song');
    await instructor.getByRole('button', { name: 'Propose edits' }).click();
    const proposals = instructor.getByRole('list', { name: 'Proposed edits, the best first' });
    const fade = proposals
      .getByRole('listitem')
      .filter({ has: instructor.getByText('a fade', { exact: true }) })
      .first();
    await fade.getByRole('button', { name: /fade/i }).first().click();
    await fade.getByRole('button', { name: /^Choose/ }).click();
    await instructor.getByRole('button', { name: 'Change it' }).click();
    for (const page of [instructor, couple, planner])
      await expect(stage(page, 'DJ')).toContainText('said yes to an older version');
    await expect(stage(dj, 'DJ')).toContainText('your yes is for an older version');
    await dj.getByRole('button', { name: 'Yes, exactly this' }).click();
    for (const page of [instructor, couple, planner])
      await expect(stage(page, 'DJ')).not.toContainText('older');
  });

  await test.step('the planner completes the entry, marks it final and takes it along', async () => {
    await planner.getByLabel('The dance is announced at').fill('20:30');
    await planner.getByLabel('The dance is announced at').blur();
    // The DJ's yes was to an entry without a time.
    await changeAnyway(planner);
    await expect(stage(dj, 'DJ')).toContainText('something changed after your yes');
    await dj.getByRole('button', { name: 'Yes, to this too' }).click();
    for (const page of [instructor, couple, planner])
      await expect(stage(page, 'DJ')).toContainText('said yes');
    await planner.getByLabel('Announced by').fill('Ottilie');
    await planner.getByLabel('Announced by').blur();
    // The edit was changed while this page stood open: that is shown, what the planner wrote is not.
    await planner.getByRole('button', { name: 'Mark it final' }).click();
    const changed = planner.getByRole('region', { name: 'Final' }).getByRole('alert');
    await expect(changed).toContainText('music: was');
    await expect(changed).not.toContainText('Ottilie');
    await planner.getByRole('button', { name: 'Mark it final' }).click();
    await expect(planner.getByText('This is final.')).toBeVisible();
    await goTo(couple, 'Run of show');
    await expect(couple.getByText('This is final.')).toBeVisible();
    await expect(saved(planner)).toBeVisible();
    const board = /board\/([^/]+)/.exec(planner.url())![1]!;
    const paper = async (name: string) => {
      const answer = await planner.request.get(
        `${house.address}/api/boards/${board}/papers/${name}?as=planner`,
        AGAIN,
      );
      expect(answer.status()).toBe(200);
      return answer.body();
    };
    const calendar = new ICAL.Component(ICAL.parse((await paper('planner.ics')).toString()) as unknown[]);
    const event = new ICAL.Event(calendar.getFirstSubcomponent('vevent')!);
    expect(event.startDate.toString()).toBe(`${PARTY}T20:30:00`);
    expect((await paper('planner.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  });

  line.close();
  // Without a network the browser itself reports each try to connect.
  expect(problems.filter((problem) => !/^couple: .*(ERR_|WebSocket)/.test(problem))).toEqual([]);
});

/** Drags by the mouse, `by` pixels to the right; gives all that it is called from when it is let go. */
async function drag(page: Page, what: Locator, by: number): Promise<JSHandle<string[]>> {
  await what.scrollIntoViewIfNeeded();
  const { x, y, height } = (await what.boundingBox())!;
  await page.mouse.move(x + 20, y + height / 2);
  await page.mouse.down();
  await page.mouse.move(x + 20 + by / 2, y + height / 2, { steps: 4 });
  await page.mouse.move(x + 20 + by, y + height / 2, { steps: 4 });
  const said = await what.evaluateHandle((element) => {
    const said: string[] = [];
    const watch = new MutationObserver((all) => {
      for (const { oldValue } of all) said.push(oldValue ?? '', element.ariaLabel ?? '');
    });
    watch.observe(element, { attributeFilter: ['aria-label'], attributeOldValue: true });
    return said;
  });
  await page.mouse.up();
  return said;
}

/** The same with a finger. */
async function swipe(page: Page, what: Locator, by: number): Promise<void> {
  await what.scrollIntoViewIfNeeded();
  const { x, y, height } = (await what.boundingBox())!;
  const finger = await page.context().newCDPSession(page);
  const at = (moved: number) => ({ touchPoints: [{ x: x + 20 + moved, y: y + height / 2 }] });
  await finger.send('Input.dispatchTouchEvent', { type: 'touchStart', ...at(0) });
  for (let step = 1; step <= 6; step++)
    await finger.send('Input.dispatchTouchEvent', { type: 'touchMove', ...at((by * step) / 6) });
  await finger.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
}
