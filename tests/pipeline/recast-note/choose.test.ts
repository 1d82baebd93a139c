import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ADVICE, OTHER_ADVICE, adviceOn } from '@cast-to-last/pipeline/recast-note/advice';
import { chooseFindings } from '@cast-to-last/pipeline/recast-note/choose';
import { castCheck, weighed } from '../../support/hand-made-check.js';
import type { Weighed } from '../../support/hand-made-check.js';

const told = (...all: Weighed[]) => chooseFindings(castCheck(...all)).map(({ finding }) => finding.code);

describe('what the customer is told', () => {
  it('is what asks for a new cast before what needs care, each by how many times over its limit it lies', () => {
    expect(told(
      weighed('forward-lean', 'care', 9, 3, 5), weighed('rear-view', 'recast', 8, 0, 7), weighed('heel-on-plate', 'care', -4.9, 0, 2.5), weighed('sole-bend', 'recast', 2, 17, 5),
    )).toEqual(['sole-bend', 'rear-view', 'heel-on-plate', 'forward-lean']);
  });

  it('is each topic once, by the worst of it', () => {
    expect(told(weighed('closing-ball', 'recast', 7, 0, 6), weighed('cut-step', 'care', 3, 0, 1.5), weighed('closing-instep', 'recast', -12, 0, 6))).toEqual(['closing-instep']);
    expect(told(weighed('pair-length', 'recast', 20, 0, 6), weighed('pair-girth', 'recast', 9, 0, 8))).toEqual(['pair-length']);
  });

  it('is no note, and no care that is the workshop\'s own matter', () => {
    expect(told(weighed('forward-lean', 'note', 9, 3, 5), weighed('scanner-out-of-date', 'care', 9, 3, 5), weighed('rear-view', 'recast', 9, 0, 7))).toEqual(['rear-view']);
  });

  it('is, of a reason for a new cast without words of its own, that the workshop will explain it', () => {
    const [only] = chooseFindings(castCheck(weighed('unheard-of', 'recast', 9, 0, 7)));
    expect(only.advice).toBe(OTHER_ADVICE);
    expect(told(weighed('unheard-of', 'recast', 9, 0, 7), weighed('unheard-of-too', 'recast', 9, 0, 7))).toHaveLength(1);
  });

  it('never trips over names of the language', () => {
    for (const code of ['constructor', '__proto__', 'toString']) expect(adviceOn(code)).toBeNull();
  });
});

describe('the table of advice', () => {
  const folder = new URL('../../../packages/pipeline/src/checks/', import.meta.url);
  const sources = readdirSync(folder, { recursive: true }).map(String).filter((name) => name.endsWith('.ts')).map((name) => readFileSync(new URL(name, folder), 'utf8'));
  const codes = new Set(sources.flatMap((text) => [...text.matchAll(/\b(?:id|code): '([a-z-]+)'/g)].map(([, code]) => code)));
  /** Told to the workshop alone: notes, and readings that make no finding of their own. */
  const WORKSHOP = ['top-closed', 'stands-on-top', 'cut-hidden', 'discipline-not-listed', 'heel-pitch', 'toe-pitch', 'toe-spread', 'toes-hidden', 'scan-coarse', 'scan-rippled'];

  it('knows every code that the parts of the check give', () => {
    expect(codes.size).toBeGreaterThan(10);
    expect([...codes].filter((code) => adviceOn(code) === null && !WORKSHOP.includes(code))).toEqual([]);
  });

  it('is in whole sentences without figures of its own, which would contradict the rules', () => {
    const words = (text: string | readonly string[] | undefined): readonly string[] => (text === undefined ? [] : typeof text === 'string' ? [text] : text);
    for (const [code, advice] of [...Object.entries(ADVICE), ['other', OTHER_ADVICE] as const]) {
      for (const title of words(advice.title)) expect(title, code).toMatch(/^[A-Z].*[^.]$/);
      for (const next of words(advice.next)) expect(next, code).toMatch(/^[A-Z].*\.$/);
      // What is wrapped off beyond the toes is common practice (no source), not a rule.
      for (const text of [...words(advice.title), ...words(advice.next)]) expect(text.replace('25 to 50', ''), code).not.toMatch(/\d/);
    }
  });
});
