import type { RowOf } from '@cast-to-last/runtime/records/schema';

export const shownCast = ({ id, version, orderId, side, state, arrivedAt, drying, photos, note, recastOfId, currentRevisionId, approvedRevisionId, createdAt, changedAt }: RowOf<'casts'>) =>
  ({ id, version, orderId, side, state, arrivedAt, drying, photos, note, recastOfId, currentRevisionId, approvedRevisionId, createdAt, changedAt });
