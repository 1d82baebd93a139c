import { describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { makeBallScan } from '../phantoms/balls/make-ball-scan.ts';
import { PASSWORD, speaker, workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';

const workshop = workshopService();
const browser = openBrowser();
const gauge = makeBallScan(301, { balls: 2, diameter: 30, distance: 75, edge: 0.9, noise: 0.03, views: 8, round: 1, wrong: false, clutter: 1 });
const gaugeFile = { name: 'gauge.stl', mimeType: 'model/stl', buffer: Buffer.from(writeStl(gauge.mesh)) };

describe('people', () => {
  it('are given accounts, roles and passwords, and are shut out, by the administrator', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'first', '/people');
    watched.complaints.length = 0;
    await page.getByText('Make an account').click();
    await page.getByLabel('Name to sign in with').fill('second-assistant');
    await page.getByLabel('Name that others see').fill('A second assistant whose name is as long as names of people can be where nobody shortens them');
    await page.getByLabel('First password').fill(PASSWORD);
    await page.getByRole('button', { name: 'Make it', exact: true }).click();
    const row = page.getByRole('row').filter({ hasText: 'second-assistant' });
    await row.waitFor();
    await expectSound(watched);
    await keepPicture(page, 'people-accounts');
    await row.getByRole('combobox').selectOption('maker');
    await expect.poll(async () => (await workshop().administrator('GET', '/people')).body.items.find(({ name }: { name: string }) => name === 'second-assistant').role).toBe('maker');
    await row.getByRole('button', { name: 'New password' }).click();
    await page.getByRole('dialog').getByLabel('Password').fill('another plaster of the day');
    await page.getByRole('dialog').getByRole('button', { name: 'Set the password' }).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await row.getByRole('button', { name: 'Disable' }).click();
    await row.getByText('disabled').waitFor();
    expect((await workshop().nobody('POST', '/session', { name: 'second-assistant', password: 'another plaster of the day' })).status).toBe(401);
  });

  it('have stations beside them whose token is shown once and only uploads', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const { service } = workshop();
    await signInAs(page, service.url, 'first', '/people/stations');
    watched.complaints.length = 0;
    await page.getByLabel('Name of the station').fill('Bench by the window');
    await page.getByRole('button', { name: 'Make a token' }).click();
    const token = await page.locator('code').innerText();
    await expectSound(watched);
    await keepPicture(page, 'people-stations');
    const station = speaker(service.url, { authorization: `Bearer ${token}` });
    expect((await station('GET', '/orders')).status).toBe(403);
    await page.getByRole('button', { name: 'I have it' }).click();
    expect(await page.getByText(token).count()).toBe(0);
    await page.getByRole('button', { name: 'Take it back' }).click();
    await page.getByText(/taken back/).waitFor();
    expect((await station('GET', '/scanners')).status).toBe(401);
  });

  it('check their scanners by scans of a gauge, and see how each stands', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'maker', '/people/scanners');
    watched.complaints.length = 0;
    await page.getByLabel('Name of the scanner').fill('Turntable');
    await page.getByRole('button', { name: 'Add it' }).click();
    await page.getByRole('link', { name: 'Turntable' }).click();
    await page.getByText('It was never checked.').waitFor();
    await page.getByLabel('Scan of the gauge').setInputFiles(gaugeFile);
    await page.getByLabel('Diameter of a ball (mm)').fill('30');
    await page.getByLabel('Between centres (mm)').fill('75');
    await page.getByLabel('Unit of the file').selectOption(gauge.unit);
    await page.getByRole('button', { name: 'Check it' }).click();
    await page.getByRole('cell', { name: '✓ within' }).first().waitFor({ timeout: 60_000 });
    await expectSound(watched);
    await keepPicture(page, 'people-scanner');
    await page.getByLabel('Diameter of a ball (mm)').fill('61');
    await page.getByLabel('Scan of the gauge').setInputFiles(gaugeFile);
    await page.getByRole('button', { name: 'Check it' }).click();
    await page.getByRole('alert').waitFor({ timeout: 60_000 });
  });

  it('are told of what was done, filtered by kind and person', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'first', '/people/log');
    watched.complaints.length = 0;
    await page.getByRole('cell', { name: 'token added' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'people-log');
    await page.getByLabel('What').selectOption('scanner.');
    await page.getByRole('cell', { name: 'token added' }).waitFor({ state: 'detached' });
    await page.getByRole('cell', { name: 'scanner added' }).waitFor();
    await page.getByLabel('By').selectOption({ label: 'First' });
    await page.getByText('Nothing of the kind was done.').waitFor();
  });

  it('of lesser roles see the scanners alone', async () => {
    const watched = await browser.open({ width: 820, height: 1180 }, true);
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'assistant', '/people');
    watched.complaints.length = 0;
    await page.getByText('This is for the administrator.').waitFor();
    await page.getByRole('link', { name: 'Scanners', exact: true }).first().click();
    await page.getByRole('link', { name: 'Turntable' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'people-scanners-tablet-dark');
  });

  it('set their own password and look', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'maker', '/queue');
    watched.complaints.length = 0;
    await page.keyboard.press('?');
    await page.getByRole('dialog').getByText('Go to Arrivals').waitFor();
    await expectSound(watched);
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'maker', exact: true }).click();
    await page.getByRole('dialog').getByLabel('Dark').check();
    expect(await page.evaluate('document.documentElement.dataset.look')).toBe('dark');
    await expectSound(watched);
    await keepPicture(page, 'own-account-dark');
    await page.getByLabel('Present password').fill(PASSWORD);
    await page.getByLabel('New password').fill('a new plaster of the day');
    await page.getByRole('button', { name: 'Change it' }).click();
    await page.getByText('The password is changed.').waitFor();
    await page.reload();
    expect(await page.evaluate('document.documentElement.dataset.look')).toBe('dark');
    expect((await workshop().nobody('POST', '/session', { name: 'maker', password: 'a new plaster of the day' })).status).toBe(200);
  });
});
