import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { rulesSchema } from '@cast-to-last/pipeline/rules-schema/rules-schema';
import { linesOf, roomsOf } from '../../services/review/src/rules/lines.ts';
import { DRAWINGS } from '../../services/review/src/rules/pictures/drawings.ts';
import { SENTENCES, say } from '../../services/review/src/rules/words/sentence.ts';
import { PASSWORD, workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';

const workshop = workshopService();
const browser = openBrowser();
const url = () => workshop().service.url;

const row = (page: Page, key: string) => page.locator(`[data-rule="${key}"]`);
const number = (page: Page, key: string, label: string) => row(page, key).getByRole('textbox', { name: label });

describe('the words and pictures of the rules', () => {
  const schema = rulesSchema() as Parameters<typeof roomsOf>[0];
  const lines = linesOf(roomsOf(schema, DEFAULT_RULES));

  it('are there for every rule, and for none that there is not', () => {
    const patterns = new Set(lines.map(({ pattern }) => pattern));
    expect(lines.length).toBeGreaterThan(75);
    expect([...patterns].filter((pattern) => SENTENCES[pattern] === undefined || DRAWINGS[pattern] === undefined)).toEqual([]);
    expect(Object.keys(SENTENCES).filter((pattern) => !patterns.has(pattern))).toEqual([]);
    expect(Object.keys(DRAWINGS).filter((pattern) => !patterns.has(pattern))).toEqual([]);
  });

  it('reach every key of the rule set', () => {
    const keysOf = (value: unknown, at: string[]): string[] => {
      if (lines.some(({ keys }) => keys.join('.') === at.join('.'))) return [];
      if (typeof value !== 'object' || value === null) return [at.join('.')];
      return Object.entries(value).flatMap(([key, of]) => keysOf(of, [...at, key]));
    };
    expect(keysOf(DEFAULT_RULES, [])).toEqual(['name', 'version']);
  });

  it('say the numbers of the rules', () => {
    const text = (key: string, value: unknown) => say(lines.find(({ keys }) => keys.join('.') === key) ?? lines[0], value).map((said) => said.map((part) => part.text).join(''));
    expect(text('marks.depthThresholdMm', 3.25)).toEqual(['Marks up to 3.25 mm of depth are smoothed; deeper ones wait for the maker.']);
    expect(text('last.ease.ball', { percent: -2 })).toEqual(['The ball girth of the last is −2 % against the foot\'s own.']);
    expect(text('last.ease.ball', { mm: 0 })).toEqual(['The ball girth stays as the foot has it.']);
    expect(text('last.topHeightMm', null)).toEqual(['The last is not cut at a height: it is closed where the cast ends.']);
    expect(text('check.soleBend', { care: 2, recast: 6 })[0]).toContain('beyond 2° needs care, beyond 6° a new cast');
    expect(text('making.print.bedMm', [300, 250, 200])[0]).toContain('300 mm in width, 250 mm in depth and 200 mm in height');
    expect(text('last.top.pins', [{ diameterMm: 5, depthMm: 20, along: 0.25, across: 0.5 }, { diameterMm: 6, depthMm: 20, along: 0.75, across: 0.5 }])).toHaveLength(2);
    expect(text('scanner.validDays', 1)).toEqual(['A check of a scanner is good for 1 day.']);
  });
});

describe('the rules', () => {
  it('are read room by room, changed with every field checked by the service, saved with a note, and set against each other', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, url(), 'maker', '/rules');
    await page.getByText('New scans are worked by').waitFor();
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'rules-versions');

    await page.getByRole('link', { name: 'house rules, version 1' }).first().click();
    await page.getByRole('heading', { name: 'Marks', exact: true }).waitFor();
    await page.getByText('These rules').waitFor({ state: 'detached' });
    await expectSound(watched);
    await keepPicture(page, 'rules-read');

    await page.getByRole('link', { name: 'Change', exact: true }).click();
    await page.getByRole('heading', { name: 'The new version' }).waitFor();
    await number(page, 'last.toeAllowanceMm', 'Toe allowance').fill('12,5');
    await row(page, 'last.toeAllowanceMm').getByText('12.5 mm is added ahead of the longest toe.').waitFor();
    await page.getByText('1 change', { exact: true }).waitFor();

    // The limits are those of the service, and of rules against each other.
    await number(page, 'last.toeAllowanceMm', 'Toe allowance').fill('31');
    await row(page, 'last.toeAllowanceMm').getByRole('alert').getByText('must be at most 30 mm').waitFor();
    await number(page, 'marks.depthThresholdMm', 'Smoothed up to').fill('0.4');
    await row(page, 'marks.depthThresholdMm').getByRole('alert').getByText('must not be less than marks.minDepthMm').waitFor();
    await number(page, 'check.soleBend', 'care beyond').fill('a lot');
    await row(page, 'check.soleBend').getByRole('alert').waitFor();
    expect(await page.getByRole('button', { name: 'Save the version' }).isDisabled()).toBe(true);
    await expectSound(watched);
    await keepPicture(page, 'rules-faults');
    await row(page, 'check.soleBend').getByRole('button', { name: 'Put back' }).click();
    await row(page, 'marks.depthThresholdMm').getByRole('button', { name: 'Put back' }).click();
    await number(page, 'last.toeAllowanceMm', 'Toe allowance').fill('12');

    // What may be left open, in both ways; lists; kinds of footwear.
    await row(page, 'last.sole.featherRadiusMm').getByLabel('Made with a radius of', { exact: true }).check();
    await row(page, 'last.sole.featherRadiusMm').getByText(/made crisp with a radius of/).waitFor();
    await row(page, 'last.ease.ball').getByLabel('per cent', { exact: true }).check();
    await row(page, 'last.ease.ball').locator('input[type=text]').fill('-1.5');
    await row(page, 'last.top.pins').getByRole('button', { name: 'Add a pin hole' }).click();
    await page.getByLabel('Another kind of footwear').fill('hiking-type');
    await page.getByRole('button', { name: 'Add it' }).click();
    await row(page, 'check.disciplines.hiking-type.forwardLeanDeg').waitFor();
    await expectSound(watched);
    await keepPicture(page, 'rules-change');

    // What was written outlives a reload.
    await page.reload();
    await row(page, 'last.ease.ball').getByText('−1.5 %').waitFor();
    await page.getByText('Say why in the note.').waitFor();
    await page.getByLabel('Why').fill('More room ahead of the toes for the winter.');
    const save = page.getByRole('button', { name: 'Save the version' });
    await expect.poll(() => save.isEnabled()).toBe(true);
    await save.click();
    await page.getByRole('heading', { name: /house rules, version 2/ }).waitFor();
    await page.getByText('More room ahead of the toes for the winter.').waitFor();

    await page.getByRole('link', { name: 'What changed since version 1' }).click();
    await page.getByText('12 mm is added ahead of the longest toe.').waitFor();
    await page.getByText('Nothing is added ahead of the toes.').waitFor();
    await page.getByText('hiking-type: Wanted forward lean').waitFor();
    await expectSound(watched);
    await keepPicture(page, 'rules-diff');
    const { items } = (await workshop().maker('GET', '/rules')).body;
    expect(items[0]).toMatchObject({ number: 2, personName: 'maker', note: 'More room ahead of the toes for the winter.', casts: 0 });
    const { content } = (await workshop().maker('GET', `/rules/${items[0].id}`)).body;
    expect(content.last).toMatchObject({ toeAllowanceMm: 12, ease: { ball: { percent: -1.5 } } });
    expect(content.last.top.pins).toHaveLength(1);
  });

  it('that someone else changed meanwhile take the changes onto the newer version', async () => {
    const { maker } = workshop();
    const [newest] = (await maker('GET', '/rules')).body.items;
    const watched = await browser.open({ width: 1920, height: 1080 }, true);
    const { page } = watched;
    await signInAs(page, url(), 'maker', `/rules/${newest.id}/change`);
    await number(page, 'marks.landmarkDistanceMm', 'Distance to landmarks').fill('6');
    await page.getByLabel('Why').fill('Nearer to the landmarks.');
    const { content } = (await maker('GET', `/rules/${newest.id}`)).body;
    await maker('POST', '/rules', { name: newest.name, content: { ...content, sheet: { ...content.sheet, inches: false } }, note: 'No inches.', basedOn: newest.id });
    const save = page.getByRole('button', { name: 'Save the version' });
    await expect.poll(() => save.isEnabled()).toBe(true);
    await save.click();
    await page.getByRole('alert').getByText('was added meanwhile').waitFor();
    await keepPicture(page, 'rules-meanwhile-dark');
    await page.getByRole('button', { name: `Put my changes onto version ${newest.number + 1}` }).click();
    await row(page, 'sheet.inches').getByText('The sheet has millimetres alone.').waitFor();
    await page.getByText('1 change', { exact: true }).waitFor();
    expect(await page.getByLabel('Why').inputValue()).toBe('Nearer to the landmarks.');
    watched.complaints.length = 0;
    await expectSound(watched);
    await expect.poll(() => save.isEnabled()).toBe(true);
    await save.click();
    await page.getByRole('heading', { name: `version ${newest.number + 2}` }).waitFor();
    await keepPicture(page, 'rules-read-dark');
  });

  it('go out as a file and come in from one, keys that nobody knows among them', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const [newest] = (await workshop().maker('GET', '/rules')).body.items;
    await signInAs(page, url(), 'maker', `/rules/${newest.id}`);
    const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save as a file' }).click()]);
    const saved = JSON.parse(readFileSync(await download.path(), 'utf8'));
    expect(saved.last.toeAllowanceMm).toBe(12);

    await page.getByRole('link', { name: 'All versions' }).click();
    const give = (name: string, text: string) => page.locator('input[type=file]').setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
    await give('scan.json', 'solid cast');
    await page.getByRole('alert').getByText('scan.json is no JSON file').waitFor();
    await give('other.json', JSON.stringify({ name: 'winter', last: { toeAllowanceMm: 15, squeeze: 3 }, colour: 'blue' }));
    await page.getByText('From the file other.json').waitFor();
    await page.getByRole('alert').getByText('last.squeeze: no such key').waitFor();
    await page.getByRole('button', { name: 'Leave these keys out' }).click();
    await page.getByText('Some keys are no rules of this program.').waitFor({ state: 'detached' });
    await page.getByLabel('Why').fill('From the other shop.');
    const save = page.getByRole('button', { name: 'Save the version' });
    await expect.poll(() => save.isEnabled()).toBe(true);
    await save.click();
    await page.getByRole('heading', { name: /winter, version 1/ }).waitFor();
    await page.getByText('15 mm is added ahead of the longest toe.').waitFor();
    watched.complaints.length = 0;
    await expectSound(watched);
  });

  it('of an earlier version are taken up again as the newest one', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const versions = (await workshop().maker('GET', '/rules')).body.items.filter(({ name }: { name: string }) => name === 'house rules');
    const [newest, oldest] = [versions[0], versions[versions.length - 1]];
    await signInAs(page, url(), 'maker', `/rules/${oldest.id}`);
    await page.getByRole('button', { name: 'Take up again' }).click();
    await row(page, 'last.toeAllowanceMm').getByText('Nothing is added ahead of the toes.').waitFor();
    expect(await page.getByLabel('Why').inputValue()).toBe('As in version 1 again.');
    // One rule among many is found by its words.
    await page.keyboard.press('Escape');
    await page.getByPlaceholder('Find a rule').fill('feather');
    await row(page, 'last.toeAllowanceMm').waitFor({ state: 'detached' });
    await row(page, 'last.sole.featherRadiusMm').waitFor();
    watched.complaints.length = 0;
    await expectSound(watched);
    const save = page.getByRole('button', { name: 'Save the version' });
    await expect.poll(() => save.isEnabled()).toBe(true);
    await save.click();
    await page.getByRole('heading', { name: `house rules, version ${newest.number + 1}` }).waitFor();
    const [{ id }] = (await workshop().maker('GET', '/rules')).body.items;
    const diff = (await workshop().maker('GET', `/rules/${oldest.id}/diff/${id}`)).body.differences;
    expect(diff.map(({ path }: { path: string }) => path)).toEqual(['version']);
  });

  it('being written outlive the end of the session', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const [newest] = (await workshop().maker('GET', '/rules')).body.items;
    await signInAs(page, url(), 'maker', `/rules/${newest.id}/change`);
    await number(page, 'last.toeAllowanceMm', 'Toe allowance').fill('7');
    await row(page, 'last.toeAllowanceMm').getByText('7 mm is added').waitFor();
    await page.context().clearCookies();
    await number(page, 'marks.landmarkDistanceMm', 'Distance to landmarks').fill('5');
    const over = page.getByRole('dialog', { name: 'Sign in again' });
    await over.getByLabel('Name', { exact: true }).fill('maker');
    await over.getByLabel('Password').fill(PASSWORD);
    await over.getByRole('button', { name: 'Sign in' }).click();
    await over.waitFor({ state: 'detached' });
    await page.getByText('2 changes', { exact: true }).waitFor();
    await page.getByLabel('Why').fill('Written over two sessions.');
    const save = page.getByRole('button', { name: 'Save the version' });
    await expect.poll(() => save.isEnabled()).toBe(true);
    await save.click();
    await page.getByText('Written over two sessions.').waitFor();
  });

  it('are read by an assistant, who changes nothing', async () => {
    const watched = await browser.open({ width: 1280, height: 800 }, true);
    const { page } = watched;
    const { items } = (await workshop().maker('GET', '/rules')).body;
    await signInAs(page, url(), 'assistant', `/rules/${items[0].id}`);
    await page.getByRole('heading', { name: 'Cast check' }).waitFor();
    expect(await page.getByRole('link', { name: 'Change', exact: true }).count()).toBe(0);
    watched.complaints.length = 0;
    await expectSound(watched);
    await page.goto(`${url()}/rules/${items[0].id}/change`);
    await page.getByText('Only a maker changes rules.').waitFor();
  });
});
