/** Walls that plaster shells have, mm. */
export const WALL_MM = { least: 0.5, most: 30 } as const;
