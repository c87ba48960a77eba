import { expect } from '@playwright/test';
import { FROZEN } from '../../lib/protocol/close.ts';
import { AGAIN, enterStudio, test, toSheet } from './house.ts';

test.use({ changes: 'links' });

test('links stand under those with which they were made, and one is stopped while its page is open', async ({
  browser,
  house,
}) => {
  const couple = await (await browser.newContext()).newPage();
  await toSheet(couple, house);
  const board = new URL(couple.url()).pathname.split('/')[2]!;
  const made = await couple.request.post(`${house.address}/api/boards/${board}/links?as=couple`, {
    data: { role: 'planner', days: 10 },
    headers: { origin: house.address },
    ...AGAIN,
  });
  expect(made.ok()).toBe(true);
  await couple.goto(`${house.address}/board/${board}/show?as=couple`);
  const venue = couple.getByLabel('Venue');
  await expect(venue).toBeVisible();

  const instructor = await (await browser.newContext()).newPage();
  await enterStudio(instructor, house);
  await instructor.goto(`${house.address}/board/${board}/links?as=instructor`);
  const given = instructor.getByRole('region', { name: 'Given out' });
  const row = given.getByRole('listitem').filter({ hasText: /^couple/ });
  await expect(row.getByRole('listitem')).toContainText(/made .+ by the couple’s link of .+; holds until/);

  await row.getByRole('button', { name: 'Stop it from writing: the link for the couple' }).click();
  const dialog = instructor.getByRole('dialog');
  await expect(dialog).toContainText('The same holds for one other link made with it.');
  await dialog.getByRole('button', { name: 'Stop it from writing' }).click();
  await expect(row.getByText('Stopped from writing since').first()).toBeVisible();
  // The couple's page learns it by itself, and offers no field any more.
  await expect(couple.getByText(FROZEN)).toBeVisible();
  await expect(venue).toHaveCount(0);

  await row.getByRole('button', { name: 'Let it write again: the link for the couple' }).click();
  await expect(couple.getByText(FROZEN)).toHaveCount(0);
  await expect(venue).toBeVisible();
  await venue.fill('The old saw mill');
  await venue.blur();
  await expect(couple.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();

  await row.getByRole('button', { name: 'Take back what it wrote: the link for the couple' }).click();
  await dialog.getByRole('button', { name: 'Take it back' }).click();
  await expect(given.getByRole('status')).toContainText('One change was taken back.');
  await expect(venue).not.toHaveValue('The old saw mill');

  await row.getByRole('button', { name: 'Take back the link for the couple' }).click();
  await dialog.getByLabel('it stays, as yours').check();
  await dialog.getByRole('button', { name: 'Take it back' }).click();
  await expect(row).toHaveCount(0);
  await expect(given.getByText('by the couple’s link')).toHaveCount(0);
  await expect(given.getByRole('listitem').filter({ hasText: /^planner/ })).toHaveCount(2);
});

test('the passphrase is changed, and everybody else is signed out', async ({ browser, house }) => {
  const here = await (await browser.newContext()).newPage();
  await enterStudio(here, house);
  const elsewhere = await (await browser.newContext()).newPage();
  const signIn = async (passphrase: string) => {
    await elsewhere.goto(house.address);
    await elsewhere.getByLabel('Passphrase').fill(passphrase);
    await elsewhere.getByRole('button', { name: 'Sign in' }).click();
  };
  await signIn(house.passphrase);
  await expect(elsewhere.getByRole('heading', { level: 1 })).toContainText('studio');
  await here.getByRole('link', { name: 'Passphrase' }).click();
  const fresh = 'another phrase of six words';
  await here.getByLabel('Current passphrase').fill(house.passphrase);
  await here.getByLabel('New passphrase', { exact: true }).fill(fresh);
  await here.getByLabel('New passphrase again').fill(fresh);
  await here.getByRole('button', { name: 'Change it' }).click();
  await expect(here.getByText('The new passphrase holds from now on.')).toBeVisible();
  await signIn(house.passphrase);
  await expect(elsewhere.getByRole('alert').first()).toContainText('That passphrase is not right.');
  await signIn(fresh);
  await expect(elsewhere.getByRole('heading', { level: 1 })).toContainText('studio');
  await here.getByRole('button', { name: 'Sign out everywhere else' }).click();
  await expect(here.getByText('You are signed in here alone.')).toBeVisible();
  await elsewhere.goto(house.address);
  await expect(elsewhere.getByLabel('Passphrase')).toBeVisible();
});

test('nobody has the server work on pictures', async ({ request, house }) => {
  for (const path of ['/_next/image?url=%2Freadme-sheet.png&w=640&q=75', '/_next/image'])
    expect((await request.get(house.address + path, AGAIN)).status(), path).toBe(404);
});
