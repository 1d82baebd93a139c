import { describe, expect, it } from 'vitest';
import { readFileSync, readdirSync } from 'node:fs';
import { wordsOf } from '@cast-to-last/sheet/words/words-of';

const german = wordsOf('de');

/** Sentences that stages may make, one of each kind. */
const SENTENCES = [
  '1.3 mm is within the 4 mm that the rules smooth.', '5.2 mm is more than the 4 mm up to which the rules smooth.', 'It lies at the inside ball point, which a measure rests on.',
  'The maker decided: keep. callus', 'The decision "smooth" on dent-9 meets no mark of this cast: it did nothing.', 'The decision "keep" on 142.0, -31.5, 22.0 meets no mark of this cast: it did nothing.',
  'Nothing of the cast lies under the patch of 9 mm at 400.0, 0.0, 0.0: it did nothing.', 'No sound surface near enough says what should be at the patch of 60 mm at 60.0, 12.0, 71.5: it was left as it is.',
  'No sound surface near enough says what should be at ridge-2: it was left as it is.',
  'The instep point could not be found.', 'The cast does not reach above the crook of the ankle.', 'The order names no footbed, so there is nothing to hold it against.',
  'Most of the sole under the heel was missing in the scan.', 'The file names no unit; millimetres were taken, because its longest extent of 273 then has the size of a foot cast.',
  "The file names no unit; inches were taken, because its longest extent of 11.8 (299 mm) then has the size of a foot cast. If it is a small child's, 118 mm in centimetres, say so with --unit cm.",
  'A hole of 2.1 × 3.0 cm was filled with a smooth surface; check what leans on it.', 'The shape does not tell left from right clearly; it is treated as left, as declared.',
  'The scan shows both sides of the shell, though it was booked in as a scan of the outside; the inner one is the foot, and the wall was measured: 4.2 mm.',
  'The scan shows both sides of the shell; the inner one is the foot, and the wall was measured: 4.2 mm.', 'The flat top has room for one mark of the midline.',
  'The scanner "arm" was out of limits when it was checked on 2026-03-01: form error of ball 2 0.31 mm (limit 0.2 mm), sphere-spacing error 0.44 mm (limit 0.3 mm). Its scans are 0.22 % too large: 0.6 mm on a girth of 250 mm. Every measure of this cast may be off.',
  'The scanner "arm" was out of limits when it was checked on 2026-03-01: size error of ball 1 0.31 mm (limit 0.2 mm). Every measure of this cast may be off.',
  'The piece "heel" has room for 1 of 2 drains of 4 mm into a hollow of 120 cm³.', 'The changes of girth asked for differ much from one station to the next, which shows as a hollow or a rise between ball and instep; ask for changes that differ less to avoid it.',
  'The rules ask for a toe box 20 mm high, but the toes need 22.4 mm: the box is left at that height.',
  'The sole shows no edge over 12 % of its outline: the feather line stays as it was cast there.', 'The sole is bent by 8.1° where 9.0° were asked for.',
];

describe('sentences of the stages in German', () => {
  it.each(SENTENCES)('%s', (sentence) => {
    const said = german.sentence(sentence);
    expect(said).not.toBe(sentence);
    expect(said).not.toMatch(/\b(the|is|were|and|of|that)\b/);
    // Every number of the sentence stands in the German one, with a comma.
    for (const number of sentence.match(/\d+(\.\d+)?/g) ?? []) expect(said).toContain(number.replace('.', ','));
  });

  it('leave the dots of names as they are', () => {
    const said = german.sentence('The last was made again from the cleaned cast by the rules "boots", version 2.1; cast check and marks are those of "clogs", version 1.0.');
    for (const words of ['„boots“, Fassung „2.1“', '„clogs“, Fassung „1.0“']) expect(said).toContain(words);
  });

  it('leave a sentence that they do not know as it is', () => {
    expect(german.sentence('Something new.')).toBe('Something new.');
    expect(wordsOf('en').sentence('Something new.')).toBe('Something new.');
  });
});

describe('warnings in German', () => {
  const root = new URL('../../../packages/pipeline/src/', import.meta.url);
  const sources = ['last', 'making', 'stages', 'scan', 'repair', 'shell', 'remake'].flatMap((folder) => readdirSync(new URL(folder, root), { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts')).map((name) => `${folder}/${name}`));
  /** A sentence as its source has it, with a number in place of what it is told, and of two ways to put it the first. */
  const filled = (source: string): string => {
    let text = source.replaceAll(/\$\{[^{}]*\? '([^']*)' : '[^']*'\}/g, '$1');
    while (/\$\{[^{}]*\}/.test(text)) text = text.replaceAll(/\$\{[^{}]*\}/g, '7');
    return text;
  };
  const sentences = [...sources, 'scanner/scanner-warnings.ts'].flatMap((name) =>
    readFileSync(new URL(name, root), 'utf8').split('\n').filter((line) => /warnings|said\.push|UNEVEN|return \[|const note/.test(line)).flatMap((line) => [...line.matchAll(/([`'])([A-Z].*?\.)\1(?=[\]);,])/g)].map((m) => filled(m[2]))));
  // What a sentence is told may be more than a number: those are among the sentences above.
  const plain = [...new Set(sentences)].filter((text) => !/[a-z.)]7/.test(text));

  it('are found at all', () => expect(plain.length).toBeGreaterThan(25));
  it.each(plain)('%s', (sentence) => expect(german.sentence(sentence)).not.toBe(sentence));

  it('stand beside labels for every change from cast to last', () => {
    const ids = sources.filter((name) => name.startsWith('last/')).flatMap((name) => [...readFileSync(new URL(name, root), 'utf8').matchAll(/'([a-z]+(?:-[a-z]+)*)', label: /g)].map((m) => m[1]));
    expect(ids.length).toBeGreaterThan(10);
    for (const words of [german, wordsOf('en')]) expect(Object.keys(words.changeLabels)).toEqual(expect.arrayContaining([...ids, 'ball-girth', 'waist-girth', 'instep-girth', 'grade-ball', 'grade-waist', 'grade-instep']));
  });
});

describe('reasons in German', () => {
  const root = new URL('../../../packages/', import.meta.url);
  const sources = ['foot/src', 'pipeline/src/checks', 'pipeline/src/cut'].flatMap((folder) => readdirSync(new URL(folder, root), { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts')).map((name) => readFileSync(new URL(`${folder}/${name}`, root), 'utf8')));
  /** Why a measure is absent or a reading could not be taken; what is put together of other texts is left out. */
  const reasons = [...new Set(sources.flatMap((source) => [...source.matchAll(/(?:\babsent: |absent\([^,()]+, |\bwhy: |(?:HIDDEN|MAY_GAPE|GAP_OR_SEAM|GAP_OR_OVERLAP) = |unread\([^,()]+, )'([A-Z][^']*\.)'/g)].map((m) => m[1])))];

  it('are found at all', () => expect(reasons.length).toBeGreaterThan(12));
  it.each(reasons)('%s', (reason) => expect(german.sentence(reason)).not.toBe(reason));
});

describe('findings in German', () => {
  /** The codes that the checks give, read from their sources. */
  const folder = new URL('../../../packages/pipeline/src/checks/', import.meta.url);
  const codes = [...new Set(readdirSync(folder).flatMap((name) => [...readFileSync(new URL(name, folder), 'utf8').matchAll(/(?:\b(?:id|code): |\? )'([a-z]+(?:-[a-z]+)+)'/g)].map((m) => m[1])))];
  /** Readings that are told and never weighed, and so never a finding. */
  const TOLD = ['heel-pitch', 'toe-pitch', 'toe-spread'];

  it('are found at all', () => expect(codes.length).toBeGreaterThan(15));

  it.each(codes.filter((code) => !TOLD.includes(code)))('%s has a sentence with its figures', (code) => {
    const finding = { code, value: '7,9 ± 0,6°', limit: '5,0°', text: 'The check said so.' };
    expect(german.finding(finding)).not.toBe(finding.text);
    expect(wordsOf('en').finding(finding)).toBe(finding.text);
  });

  it('of single measures have theirs, and an unknown one keeps its own', () => {
    for (const code of ['tape-ball-girth', 'population-foot-length', 'pair-instep-girth']) expect(german.finding({ code, value: '3 mm', limit: '2 mm', text: 'x' })).toContain('3 mm');
    expect(german.finding({ code: 'new-thing', value: '', limit: '', text: 'Something new.' })).toBe('Something new.');
  });

  it.each(codes)('the reading %s has a label', (code) => {
    const labels = Object.keys(german.readingLabels);
    // What has no reading of its own: notes without a figure.
    if (!['top-closed', 'stands-on-top', 'cut-hidden', 'toes-hidden', 'discipline-not-listed', 'scan-coarse', 'scan-rippled', 'load-unknown'].includes(code)) expect(labels).toContain(code);
  });
});
