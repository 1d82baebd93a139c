import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';

const schemaFile = new URL('../../packages/pipeline/schema/report.schema.json', import.meta.url);
const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
const validate = ajv.compile(JSON.parse(readFileSync(schemaFile, 'utf8')));

/** What the schema that ships with the program finds wrong with a report; empty where it fits. */
export function reportFaults(report: unknown): string[] {
  if (validate(JSON.parse(JSON.stringify(report)))) return [];
  return (validate.errors ?? []).map((e) => `${e.instancePath || '/'} ${e.message ?? ''}`);
}
