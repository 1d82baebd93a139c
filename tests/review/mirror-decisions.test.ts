import { describe, expect, it } from 'vitest';
import type { ReportedMark } from '@cast-to-last/pipeline/report/report';
import { mirrorDecisions } from '../../services/review/src/bench/order/mirror-decisions.ts';

const mark = (id: string, centre: [number, number, number]): ReportedMark => ({ id, kind: 'dent', centre, depth: -1, area: 60, length: 10, width: 8, decision: 'ask', why: '' });

describe('mirrorDecisions', () => {
  const own = { marks: [{ id: 'b', centre: [100, 10, 20] as [number, number, number], decision: 'smooth' as const }], patches: [] };
  const from = {
    marks: [
      { id: 'x', centre: [100, -30, 20] as [number, number, number], decision: 'keep' as const, note: 'bunion' },
      { id: 'y', centre: [100, -10, 20] as [number, number, number], decision: 'keep' as const },
      { id: 'z', centre: [40, 25, 5] as [number, number, number], decision: 'smooth' as const },
    ],
    patches: [{ centre: [200, -12, 8] as [number, number, number], radiusMm: 7, decision: 'protect' as const }],
  };

  it('mirrors places, moves them along with the length, and leaves what the other foot decided itself', () => {
    const mirrored = mirrorDecisions(from, own, [mark('a', [111, 31, 22]), mark('b', [110, 10, 20]), mark('c', [44, 25, 5])], 1.1);
    expect(mirrored).toMatchObject({ met: 1, patches: 1 });
    expect(mirrored.decisions.marks).toEqual([own.marks[0], { id: 'a', centre: [111, 31, 22], decision: 'keep', note: 'bunion' }]);
    expect(mirrored.decisions.patches).toEqual([{ centre: [220.00000000000003, 12, 8], radiusMm: 7, decision: 'protect' }]);
  });

  it('there and back is the same', () => {
    const back = mirrorDecisions({ marks: [], patches: mirrorDecisions(from, { marks: [], patches: [] }, [], 1).decisions.patches }, { marks: [], patches: [] }, [], 1);
    expect(back.decisions.patches).toEqual(from.patches);
  });
});
