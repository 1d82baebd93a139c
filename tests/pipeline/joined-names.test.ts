import { expect, it } from 'vitest';
import { joinedNames } from '@cast-to-last/pipeline/joined-names';

it.each([[[], ''], [['a'], 'a'], [['a', 'b'], 'a and b'], [['a', 'b', 'c'], 'a, b and c']])('%j is “%s”', (names, text) => {
  expect(joinedNames(names)).toBe(text);
});
