import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { canonicalJson, sha256 } from '@cast-to-last/pipeline/digest';
import { stageKey } from '@cast-to-last/pipeline/stage-key';

describe('canonicalJson', () => {
  it('does not depend on the order of keys, at any depth, but on that of lists', () => {
    expect(canonicalJson({ b: [{ y: 1, x: 2 }], a: null })).toBe(canonicalJson({ a: null, b: [{ x: 2, y: 1 }] }));
    expect(canonicalJson([1, 2])).not.toBe(canonicalJson([2, 1]));
  });

  it('takes a key without a value as no key, and is JSON', () => {
    expect(canonicalJson({ a: 1, b: undefined })).toBe('{"a":1}');
    const value = { text: 'a "b" \n', list: [true, null, -0.5], nested: { z: {}, a: [] } };
    expect(JSON.parse(canonicalJson(value))).toEqual(value);
  });
});

describe('stageKey', () => {
  const key = (changes: Partial<{ name: string; version: number; before: string[]; reads: unknown }> = {}): string => {
    const { name, version, before, reads } = { name: 'align', version: 1, before: ['k'], reads: { side: 'left' }, ...changes };
    return stageKey(name, version, before, reads);
  };

  it('is the same for the same, and another when anything that it names changes', () => {
    expect(key()).toBe(key());
    expect(key()).toMatch(/^[0-9a-f]{64}$/);
    const others = [key({ name: 'repair' }), key({ version: 2 }), key({ before: ['l'] }), key({ before: ['k', 'k'] }), key({ reads: { side: 'right' } }), key({ reads: null })];
    expect(new Set([key(), ...others]).size).toBe(7);
  });
});

describe('sha256', () => {
  // FIPS 180-4 example: the message "abc".
  it('is SHA-256', () => {
    expect(sha256('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(sha256(new Uint8Array([97, 98, 99]))).toBe(createHash('sha256').update('abc').digest('hex'));
  });
});
