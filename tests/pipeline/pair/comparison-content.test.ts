import { describe, expect, it } from 'vitest';
import { comparisonContent } from '@cast-to-last/pipeline/pair/comparison-content';
import type { ComparisonReport } from '@cast-to-last/pipeline/pair/comparison-report';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';

const figure = (id: string, changes: Partial<ComparisonReport['measures'][number]> = {}) => ({
  id, label: id.replaceAll('-', ' '), unit: 'mm', first: 262.4, second: 251.2, difference: 11.2, uncertainty: 0.5, expected: 0, limit: 8, beyond: true, ...changes,
});
const scan = { file: 'a.stl', sha256: 'ab'.repeat(32), of: 'cast', kind: 'positive', side: 'left', load: 'half', verdict: 'usable-with-care' } as const;
const written = { areaMm2: 10, medianMm: -0.4, p95Mm: 1.2, rmsMm: 0.6 };
const found = (code: string, severity: 'note' | 'care') => ({ code, severity, value: 11.2, limit: 8, unit: 'mm', uncertainty: 0.5, at: null, suspect: null, text: `Of ${code}.` });

const report = (changes: Partial<ComparisonReport> = {}): ComparisonReport => ({
  schema: 1, casts: [scan, { ...scan, file: 'b.stl', side: 'right' }], relation: 'other-side', measures: [figure('ball-girth')], readings: [figure('sole-bend', { unit: 'deg', limit: null, beyond: false })],
  findings: [found('pair-load', 'note'), found('pair-ball-girth', 'care')],
  registration: { transform: [], mirrored: true, rmsMm: 0.54, usedShare: 0.92 }, deviation: { upToMm: 119, overall: written, regions: [{ region: 'toes', ...written }] },
  rules: { name: 'house rules', version: '1', sha256: 'c' }, program: { version: '0.1.0' }, ...changes,
});

describe('comparisonContent', () => {
  it('says what was compared, the figures as they were written, findings worst first under what they are about', () => {
    const content = comparisonContent(report(), [], DEFAULT_RULES.sheet);
    expect(content).toMatchObject({
      subject: 'Left foot, mirrored, and right foot', names: ['left (mirrored)', 'right'], side: 'right', mirrored: true, registration: { rms: 0.54, usedShare: 0.92 }, upTo: 119,
      parts: [{ label: 'toes', median: -0.4, p95: 1.2 }, { label: 'all' }],
      figures: [{ label: 'ball girth', unit: 'mm', difference: 11.2, limit: 8, beyond: true }, { label: 'bend of the sole', unit: 'deg', limit: null }],
      findings: [{ severity: 'care', label: 'ball girth', text: 'Of pair-ball-girth.' }, { severity: 'note', label: '' }],
    });
    expect(content.bodies[0].map(({ text }) => text)).toEqual(['a.stl', 'cleaned cast', 'left', 'plaster positive', 'half of the weight', 'The cast is usable with care.', 'abababababababab…']);
  });

  it('calls two of one foot first and second, and says of a mesh file only what is known', () => {
    const file = { ...scan, of: 'file', kind: null, load: null, verdict: null } as const;
    const content = comparisonContent(report({ casts: [file, { ...file, of: 'last' }], relation: 'same-side', registration: { transform: [], mirrored: false, rmsMm: 1, usedShare: 1 } }), [], DEFAULT_RULES.sheet);
    expect(content).toMatchObject({ subject: 'Twice the left foot', names: ['first', 'second'], mirrored: false });
    expect(content.bodies[0].map(({ text }) => text)).toEqual(['a.stl', 'mesh file as it is, not cleaned and not checked', 'left', 'abababababababab…']);
    expect(content.bodies[1][1].text).toBe('last');
  });

  it('says it in German', () => {
    const content = comparisonContent(report(), [], { ...DEFAULT_RULES.sheet, language: 'de' });
    expect(content).toMatchObject({
      subject: 'Linker Fuß, gespiegelt, und rechter Fuß', figures: [{ label: 'Ballenumfang' }, { label: 'Knick der Sohle' }], parts: [{ label: 'Zehen' }, { label: 'alles' }],
      findings: [{ label: 'Ballenumfang', text: 'Die beiden Abgüsse unterscheiden sich mehr, als Füße es meist tun (Unterschied 11,2 ± 0,5 mm, Grenze 8,0 mm).' }, {}],
    });
  });
});
