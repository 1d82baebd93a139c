import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';

const schema = (name: string) => JSON.parse(readFileSync(new URL(`../../packages/pipeline/schema/${name}.schema.json`, import.meta.url), 'utf8'));
const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
const validateReport = ajv.compile(schema('report'));
const validateCheck = ajv.compile(schema('check'));
const validateCompare = ajv.compile(schema('compare'));
const validateSheet = ajv.compile(schema('sheet'));
const validateGrade = ajv.compile(schema('grade'));

function faults(validate: typeof validateReport, report: unknown): string[] {
  if (validate(JSON.parse(JSON.stringify(report)))) return [];
  return (validate.errors ?? []).map((e) => `${e.instancePath || '/'} ${e.message ?? ''}`);
}

/** What the schema that ships with the program finds wrong with a report; empty where it fits. */
export const reportFaults = (report: unknown): string[] => faults(validateReport, report);

/** The same for check.json. */
export const checkFaults = (report: unknown): string[] => faults(validateCheck, report);

/** The same for compare.json. */
export const compareFaults = (report: unknown): string[] => faults(validateCompare, report);

/** The same for sheet.json. */
export const sheetFaults = (sheet: unknown): string[] => faults(validateSheet, sheet);

/** The same for grade.json. */
export const gradeFaults = (report: unknown): string[] => faults(validateGrade, report);
