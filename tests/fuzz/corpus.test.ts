import { readFileSync, readdirSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { rng } from '../support/rng.ts';
import { TARGETS } from './targets.ts';
import { tryBytes } from './try-bytes.ts';

const CORPUS = new URL('./corpus/', import.meta.url);
/** Copies of each target that every run of the tests tries, beside what once broke something. */
const COPIES: Readonly<Record<string, number>> = { 'mesh-file': 300, cast: 3, archive: 100, import: 20, backup: 40, request: 60, route: 150 };

describe('damaged input', () => {
  afterAll(async () => {
    for (const { end } of TARGETS) await end?.();
  });

  it.each(TARGETS.map((target) => [target.name, target] as const))('%s: some copies are taken or refused', async (name, target) => {
    const faults: string[] = [];
    for (let seed = 7001; seed < 7001 + (COPIES[name] ?? 200); seed++) {
      const { fault } = await tryBytes(target, await target.make(rng(seed)));
      if (fault !== null && !fault.startsWith('took ')) faults.push(`seed ${seed}: ${fault}`);
    }
    expect(faults).toEqual([]);
  });

  it('that once broke something does so no more', async () => {
    const faults: string[] = [];
    for (const name of readdirSync(CORPUS).filter((file) => file.endsWith('.bin'))) {
      const target = TARGETS.find((t) => name.startsWith(`${t.name}-`));
      const { fault } = target === undefined ? { fault: 'has no target' } : await tryBytes(target, readFileSync(new URL(name, CORPUS)));
      if (fault !== null && !fault.startsWith('took ')) faults.push(`${name}: ${fault}`);
    }
    expect(faults).toEqual([]);
  });
});
