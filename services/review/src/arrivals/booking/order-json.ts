import { numberOf } from '../../parts/number-of.js';
import { ORDER_FIELDS, isNumber } from './fields.js';
import type { OrderValues } from './fields.js';

type Json = Readonly<Record<string, unknown>>;

export interface ReadOrder {
  readonly values: OrderValues;
  /** What no field of the form holds; sent as it came, so that the service says what is wrong with it. */
  readonly rest: Json;
}

/** An order's JSON as values of the form. */
export function valuesOf(content: Json): ReadOrder {
  const values: Record<string, string> = {};
  const rest: Record<string, unknown> = {};
  const walk = (node: unknown, path: string): void => {
    if (path !== '' && Object.hasOwn(ORDER_FIELDS, path) && (typeof node === 'string' || typeof node === 'number')) values[path] = String(node);
    else if (path === 'sides' && isSides(node)) values.sides = node.length === 2 ? 'both' : node[0];
    else if (typeof node === 'object' && node !== null && !Array.isArray(node) && (path === '' || Object.keys(ORDER_FIELDS).some((known) => known.startsWith(`${path}.`)))) {
      for (const [key, value] of Object.entries(node)) walk(value, path === '' ? key : `${path}.${key}`);
    } else if (node !== undefined) put(rest, path, node);
  };
  walk(content, '');
  if (content.sides === undefined) values.sides = 'both';
  return { values, rest };
}

const isSides = (node: unknown): node is ('left' | 'right')[] => Array.isArray(node) && node.length > 0 && node.length <= 2 && new Set(node).size === node.length && node.every((side) => side === 'left' || side === 'right');

/** The order's JSON of what was typed; what is no number where one is wanted is a fault of its path. */
export function contentOf({ values, rest }: ReadOrder): { content: Json; faults: Readonly<Record<string, string>> } {
  const content: Record<string, unknown> = structuredClone(rest);
  const faults: Record<string, string> = {};
  for (const [path, typed] of Object.entries(values)) {
    const text = typed.trim();
    if (text === '' || path === 'sides') continue;
    const number = isNumber(path) ? numberOf(text) : null;
    if (isNumber(path) && number === null) faults[path] = 'must be a number';
    else put(content, path, number ?? text);
  }
  if (values.sides === 'left' || values.sides === 'right') content.sides = [values.sides];
  else if (values.sides === 'both') content.sides = ['left', 'right'];
  if ((values.orderNumber ?? '').trim() === '') faults.orderNumber = 'must not be empty';
  return { content, faults };
}

function put(into: Record<string, unknown>, path: string, value: unknown): void {
  const keys = path.split('.');
  let node = into;
  for (const key of keys.slice(0, -1)) {
    if (typeof node[key] !== 'object' || node[key] === null) node[key] = {};
    node = node[key] as Record<string, unknown>;
  }
  node[keys[keys.length - 1]] = value;
}

/** Without the value at a path, and without what is empty then. */
export function without(json: Json, path: string): Json {
  const [first, ...others] = path.split('.');
  const { [first]: inner, ...rest } = json;
  if (others.length === 0 || typeof inner !== 'object' || inner === null) return rest;
  const left = without(inner as Json, others.join('.'));
  return Object.keys(left).length === 0 ? rest : { ...rest, [first]: left };
}
