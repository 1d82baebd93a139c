import { describe, expect, it } from 'vitest';
import { readFileSync, readdirSync } from 'node:fs';
import { wordsOf } from '@cast-to-last/sheet/words/words-of';

const german = wordsOf('de');

/** Sentences that stages may make, one of each kind. */
const SENTENCES = [
  '1.3 mm is within the 4 mm that the rules smooth.', '5.2 mm is more than the 4 mm up to which the rules smooth.', 'It lies at the inside ball point, which a measure rests on.',
  'The maker decided: keep. callus', 'The instep point could not be found.', 'The cast does not reach above the crook of the ankle.', 'The order names no footbed, so there is nothing to hold it against.',
  'Most of the sole under the heel was missing in the scan.', 'The file names no unit; millimetres were taken, because its longest extent of 273 then has the size of a foot cast.',
  'A hole of 2.1 × 3.0 cm was filled with a smooth surface; check what leans on it.', 'The shape does not tell left from right clearly; it is treated as left, as declared.',
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

  it('leave a sentence that they do not know as it is', () => {
    expect(german.sentence('Something new.')).toBe('Something new.');
    expect(wordsOf('en').sentence('Something new.')).toBe('Something new.');
  });
});

describe('findings in German', () => {
  /** The codes that the checks give, read from their sources. */
  const folder = new URL('../../packages/pipeline/src/checks/', import.meta.url);
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
    if (!['top-closed', 'toes-hidden', 'discipline-not-listed', 'load-unknown'].includes(code)) expect(labels).toContain(code);
  });
});
