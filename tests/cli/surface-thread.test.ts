import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { box } from '../support/meshes.js';
import { madeOnce } from '../support/made-once.js';
import { buildPackages } from '../support/run-cli.js';

const THREAD = new URL('../../packages/cli/dist/surfaces/open-surface-thread.js', import.meta.url).href;

/** Runs the built thread beside a program of its own, as the command does. */
const PROGRAM = `
import { openSurfaceThread } from '${THREAD}';
const said = (promise) => promise.then((volume) => ({ volume }), ({ name, code, message }) => ({ name, code, message }));
const { positions, triangles } = JSON.parse(process.argv[2]);
const mesh = { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
const thread = openSurfaceThread();
const answers = [
  await said(thread.weigh(mesh)),
  await said(thread.weigh({ ...mesh, triangles: mesh.triangles.slice(3) })),
  await said(thread.weigh({ ...mesh, triangles: mesh.triangles.slice().reverse() })),
  await said(thread.weigh(mesh)),
];
await thread.close();
console.log(JSON.stringify([...answers, await said(thread.files), await said(thread.weigh(mesh))]));
`;

describe('the thread that makes files', () => {
  let answers: readonly { readonly volume?: number; readonly name?: string; readonly code?: string; readonly message?: string }[];
  beforeAll(async () => {
    await buildPackages();
    const program = join(await madeOnce('weighing', (folder) => writeFileSync(join(folder, 'weigh.mjs'), PROGRAM)), 'weigh.mjs');
    const { positions, triangles } = box(30, 20, 10, 2);
    const mesh = JSON.stringify({ positions: [...positions], triangles: [...triangles] });
    const { stdout, stderr } = spawnSync(process.execPath, [program, mesh], { encoding: 'utf8' });
    expect(stderr).toBe('');
    answers = JSON.parse(stdout) as typeof answers;
  });

  it('weighs a solid', () => {
    expect(answers[0].volume).toBeCloseTo(6000, 6);
  });

  it('says why a mesh is none, and weighs the next one', () => {
    expect(answers[1]).toMatchObject({ name: 'SolidError', code: 'not-manifold' });
    expect(answers[2]).toMatchObject({ name: 'SolidError', code: 'inside-out' });
    expect(answers[3].volume).toBeCloseTo(6000, 6);
  });

  it('leaves no one waiting once it has ended', () => {
    for (const answer of answers.slice(4)) expect(answer.message).toContain('ended');
    expect(answers).toHaveLength(6);
  });
});
