import { type BrowserContext, expect } from '@playwright/test';
import { test as base } from './house.ts';
import { practiceStates } from './practiceStates.ts';
import { isSound, newPage, widthsOf } from './sound.ts';
import { openStage, type Stage, states } from './states.ts';
import { studioStates } from './studioStates.ts';

const test = base.extend<object, { stage: Stage; visitor: BrowserContext }>({
  stage: [
    async ({ browser, house }, use) => {
      const stage = await openStage(browser, house);
      await use(stage);
      await stage.instructor.context().close();
    },
    { scope: 'worker' },
  ],
  visitor: [
    async ({ browser }, use) => {
      const context = await browser.newContext();
      await use(context);
      await context.close();
    },
    { scope: 'worker' },
  ],
});

// Each makes a board of its own: two may go at a time.
test.describe.configure({ mode: 'parallel' });

for (const [i, state] of [...states, ...practiceStates, ...studioStates].entries())
  test(`sound: ${state.name}`, async ({ browser, stage, visitor }) => {
    const context = state.isPlain ? visitor : await browser.newContext();
    const { page, heard } = await newPage(context);
    await state.show(page, stage);
    await isSound(page, state.name, widthsOf(i));
    expect(heard.filter((line) => !state.noted?.test(line))).toEqual([]);
    await (state.isPlain ? page : context).close();
  });
