import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { parseOrder } from '@cast-to-last/pipeline/order';
import type { Report } from '@cast-to-last/pipeline/report/report';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import type { JobProgress, StoredFile } from '@cast-to-last/runtime/records/json-types';
import type { CastMade, CastTask } from '@cast-to-last/runtime/revisions/cast-task';
import { makeCast } from '@cast-to-last/runtime/revisions/make-cast';
import { openStageCache } from '@cast-to-last/runtime/revisions/stage-cache';
import { temporaryFolder } from '../../support/temporary-folder.js';

const SAMPLES = new URL('../../../sample-meshes/', import.meta.url).pathname;

/** A workshop with the scan of one sample cast; `make` makes it by some decisions, with or without what was kept. */
async function workshop() {
  const { blobs, artifacts } = await openStore({ dataFolder: temporaryFolder(), objectStore: null });
  const { sha256 } = await artifacts.add(readFileSync(join(SAMPLES, '2041-left.stl')));
  const task: CastTask = {
    scanSha256: sha256, fileName: '2041-left.stl', side: 'left', kind: 'positive', unit: 'auto', order: parseOrder(JSON.parse(readFileSync(join(SAMPLES, '2041.order.json'), 'utf8'))),
    rules: DEFAULT_RULES, decisions: NO_DECISIONS, date: '2026-02-03', warnings: [],
  };
  const make = async (decisions: CastTask['decisions'], { kept, rules = task.rules }: { kept: boolean; rules?: CastTask['rules'] }) => {
    const cache = openStageCache(blobs, 1e9);
    const heard = { progress: [] as JobProgress[], previews: [] as (readonly StoredFile[])[] };
    const made = await makeCast({ ...task, decisions, rules }, {
      artifacts, cache: kept ? cache : { ...cache, get: async () => undefined, put: () => undefined }, progress: (p) => heard.progress.push(p), preview: (files) => heard.previews.push(files),
    });
    expect(await cache.settled()).toEqual([]);
    return { ...made, ...heard };
  };
  const report = async ({ files }: CastMade): Promise<Report> => JSON.parse(new TextDecoder().decode(await artifacts.bytes(digestOf(files, 'report.json'))));
  return { make, report };
}

const digestOf = (files: readonly StoredFile[], name: string): string => files.find((file) => file.name === name)?.sha256 ?? `no ${name}`;
/** All but the report, which tells of times. */
const digests = ({ files }: CastMade): Record<string, string> => Object.fromEntries(files.filter(({ name }) => name !== 'report.json').map(({ name, sha256 }) => [name, sha256]));
const untimed = (report: Report) => ({ ...report, stages: report.stages.map(({ name, key }) => ({ name, key })) });

describe('a cast made again', () => {
  it('after a decision on a mark takes what does not depend on it as it was, and is the same as one made from the scan', async () => {
    const { make, report } = await workshop();
    const first = await make(NO_DECISIONS, { kept: true });
    expect(first.files.map(({ name }) => name)).toEqual(expect.arrayContaining(['report.json', 'cleaned.stl', 'last.stl', 'last.3mf', 'review.glb', 'view-light.glb', 'view-scan.glb', 'view-cleaned.glb', 'view-last.glb', 'sheet.pdf', 'measures.csv']));
    expect(first.previews).toEqual([]);
    expect(first.progress.map(({ stage }) => stage)).toEqual(first.summary.stages.map(({ name }) => name));
    expect(first.summary.stages.every(({ cached }) => !cached)).toBe(true);

    const { marks } = await report(first);
    const smoothed = marks.filter(({ decision }) => decision === 'smooth');
    expect(smoothed.length).toBeGreaterThan(0);
    const [{ id, centre: [x, y, z] }] = smoothed;
    const decisions: CastTask['decisions'] = { marks: [{ id, decision: 'keep', note: 'as it is' }], patches: [{ centre: [x, y, z], radiusMm: 4, decision: 'protect' }] };
    const again = await make(decisions, { kept: true });
    const cached = again.summary.stages.filter((stage) => stage.cached).map(({ name }) => name);
    expect(cached).toEqual(['read-scan', 'repair', 'shell', 'align', 'find-marks']);
    const fresh = await make(decisions, { kept: false });
    expect(fresh.summary.stages.every((stage) => !stage.cached)).toBe(true);
    expect(digests(again)).toEqual(digests(fresh));
    expect(untimed(await report(again))).toEqual(untimed(await report(fresh)));
    expect(digests(again)['cleaned.stl']).not.toBe(digests(first)['cleaned.stl']);
    expect(again.previews.map((files) => files.map(({ name }) => name))).toEqual([['view-light.glb'], ['view-light.glb', 'view-cleaned.glb']]);
    expect(digestOf(again.previews[1], 'view-cleaned.glb')).toBe(digests(again)['view-cleaned.glb']);

    const longer = { ...DEFAULT_RULES, last: { ...DEFAULT_RULES.last, toeAllowanceMm: DEFAULT_RULES.last.toeAllowanceMm + 3 } };
    const ruled = await make(decisions, { kept: true, rules: longer });
    expect(ruled.summary.stages.filter((stage) => !stage.cached).map(({ name }) => name)).toEqual(['build-last', 'draw-sheet']);
    expect(digests(ruled)['cleaned.stl']).toBe(digests(again)['cleaned.stl']);
    expect(digests(ruled)['last.stl']).not.toBe(digests(again)['last.stl']);

    const back = await make(NO_DECISIONS, { kept: true });
    expect(back.summary.stages.filter((stage) => !stage.cached).map(({ name }) => name)).toEqual(first.summary.stages.map(({ name }) => name).filter((name) => name.startsWith('draw-')));
    expect(digests(back)).toEqual(digests(first));
  });
});
