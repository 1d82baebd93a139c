import type { RowOf } from '@cast-to-last/runtime/records/schema';

export const shownOrder = ({ id, version, number, customerId, state, content, discipline, createdAt, changedAt }: RowOf<'orders'>) =>
  ({ id, version, number, customerId, state, content, discipline, createdAt, changedAt });
