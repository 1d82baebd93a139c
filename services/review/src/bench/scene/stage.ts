import { LinearSRGBColorSpace, PerspectiveCamera, Scene, Vector3, WebGLRenderer } from 'three';
import { arrange } from './arrange.js';
import { shootCloseUp } from './close-up.js';
import type { CloseUp } from './close-up.js';
import type { BodyName, FootStand, Side } from './foot-stand.js';
import { Sight } from './sight.js';
import type { SceneColours } from './surface-material.js';
import { plainColour } from './surface-material.js';
import { WordPlaces } from './word-places.js';

/** How the feet are looked at: each stands on a turntable, and both turn as mirror images of each other. */
export interface Look {
  /** 0: toes away from the viewer; a quarter turn shows the outer sides, minus a quarter the inner ones. */
  readonly turn: number;
  /** How far the viewer stands above the level, radians; below it is negative. */
  readonly rise: number;
  /** 1: all in view; more is nearer. */
  readonly near: number;
  /** mm by which the middle of the view lies to the right of and above the middle of the feet. */
  readonly shift: readonly [number, number];
}

const FIELD = (20 * Math.PI) / 180;
/** After the last movement, before everything is drawn at full detail. */
const STILL_MS = 160;
/** After the last change, before a browser that draws in software smooths the edges of the picture. */
const FINE_MS = 700;
/** Up to this many triangles both levels are drawn alike. */
const ALWAYS_FULL = 90_000;

/** Draws the feet into a canvas, only when something changed; the light level while it moves. Throws where there is no WebGL. */
export class Stage {
  readonly stands = new Map<Side, FootStand>();
  look: Look = { turn: 2.4, rise: 0.45, near: 1, shift: [0, 0] };
  /** Called after each frame. */
  readonly drawn = new Set<() => void>();
  /** Where words over the scene lie in this frame. */
  readonly words = new WordPlaces();
  /** Milliseconds that the last frames took, newest last. */
  readonly frameTimes: number[] = [];
  trianglesDrawn = 0;
  /** From places of a foot to the canvas and back, as it was drawn last. */
  readonly sight: Sight;
  private readonly renderer: WebGLRenderer;
  /** Pixels drawn for one of the page, to each side: between these, as many as the screen has. */
  private readonly pixels: Readonly<Record<'moving' | 'changing' | 'still', { readonly least: number; readonly most: number }>>;
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera((FIELD * 180) / Math.PI, 1, 10, 20_000);
  private asked = 0;
  private moving = false;
  /** Whether the left stands above the right instead of beside it. */
  private stacked = false;
  private still: ReturnType<typeof setTimeout> | null = null;
  private fine: ReturnType<typeof setTimeout> | null = null;
  private refining = false;
  /** Pixels of the page; `letter`: the size of its root's letters. */
  private size = { width: 1, height: 1, letter: 16 };
  private lastFrame = 0;

  /** @param inSoftware whether the browser draws without a graphics card: edges are then smoothed in still pictures alone */
  constructor(canvas: HTMLCanvasElement, inSoftware: boolean) {
    this.renderer = new WebGLRenderer({ canvas, antialias: !inSoftware, powerPreference: 'high-performance' });
    this.pixels = inSoftware ? { moving: { least: 0.75, most: 0.75 }, changing: { least: 1, most: 1 }, still: { least: 2, most: 2 } } : { moving: { least: 1, most: 2 }, changing: { least: 1, most: 2 }, still: { least: 1, most: 2 } };
    this.renderer.outputColorSpace = LinearSRGBColorSpace;
    this.sight = new Sight(this.camera, this.stands, () => this.size, () => this.mmPerPixel);
  }

  add(stand: FootStand): void {
    this.stands.set(stand.side, stand);
    this.scene.add(stand.group);
    this.draw();
  }

  remove(side: Side): void {
    const stand = this.stands.get(side);
    if (stand === undefined) return;
    this.scene.remove(stand.group);
    stand.dispose();
    this.stands.delete(side);
    this.draw();
  }

  paint(colours: SceneColours): void {
    this.renderer.setClearColor(plainColour(colours.ground), 1);
    for (const stand of this.stands.values()) stand.paint(colours);
    this.draw();
  }

  resize(width: number, height: number): void {
    this.size = { width: Math.max(1, width), height: Math.max(1, height), letter: Number.parseFloat(getComputedStyle(document.documentElement).fontSize) };
    this.renderer.setSize(this.size.width, this.size.height, false);
    this.stacked = this.stacksBetter();
    this.draw();
  }

  /** Looks another way; `moves`: more will follow at once. */
  turnTo(look: Partial<Look>, moves: boolean): void {
    this.look = { ...this.look, ...look, rise: Math.max(-Math.PI / 2, Math.min(Math.PI / 2, look.rise ?? this.look.rise)), near: Math.max(0.4, Math.min(30, look.near ?? this.look.near)) };
    if (moves) this.move();
    else this.stacked = this.stacksBetter();
    this.draw();
  }

  /** Turns so that a place whose surface looks along `normal` is seen, and brings it to the middle where the view is near. */
  face(side: Side, at: readonly [number, number, number], normal: readonly number[]): void {
    const azimuth = Math.atan2(normal[1], normal[0]);
    const turn = (side === 'left' ? 1 : -1) * (Math.PI - azimuth);
    const level = Math.hypot(normal[0], normal[1]);
    const rise = Math.max(-1.35, Math.min(1.35, Math.atan2(normal[2], level)));
    this.turnTo({ rise, ...(level > 0.2 && { turn }), shift: [0, 0] }, false);
    if (this.look.near <= 1.2) return;
    this.place();
    const spot = this.sight.project(side, at, null);
    const mm = this.mmPerPixel;
    if (spot !== null) this.turnTo({ shift: [(spot.x - this.size.width / 2) * mm, (this.size.height / 2 - spot.y) * mm] }, false);
  }

  private move(): void {
    this.moving = true;
    if (this.still !== null) clearTimeout(this.still);
    this.still = setTimeout(() => {
      this.moving = false;
      this.draw();
    }, STILL_MS);
  }

  /** Draws with the next frame of the screen. */
  draw(): void {
    if (this.asked !== 0) return;
    this.asked = requestAnimationFrame((now) => {
      this.asked = 0;
      if (this.moving && this.lastFrame > 0) {
        this.frameTimes.push(now - this.lastFrame);
        if (this.frameTimes.length > 240) this.frameTimes.shift();
      }
      this.lastFrame = this.moving ? now : 0;
      this.frame();
    });
  }

  private ratioOf(state: 'moving' | 'changing' | 'still'): number {
    const { least, most } = this.pixels[state];
    return Math.max(least, Math.min(most, devicePixelRatio));
  }

  /** Has the picture drawn finely once nothing has changed for a while. */
  private refineLater(): void {
    if (this.fine !== null) clearTimeout(this.fine);
    this.fine = setTimeout(() => {
      this.fine = null;
      this.refining = true;
      this.draw();
    }, FINE_MS);
  }

  private frame(): void {
    const state = this.moving ? 'moving' : this.refining ? 'still' : 'changing';
    const ratio = this.ratioOf(state);
    this.refining = false;
    const passing = this.moving || ratio < this.ratioOf('still');
    if (passing && !this.moving) this.refineLater();
    if (this.renderer.getPixelRatio() !== ratio) this.renderer.setPixelRatio(ratio);
    this.place();
    const stands = [...this.stands.values()];
    const full = stands.reduce((sum, stand) => sum + stand.ready('full'), 0);
    this.trianglesDrawn = passing && full > ALWAYS_FULL ? stands.reduce((sum, stand) => sum + stand.ready('light'), 0) : full;
    this.renderer.render(this.scene, this.camera);
    this.renderer.domElement.dataset.triangles = String(this.trianglesDrawn);
    this.layOver();
  }

  /** Lays what lies over the picture anew. */
  layOver(): void {
    this.words.clear(this.size.width);
    for (const hear of this.drawn) hear();
  }

  /** Long views of a pair are larger with the left above the right. */
  private stacksBetter(): boolean {
    const { beside, stacked } = arrange([...this.stands.values()], this.look, this.size);
    return this.stands.size > 1 && stacked < 0.8 * beside;
  }

  private place(): void {
    const { turn, rise, near, shift } = this.look;
    const { beside, stacked, apart } = arrange([...this.stands.values()], this.look, this.size);
    const up = new Vector3(Math.sin(rise), 0, Math.cos(rise));
    for (const { group, side } of this.stands.values()) {
      const way = side === 'left' ? 1 : -1;
      if (this.stacked) group.position.copy(up).multiplyScalar(way * apart[1]);
      else group.position.set(0, way * apart[0], 0);
      group.rotation.set(0, 0, way * turn);
    }
    const { camera, size } = this;
    const margin = 1.1;
    const distance = ((this.stacked ? stacked : beside) * margin) / Math.tan(FIELD / 2) / near;
    camera.aspect = size.width / size.height;
    camera.near = Math.max(5, distance - 900);
    camera.far = distance + 1200;
    const target = new Vector3(0, -shift[0], 0).addScaledVector(up, shift[1]);
    camera.up.copy(up);
    camera.position.copy(target).add(new Vector3(-Math.cos(rise) * distance, 0, Math.sin(rise) * distance));
    camera.lookAt(target);
    camera.updateProjectionMatrix();
    this.scene.updateMatrixWorld();
    camera.updateMatrixWorld();
  }

  /** mm of the middle of the scene that one pixel of the page is. */
  get mmPerPixel(): number {
    return (2 * this.camera.position.distanceTo(this.middle()) * Math.tan(FIELD / 2)) / this.size.height;
  }

  private middle(): Vector3 {
    const { rise, shift } = this.look;
    return new Vector3(0, -shift[0], 0).addScaledVector(new Vector3(Math.sin(rise), 0, Math.cos(rise)), shift[1]);
  }

  /** A picture of a body near by, seen along the surface's normal; RGBA rows from the top. Null where the body is not there. */
  closeUp(side: Side, body: BodyName, shot: CloseUp): Uint8ClampedArray<ArrayBuffer> | null {
    const stand = this.stands.get(side);
    if (stand === undefined || !stand.has(body)) return null;
    return shootCloseUp(this.renderer, this.scene, stand, [...this.stands.values()].filter((other) => other !== stand), body, shot);
  }

  /** The foot whose half of the canvas a place lies in. */
  sideAt(x: number, y: number): Side | null {
    const sides = [...this.stands.keys()];
    if (sides.length < 2) return sides[0] ?? null;
    const { shift } = this.look;
    const before = this.stacked ? y < this.size.height / 2 + shift[1] / this.mmPerPixel : x < this.size.width / 2 - shift[0] / this.mmPerPixel;
    return before ? 'left' : 'right';
  }

  close(): void {
    if (this.asked !== 0) cancelAnimationFrame(this.asked);
    for (const timer of [this.still, this.fine]) if (timer !== null) clearTimeout(timer);
    this.stands.forEach((_, side) => this.remove(side));
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  }
}
