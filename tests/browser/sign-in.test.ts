import { describe, expect, it } from 'vitest';
import { PASSWORD, workshopService } from '../support/api-service.ts';
import { accessibilityFaults, expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';

const workshop = workshopService();
const browser = openBrowser();

describe('signing in', () => {
  it('lets one in by name and password, and says what is wrong otherwise', async () => {
    const watched = await browser.open();
    const { page, complaints } = watched;
    await page.goto(workshop().service.url);
    expect(await page.title()).toBe('cast-to-last');
    expect(await accessibilityFaults(page)).toEqual([]);
    await keepPicture(page, 'sign-in');
    await page.getByLabel('Name', { exact: true }).fill('maker');
    await page.getByLabel('Password').fill('not the password at all');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('alert').getByText('There is no active account').waitFor();
    await keepPicture(page, 'sign-in-wrong');
    await page.getByLabel('Password').fill(PASSWORD);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('navigation', { name: 'Places' }).waitFor();
    // The browser itself notes answers of 401.
    expect(complaints.filter((text) => !text.includes('401'))).toEqual([]);
  });

  it('shows the frame of the app in both looks', async () => {
    for (const dark of [false, true]) {
      const watched = await browser.open({ width: 1280, height: 800 }, dark);
      await signInAs(watched.page, workshop().service.url, 'maker');
      watched.complaints.length = 0;
      await expectSound(watched);
      await keepPicture(watched.page, `frame-${dark ? 'dark' : 'light'}`);
    }
  });

  it('runs nothing inline', async () => {
    const { headers } = await fetch(workshop().service.url);
    expect(headers.get('content-security-policy')).not.toContain('unsafe-inline');
  });
});
