import { rounded } from '../report/rounded.js';
import type { DeviationFigures, DeviationMap, Region } from './deviation-map.js';

/** A map's figures as they are written: mm and mm². */
export interface MapFigures {
  readonly upToMm: number;
  readonly overall: WrittenFigures | null;
  readonly regions: readonly ({ readonly region: Region } & WrittenFigures)[];
}

export interface WrittenFigures {
  readonly areaMm2: number;
  readonly medianMm: number;
  readonly p95Mm: number;
  readonly rmsMm: number;
}

const written = ({ area, median, p95, rms }: DeviationFigures): WrittenFigures => ({ areaMm2: rounded(area), medianMm: rounded(median), p95Mm: rounded(p95), rmsMm: rounded(rms) });

export const mapFigures = ({ upTo, overall, regions }: DeviationMap): MapFigures => ({
  upToMm: rounded(upTo),
  overall: overall === null ? null : written(overall),
  regions: regions.map(({ region, ...figures }) => ({ region, ...written(figures) })),
});
