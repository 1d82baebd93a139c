import { BufferAttribute, BufferGeometry, Group, Mesh } from 'three';
import type { ShaderMaterial } from 'three';
import type { ShownBody } from '../../parts/geometry/calls.js';
import type { SceneColours } from './surface-material.js';
import { groundTints, paint, surfaceMaterial } from './surface-material.js';
import { trianglesNear } from './triangles-near.js';

export type BodyName = ShownBody['name'];
export type Side = 'left' | 'right';

/** What of a foot is drawn: one body, or two against each other. */
export interface Display {
  readonly body: BodyName;
  readonly against: BodyName | null;
  readonly how: 'faded' | 'wiped';
  /** 0 to 1: how much of `against` is seen, or how far from the heel the edge stands. */
  readonly amount: number;
  readonly change: boolean;
  /** mm at the ends of the scale of change. */
  readonly rangeMm: number;
  readonly ground: boolean;
}

interface Levels {
  light: BufferGeometry | null;
  full: BufferGeometry | null;
  /** Another light level came since: until its full level is there, the light one is what is true. */
  fullIsOld: boolean;
  ofTriangles: number;
}

/** One foot on its own turntable, in its foot frame, with every body of it that has come so far. */
export class FootStand {
  /** Turned by the stage about the middle of the foot. */
  readonly group = new Group();
  /** Holds what is drawn with the foot: tapes, axes, a section. */
  readonly drawn = new Group();
  readonly side: Side;
  /** Length, half breadth and height of what stands here, mm. */
  size = { length: 260, half: 50, height: 120 };
  private readonly levels = new Map<BodyName, Levels>();
  private readonly first: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly second: Mesh<BufferGeometry, ShaderMaterial>;
  private readonly foot = new Group();
  private display: Display | null = null;
  private colours: SceneColours | null = null;

  constructor(side: Side) {
    this.side = side;
    const empty = new BufferGeometry();
    this.first = new Mesh(empty, surfaceMaterial());
    this.second = new Mesh(empty, surfaceMaterial());
    this.second.renderOrder = 1;
    for (const mesh of [this.first, this.second]) mesh.frustumCulled = false;
    this.foot.add(this.first, this.second, this.drawn);
    this.group.add(this.foot);
  }

  /** False where the light level is the one that stands there already. */
  set(level: 'light' | 'full', body: ShownBody): boolean {
    const levels = this.levels.get(body.name) ?? { light: null, full: null, fullIsOld: false, ofTriangles: body.ofTriangles };
    if (level === 'light' && levels.light !== null && isSame(levels.light, body)) return false;
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(body.positions, 3));
    geometry.setAttribute('normal', new BufferAttribute(body.normals, 3));
    const count = body.positions.length / 3;
    geometry.setAttribute('change', new BufferAttribute(body.change ?? new Float32Array(count), 1));
    geometry.setAttribute('ground', new BufferAttribute(new Uint8Array(4 * count), 4, true));
    geometry.setIndex(new BufferAttribute(body.triangles, 1));
    levels[level]?.dispose();
    levels[level] = geometry;
    levels.fullIsOld = level === 'light' && levels.full !== null;
    levels.ofTriangles = body.ofTriangles;
    this.levels.set(body.name, levels);
    if (body.name === 'cleaned' || this.levels.size === 1) this.measure(body.positions);
    return true;
  }

  private measure(positions: Float32Array): void {
    let [length, half, height] = [0, 0, 0];
    for (let i = 0; i < positions.length; i += 3) {
      length = Math.max(length, positions[i]);
      half = Math.max(half, Math.abs(positions[i + 1]));
      height = Math.max(height, positions[i + 2]);
    }
    this.size = { length, half, height };
    this.foot.position.set(-length / 2, 0, -height / 2);
  }

  has = (name: BodyName): boolean => this.levels.has(name);
  geometry = (name: BodyName, level: 'light' | 'full'): BufferGeometry | null => this.levels.get(name)?.[level] ?? null;
  trianglesOf = (name: BodyName): number => this.levels.get(name)?.ofTriangles ?? 0;

  /** Gives each vertex of a level its ground. */
  lay(name: BodyName, level: 'light' | 'full', codes: Uint8Array): void {
    const ground = this.geometry(name, level)?.getAttribute('ground') as BufferAttribute | undefined;
    if (ground === undefined || ground.array.length !== 4 * codes.length || this.colours === null) return;
    const tints = groundTints(this.colours);
    codes.forEach((code, v) => (ground.array as Uint8Array).set(tints.subarray(4 * code, 4 * code + 4), 4 * v));
    ground.needsUpdate = true;
  }

  /** Other values in the place of a body's change; null: its own again. */
  deviate(name: BodyName, level: 'light' | 'full', values: Float32Array | null): void {
    const geometry = this.geometry(name, level);
    if (geometry === null) return;
    geometry.userData.own ??= geometry.getAttribute('change');
    geometry.setAttribute('change', values === null ? (geometry.userData.own as BufferAttribute) : new BufferAttribute(values, 1));
    geometry.userData.deviates = values !== null;
  }

  show(display: Display): void {
    this.display = display;
  }

  paint(colours: SceneColours): void {
    this.colours = colours;
  }

  /** x, y, z and radius in the foot frame of the brush; radius 0: none. */
  cursor(at: readonly number[], radius: number): void {
    for (const { material } of [this.first, this.second]) material.uniforms.cursor.value.set(at[0] ?? 0, at[1] ?? 0, at[2] ?? 0, radius);
  }

  /** Makes ready what the next frame draws; how many triangles that is. */
  ready(level: 'light' | 'full'): number {
    const { display, colours } = this;
    if (display === null || colours === null) return 0;
    const shown = this.has(display.body) ? display.body : (['cleaned', 'scan', 'last'] as const).find((name) => this.has(name));
    if (shown === undefined) return 0;
    const against = display.against !== null && display.against !== shown && this.has(display.against) ? display.against : null;
    const edge = display.amount * this.size.length;
    let drawn = this.put(this.first, shown, level, display, { opacity: 1, wipe: against !== null && display.how === 'wiped' ? [edge, 1] : [0, 0] });
    this.second.visible = against !== null && (display.how === 'wiped' || display.amount > 0.01);
    if (against !== null && this.second.visible) {
      drawn += this.put(this.second, against, level, display, display.how === 'wiped' ? { opacity: 1, wipe: [edge, -1] } : { opacity: display.amount, wipe: [0, 0] });
    }
    return drawn;
  }

  private put(mesh: Mesh<BufferGeometry, ShaderMaterial>, name: BodyName, level: 'light' | 'full', display: Display, { opacity, wipe }: { opacity: number; wipe: number[] }): number {
    const best = level === 'full' && this.levels.get(name)?.fullIsOld === true ? 'light' : level;
    const geometry = this.geometry(name, best) ?? this.geometry(name, best === 'full' ? 'light' : 'full');
    if (geometry === null) return 0;
    mesh.geometry = geometry;
    const { uniforms } = mesh.material;
    paint(mesh.material, this.colours as SceneColours, name);
    uniforms.opacity.value = opacity;
    uniforms.wipe.value = wipe;
    uniforms.range.value = display.rangeMm;
    uniforms.showChange.value = display.change && (name === 'cleaned' || geometry.userData.deviates === true) ? 1 : 0;
    uniforms.showGround.value = !display.ground || name === 'last' ? 0 : display.change ? 0.35 : 1;
    mesh.material.transparent = opacity < 0.99;
    mesh.material.depthWrite = opacity > 0.5;
    return (geometry.index?.count ?? 0) / 3;
  }

  /**
   * Draws what of one body lies round a place (foot frame, mm) alone, in the colour of the cleaned cast and a light across it,
   * without ground or change, while `run` runs.
   */
  alone(body: BodyName, at: readonly [number, number, number], radius: number, run: () => void): void {
    const before = this.display;
    const drawn = this.drawn.visible;
    this.display = { body, against: null, how: 'faded', amount: 0, change: false, rangeMm: 1, ground: false };
    this.drawn.visible = false;
    this.ready('full');
    const near = trianglesNear(this.first.geometry, at, radius);
    this.first.geometry = near;
    const { uniforms } = this.first.material;
    if (this.colours !== null) paint(this.first.material, this.colours, 'cleaned');
    uniforms.raking.value = 1;
    run();
    uniforms.raking.value = 0;
    this.display = before;
    this.drawn.visible = drawn;
    this.ready('full');
    near.dispose();
  }

  dispose(): void {
    for (const { light, full } of this.levels.values()) {
      light?.dispose();
      full?.dispose();
    }
    this.levels.clear();
  }
}

/** Whether a body has the surface, and the change on it, that a geometry shows already. */
function isSame(geometry: BufferGeometry, { positions, change }: ShownBody): boolean {
  const before = geometry.getAttribute('position').array;
  const own = ((geometry.userData.own ?? geometry.getAttribute('change')) as BufferAttribute).array;
  return before.length === positions.length && positions.every((c, i) => c === before[i]) && (change === null || change.every((c, v) => c === own[v]));
}
