import { expect } from '@playwright/test';
import { test as base } from './house.ts';
import { practiceStates } from './practiceStates.ts';
import { isSound, newPage } from './sound.ts';
import { openStage, type Stage, states } from './states.ts';

const test = base.extend<object, { stage: Stage }>({
  stage: [
    async ({ browser, house }, use) => {
      const stage = await openStage(browser, house);
      await use(stage);
      await stage.instructor.context().close();
    },
    { scope: 'worker' },
  ],
});

// Each makes a board of its own: two may go at a time.
test.describe.configure({ mode: 'parallel' });

for (const state of [...states, ...practiceStates])
  test(`sound: ${state.name}`, async ({ browser, stage }) => {
    const context = await browser.newContext();
    const { page, heard } = await newPage(context);
    await state.show(page, stage);
    await isSound(page, state.name);
    expect(heard.filter((line) => !state.noted?.test(line))).toEqual([]);
    await context.close();
  });
