import { describe, expect, it } from 'vitest';
import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import type { SheetForm, SheetHeader } from '@cast-to-last/pipeline/sheet/sheet-content';
import { parseStoredDrawing } from '@cast-to-last/pipeline/sheet/stored-drawing';
import { drawOutcomeSheet } from '@cast-to-last/pipeline/stages/draw-sheet';
import { handMadeOutcome } from '../../support/hand-made-outcome.js';
import { sheetFaults } from '../../support/report-schema.js';

const bare: SheetHeader = { orderNumber: '1042', date: null };
const full: SheetHeader = {
  orderNumber: '1042', date: '2026-03-17', customerNumber: 'K-9', remarks: 'x', approval: { by: 'M. Keller', on: '2026-03-20' }, recordUrl: 'https://example.test/4',
  other: { side: 'right', measurements: [{ id: 'foot-length', label: 'foot length', on: 'cast', value: 103.5, unit: 'mm', uncertainty: 0.3, onFilled: 0 }] },
};

async function written(header: SheetHeader, form: Partial<SheetForm> = {}) {
  const outcome = handMadeOutcome();
  const changes = [{ id: 'toe-allowance', label: 'x', unit: 'mm', before: 1, asked: 2, got: 2 }, { id: 'sole-moved', label: 'y', unit: 'mm', before: 0, asked: null, got: 1 }] as const;
  const told: CastOutcome = { ...outcome, rules: { ...DEFAULT_RULES, sheet: { ...DEFAULT_RULES.sheet, ...form } }, last: { ...outcome.last, allowances: { ...outcome.last.allowances, changes } } };
  const { json } = await drawOutcomeSheet(told, header, { fileName: 'a.stl', programVersion: '0.1.0' });
  return JSON.parse(new TextDecoder().decode(json));
}

describe('sheet.json', () => {
  it.each([['a bare order', bare, {}], ['all that a host may say', full, {}], ['German on the other paper', full, { language: 'de', paper: 'letter', inches: false }]] as const)('is as its schema describes it, with %s', async (_, header, form) => {
    const json = await written(header, form);
    expect(sheetFaults(json)).toEqual([]);
    expect(parseStoredDrawing(json, 'The sheet').header).toEqual(header);
  });

  it('is told from what is none: the schema names the place', async () => {
    const json = await written(full);
    expect(sheetFaults({ ...json, extra: 1 })).toEqual(['/ must NOT have additional properties']);
    expect(sheetFaults({ ...json, verdict: 'fine' })[0]).toContain('/verdict');
    const { featherLine, ...drawn } = json.drawn;
    expect(featherLine).toEqual([]);
    expect(sheetFaults({ ...json, drawn })).toEqual(["/drawn must have required property 'featherLine'"]);
    expect(sheetFaults({ ...json, drawings: { ...json.drawings, map: [{ ...json.drawings.map[0], view: 'front' }] } })[0]).toContain('/drawings/map/0/view');
    expect(sheetFaults({ ...json, measures: [{ ...json.measures[0], cast: { value: 'long', uncertainty: 1 } }] })[0]).toContain('/measures/0/cast');
  });
});
