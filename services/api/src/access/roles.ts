import type { RowOf } from '@cast-to-last/runtime/records/schema';

export type Role = RowOf<'people'>['role'];

/** Each may do what those before it may. */
export const ROLES = ['assistant', 'maker', 'administrator'] as const satisfies readonly Role[];

/**
 * Who may use a route. `open`: anyone; `station`: a scanning station's token, and every person; a role: persons of this
 * role and those after it.
 */
export type Access = 'open' | 'station' | Role;

export type Asker = { readonly kind: 'nobody' } | { readonly kind: 'station' } | { readonly kind: 'person'; readonly role: Role };

export function mayUse(asker: Asker, access: Access): boolean {
  if (access === 'open') return true;
  if (asker.kind === 'nobody') return false;
  if (asker.kind === 'station') return access === 'station';
  return access === 'station' || ROLES.indexOf(asker.role) >= ROLES.indexOf(access);
}
