import { encode } from 'fast-png';
import { medialSign } from '@cast-to-last/foot/side';
import type { Side } from '@cast-to-last/foot/side';
import { readPackedGlb } from '@cast-to-last/geometry/formats/read-packed-glb';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { towardsViewer, viewMesh, visiblePoints } from '@cast-to-last/geometry/views/view';
import type { View, ViewAxes } from '@cast-to-last/geometry/views/view';
import { viewValues } from '@cast-to-last/geometry/views/view-values';
import type { Report } from '@cast-to-last/pipeline/report/report';
import type { Artifacts } from '@cast-to-last/runtime/artifacts/artifacts';
import { changeColour } from '@cast-to-last/sheet/paper/change-colours';
import type { PictureName, ThreadTasks } from './thread-task.js';

/** mm between samples: a foot is then some 650 pixels long. */
const CELL = 0.4;
/** A dent's middle lies so far behind the surface that is seen, mm. */
const SLACK = 6;
const COLOURS = { scan: [206, 199, 184], cleaned: [240, 235, 224], last: [226, 191, 142] } as const;

const X: ViewAxes['right'] = [1, 0, 0];
const Z: ViewAxes['right'] = [0, 0, 1];

/** The same views as on the bench: toes up from above and below, the viewer before the outer or the inner side. */
function pictureAxes(name: PictureName, side: Side): ViewAxes {
  const medial = medialSign(side);
  switch (name) {
    case 'top': return { right: [0, -1, 0], up: X };
    case 'sole': return { right: [0, 1, 0], up: X };
    case 'outer': return { right: [medial, 0, 0], up: Z };
    case 'inner': return { right: [-medial as 1 | -1, 0, 0], up: Z };
    case 'heel': return { right: [0, -1, 0], up: Z };
    case 'toes': return { right: [0, 1, 0], up: Z };
  }
}

/** A body as PNG on a clear ground, in matt light from above the viewer, or in the colours of its change. */
export async function drawStoredPicture(artifacts: Artifacts, { bodySha256, reportSha256, side, view: name, body, rangeMm }: ThreadTasks['draw-picture']['task']): Promise<ThreadTasks['draw-picture']['answer']> {
  const [{ mesh, change }] = await readPackedGlb(await artifacts.bytes(bodySha256));
  const axes = pictureAxes(name, side);
  const view = viewMesh(mesh, axes, CELL);
  const light = viewValues(view, mesh, lightOn(mesh, axes));
  const changes = rangeMm === null || change === null ? null : viewValues(view, mesh, Float64Array.from(change));
  const { marks } = JSON.parse(new TextDecoder().decode(await artifacts.bytes(reportSha256))) as Pick<Report, 'marks'>;
  const seen = visiblePoints(view, Float64Array.from(marks.flatMap(({ centre }) => centre)), SLACK);
  return {
    png: encode({ width: view.columns, height: view.rows, channels: 4, depth: 8, data: coloured(view, light, changes, rangeMm ?? 1, COLOURS[body]) }),
    axes, origin: view.origin, cell: view.cell, rows: view.rows, seen: marks.filter((_, i) => seen[i] === 1).map(({ id }) => id),
  };
}

/** How light each vertex is to a viewer with a lamp above. */
function lightOn(mesh: Mesh, axes: ViewAxes): Float64Array {
  const towards = towardsViewer(axes);
  const lamp = [0, 1, 2].map((k) => 0.62 * axes.up[k] + 0.78 * towards[k]);
  const normals = vertexNormals(mesh);
  return Float64Array.from({ length: normals.length / 3 }, (_, v) => 0.34 + 0.66 * Math.max(0, lamp[0] * normals[3 * v] + lamp[1] * normals[3 * v + 1] + lamp[2] * normals[3 * v + 2]));
}

function coloured({ columns, rows, depth }: View, light: Float32Array, changes: Float32Array | null, rangeMm: number, colour: readonly number[]): Uint8Array {
  const data = new Uint8Array(4 * columns * rows);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const k = row * columns + column;
      if (Number.isNaN(depth[k])) continue;
      const change = changes?.[k] ?? Number.NaN;
      const base = Number.isNaN(change) ? colour : changeColour(change, rangeMm);
      const bright = Number.isNaN(light[k]) ? 0.4 : light[k];
      const at = 4 * ((rows - 1 - row) * columns + column);
      for (let c = 0; c < 3; c++) data[at + c] = Math.min(255, Math.round(base[c] * bright));
      data[at + 3] = 255;
    }
  }
  return data;
}
