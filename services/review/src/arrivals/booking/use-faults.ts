import { useState } from 'preact/hooks';
import type { ServerProblem } from '../../server/problem.js';
import { ORDER_FIELDS } from './fields.js';

export interface FaultsShown {
  /** By path of the form, `customer.` before those of the customer. */
  readonly faults: Readonly<Record<string, string>>;
  /** What no field of the form stands for. */
  readonly others: readonly { readonly path: string; readonly message: string }[];
  readonly problem: ServerProblem | null;
}

const NONE: FaultsShown = { faults: {}, others: [], problem: null };

/** Where what the service found wrong is shown: at the field that it is about, else over the form. */
export function useFaults() {
  const [shown, setShown] = useState<FaultsShown>(NONE);
  return {
    ...shown,
    clear: () => setShown(NONE),
    mended: (path: string) => setShown((before) => {
      if (before.faults[path] === undefined) return before;
      const { [path]: _mended, ...faults } = before.faults;
      return { ...before, faults };
    }),
    tell: (faults: Readonly<Record<string, string>>) => setShown({ faults, others: [], problem: null }),
    fail: (problem: ServerProblem, of: 'order' | 'customer') => {
      const at = (path: string): string => (of === 'customer' ? `customer.${path}` : path.replace(/^sides\[\d+\]$/, 'sides'));
      const faults = problem.code === 'already-there' ? [{ path: of === 'customer' ? 'number' : 'orderNumber', message: of === 'customer' ? 'another customer has this number' : 'there is an order of this number already' }] : problem.faults;
      const mine = faults.filter(({ path }) => of === 'customer' || path === 'sides' || Object.hasOwn(ORDER_FIELDS, at(path)));
      setShown({
        faults: Object.fromEntries(mine.map(({ path }) => [at(path), mine.filter((other) => at(other.path) === at(path)).map(({ message }) => message).join('; ')])),
        others: faults.filter((fault) => !mine.includes(fault)),
        problem: faults.length > 0 ? null : problem,
      });
    },
  };
}

/** Brings the first field that has a fault before the eyes. */
export function showFirstFault(): void {
  requestAnimationFrame(() => document.querySelector<HTMLElement>('[aria-invalid="true"], .problem')?.focus());
}
