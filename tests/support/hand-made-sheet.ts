import type { SheetContent, SheetLine, SheetMapView, SheetMark, SheetMeasure, SheetOutline, SheetReading, SheetSection } from '@cast-to-last/sheet/measurement/content';

export const rectangle = (width: number, height: number, left = 0, low = 0): SheetLine[] => [
  { points: new Float64Array([left, low, left + width, low, left + width, low + height, left, low + height]), closed: true },
];

export const outline = (view: SheetOutline['view'], width: number, height: number): SheetOutline => ({
  view, cast: rectangle(width, height), last: rectangle(width, height), contours: [], restLine: view === 'sole' ? null : 0,
  tapes: [{ letter: 'A', lines: [{ points: new Float64Array([width / 2, 0, width / 2, height]), closed: false }] }], feather: [],
  ruler: { zero: 0, direction: 1, length: width },
});

export const section = (letter: string, label: string, width: number, height: number): SheetSection => ({
  letter, label, cast: rectangle(width, height), last: rectangle(width, height), tape: rectangle(width, height)[0], castGirth: { value: 2 * (width + height), uncertainty: 0.4 },
  lastGirth: { value: 2 * (width + height) + 3, uncertainty: 0.3 }, inside: 'left',
});

export const mapView = (view: SheetMapView['view'], width: number, height: number): SheetMapView => ({
  view, cast: rectangle(width, height), last: rectangle(width, height), contours: [], changes: [{ beyond: 0.5, areas: rectangle(30, 20, width - 40, 10) }, { beyond: -0.5, areas: [] }],
  peaks: [{ at: [width - 25, 20], value: 1.4 }], marks: [{ number: 1, decision: 'ask', at: [width / 3, height / 2], areas: rectangle(12, 8, width / 3 - 6, height / 2 - 4) }],
});

export const mark = (number: number): SheetMark => ({
  number, id: `dent-${number}`, kind: 'dent', centre: [100.4, -31.6, 12], depth: -1.26, length: 14.2, width: 9.8, decision: (['smooth', 'keep', 'ask'] as const)[number % 3], why: `Reason number ${number}.`,
});

export const reading = (i: number): SheetReading => ({ label: `forward lean ${i}`, measured: '7.9 ± 0.6°', wanted: '3.0', care: '5.0', recast: '9.0', state: 'in order' });

const measure = (id: string, label: string, changes: Partial<SheetMeasure> = {}): SheetMeasure => ({
  id, label, letter: '', unit: 'mm', cast: { value: 262.44, uncertainty: 0.31 }, last: { value: 274.44, uncertainty: 0.3 }, change: 12, other: null, difference: null, remark: '', ...changes,
});

/** A sheet with something of everything. */
export function sheetContentByHand(changes: Partial<SheetContent> = {}): SheetContent {
  return {
    paper: 'a4', language: 'en', inches: true, orderNumber: '1042', customerNumber: 'K-77', remarks: 'Fit the left first.', side: 'left', date: '2026-03-17',
    record: 'cast-to-last:order/1042/left/0123456789abcdef', fingerprint: '0123456789abcdef', approval: null, verdict: 'usable-with-care',
    particulars: [{ label: 'Rules', text: 'house rules, version 1' }, { label: 'Scan file', text: 'order-1042-left.stl' }],
    casting: [{ label: 'Load', text: 'half of the weight' }],
    measures: [
      measure('foot-length', 'foot length', { other: { value: 264.1, uncertainty: 0.3 }, difference: -1.66 }),
      measure('ball-girth', 'ball girth', { letter: 'A', change: 0 }),
      measure('ankle-girth', 'ankle girth', { letter: 'F', cast: null, last: null, change: null, remark: 'The cast ends 12 mm too low.' }),
      measure('ball-angle', 'ball angle', { unit: 'deg', cast: { value: 13.2, uncertainty: 1 }, last: null, change: null }),
    ],
    other: 'right',
    sizes: { mondopoint: 260, parisPoint: 41.5, uk: 8, usMen: 9, usWomen: null },
    changes: [{ id: 'toe-allowance', label: 'length with toe allowance', unit: 'mm', before: 262.44, asked: 274.44, got: 274.43 }],
    flatTopMm: 80,
    findings: [{ severity: 'care', text: 'A finding.' }],
    readings: [reading(1)],
    reasons: ['toe pitch: There is no footbed in the order.'],
    warnings: ['A warning.'],
    outlines: [outline('profile-outer', 262, 120), outline('sole', 262, 100)],
    sections: [section('A', 'ball girth', 105, 60), section('B', 'waist girth', 85, 60), section('C', 'instep girth', 80, 70), section('D', 'short heel girth', 70, 125)],
    map: [mapView('top', 262, 100), mapView('sole', 262, 100), mapView('inner', 262, 120), mapView('outer', 262, 120)],
    marks: [mark(1), mark(2), mark(3)],
    cautions: ['The first caution.', 'The second caution.'],
    ...changes,
  };
}

/** Long names, long lists: more of everything than a page has room for. */
export const overfullSheet = (changes: Partial<SheetContent> = {}): SheetContent =>
  sheetContentByHand({
    orderNumber: `20${'W'.repeat(78)}`, customerNumber: `K-${'8'.repeat(78)}`, remarks: 'Soft leather, and room for an insole of 4 mm. '.repeat(40), verdict: 'recast',
    approval: { by: `Margarethe ${'von der Heide '.repeat(8)}`, on: '2026-03-18' },
    particulars: Array.from({ length: 4 }, (_, i) => ({ label: `Label ${i}`, text: 'a very long file name '.repeat(6) })),
    measures: Array.from({ length: 16 }, (_, i) => measure(`m${i}`, `measure number ${i}`, { cast: null, remark: `Reason ${i}: the section is open, because the cast stops short of where this tape lies.` })),
    changes: Array.from({ length: 12 }, (_, i) => ({ id: `c${i}`, label: `change number ${i} with a name that is rather long`, unit: 'mm', before: 250, asked: 255.5, got: 255.49 })),
    findings: Array.from({ length: 30 }, (_, i) => ({ severity: (['recast', 'care', 'note'] as const)[Math.floor(i / 10)], text: `Finding number ${i}: ${'many words '.repeat(20)}.` })),
    readings: Array.from({ length: 40 }, (_, i) => reading(i + 1)), reasons: Array.from({ length: 8 }, (_, i) => `reading ${i}: ${'a reason '.repeat(20)}`),
    marks: Array.from({ length: 40 }, (_, i) => mark(i + 1)),
    map: (['top', 'sole', 'inner', 'outer'] as const).map((view) => ({
      ...mapView(view, 300, 110),
      marks: Array.from({ length: 40 }, (_, i) => ({ number: i + 1, decision: (['smooth', 'keep', 'ask'] as const)[i % 3], at: [100 + 7 * (i % 8), 30 + 9 * Math.floor(i / 8)] as const, areas: [] })),
    })),
    ...changes,
  });

/** All that may be absent is. */
export const emptySheet = (changes: Partial<SheetContent> = {}): SheetContent =>
  sheetContentByHand({
    customerNumber: null, remarks: null, date: null, particulars: [], casting: [], measures: [], other: null,
    sizes: { mondopoint: null, parisPoint: null, uk: null, usMen: null, usWomen: null }, changes: [], flatTopMm: null, findings: [], readings: [], reasons: [], warnings: [],
    outlines: [], sections: [], map: [], marks: [], ...changes,
  });
