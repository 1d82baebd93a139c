import type { ComparisonContent, ComparisonFigure } from '@cast-to-last/sheet/comparison/comparison-content';
import { mapView } from './hand-made-sheet.js';

const comparedFigure = (label: string, changes: Partial<ComparisonFigure> = {}): ComparisonFigure => ({
  label, unit: 'mm', first: 262.44, second: 251.2, difference: 11.24, uncertainty: 0.5, expected: 0, limit: 8, beyond: true, ...changes,
});

/** A comparison with something of everything. */
export function comparisonByHand(changes: Partial<ComparisonContent> = {}): ComparisonContent {
  return {
    paper: 'a4', language: 'en', inches: true, subject: 'Left foot, mirrored, and right foot', names: ['left (mirrored)', 'right'], side: 'right', mirrored: true,
    bodies: [[{ label: 'File', text: 'a.stl' }], [{ label: 'File', text: 'b.stl' }, { label: 'Side', text: 'right' }]],
    registration: { rms: 0.543, usedShare: 0.921 }, upTo: 119.2, parts: [{ label: 'toes', median: -0.62, p95: 2.91 }, { label: 'all', median: 0.3, p95: 1.4 }],
    figures: [
      comparedFigure('ball girth'), comparedFigure('instep girth', { difference: -2, limit: null, beyond: false, uncertainty: 0.01 }),
      comparedFigure('bend of the sole', { unit: 'deg', first: 6.6, second: 1.9, difference: 4.7, expected: 3, limit: 2.5, beyond: false }),
      comparedFigure('toe box against the ball', { unit: '', first: 0.69, second: 0.7, difference: -0.01, uncertainty: 0.014, limit: null, beyond: false }),
    ],
    findings: [{ severity: 'care', label: 'ball girth', text: 'A finding.' }], particulars: [{ label: 'Rules', text: 'house rules, version 1' }],
    map: (['top', 'sole', 'inner', 'outer'] as const).map((view) => ({ ...mapView(view, 262, 100), marks: [] })),
    ...changes,
  };
}

/** More of everything than a page has room for. */
export const overfullComparison = (changes: Partial<ComparisonContent> = {}): ComparisonContent =>
  comparisonByHand({
    bodies: [Array.from({ length: 7 }, (_, i) => ({ label: `Label ${i}`, text: 'a very long file name '.repeat(9) })), []],
    figures: Array.from({ length: 40 }, (_, i) => comparedFigure(`figure number ${i} with a rather long name`, { expected: 4.2 })),
    findings: Array.from({ length: 20 }, (_, i) => ({ severity: 'note' as const, label: `figure ${i}`, text: `Finding number ${i}: ${'many words '.repeat(30)}.` })),
    ...changes,
  });
