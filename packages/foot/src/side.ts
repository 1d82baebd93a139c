export type Side = 'left' | 'right';

/** +1 where medial is +Y (right foot), −1 where medial is −Y (left foot). */
export const medialSign = (side: Side): 1 | -1 => (side === 'right' ? 1 : -1);

export const otherSide = (side: Side): Side => (side === 'right' ? 'left' : 'right');
