/** Writes the sample casts and their truth: node --conditions=source --import tsx tests/phantoms/make-samples.ts [--out sample-meshes] */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { sampleFiles, SAMPLES } from './samples.js';

const { values } = parseArgs({ options: { out: { type: 'string', default: 'sample-meshes' } } });
mkdirSync(values.out, { recursive: true });
for (const sample of SAMPLES) {
  const { stl, truth } = sampleFiles(sample);
  writeFileSync(join(values.out, `${sample.name}.stl`), stl);
  writeFileSync(join(values.out, `${sample.name}.truth.json`), truth);
  process.stdout.write(`${sample.name}: ${stl.length} bytes\n`);
}
