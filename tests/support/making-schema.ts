import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import type { ValidateFunction } from 'ajv/dist/2020.js';

const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
const compiled = (name: string): ValidateFunction => ajv.compile(JSON.parse(readFileSync(new URL(`../../packages/pipeline/schema/${name}.schema.json`, import.meta.url), 'utf8')));
const faultsOf = (validate: ValidateFunction) => (value: unknown): string[] =>
  validate(JSON.parse(JSON.stringify(value))) ? [] : (validate.errors ?? []).map((e) => `${e.instancePath || '/'} ${e.message ?? ''}`);

/** What the schema that ships with the program finds wrong with making.json; empty where it fits. */
export const makingFaults = faultsOf(compiled('making'));
/** The same for milling.json. */
export const millingFaults = faultsOf(compiled('milling'));
