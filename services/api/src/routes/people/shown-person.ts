import type { RowOf } from '@cast-to-last/runtime/records/schema';

/** A person as others see them: nothing of the password. */
export const shownPerson = ({ id, version, name, displayName, role, state }: RowOf<'people'>) => ({ id, version, name, displayName, role, state });
