import { AmbientLight, Box3, Color, DirectionalLight, DoubleSide, Group, Mesh, MeshLambertMaterial, OrthographicCamera, Scene, Vector3, WebGLRenderer } from 'three';
import type { BufferGeometry, Object3D } from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';

/** How two surfaces are shown: one beside the other, parted by a line that is moved, or one in the other. */
export type Showing = 'wipe' | 'beside' | 'within' | 'first';

/** From where they are seen, in the foot frame: X to the toes, Z up. */
const VIEWS = {
  left: { from: [0, 1, 0], up: [0, 0, 1] },
  right: { from: [0, -1, 0], up: [0, 0, 1] },
  below: { from: [0, 0, -1], up: [0, 1, 0] },
  above: { from: [0, 0, 1], up: [0, 1, 0] },
  behind: { from: [-1, 0, 0], up: [0, 0, 1] },
  front: { from: [1, 0, 0], up: [0, 0, 1] },
} as const;
export type View = keyof typeof VIEWS;

export interface SurfaceStage {
  /** Puts two surfaces on the stage; vertex colours are used where they have them. */
  put(first: BufferGeometry, second: BufferGeometry): void;
  show(showing: Showing, wipeAt: number): void;
  look(view: View): void;
  /** Colours as CSS writes them. */
  paint(colours: { readonly ground: string; readonly first: string; readonly second: string }): void;
  readonly drawnTriangles: number;
  close(): void;
}

const MARGIN = 1.08;

/** A stage in a canvas, drawn when something changes. Throws where the browser has no WebGL. */
export function openSurfaceStage(canvas: HTMLCanvasElement): SurfaceStage {
  const renderer = new WebGLRenderer({ canvas, antialias: true });
  renderer.autoClear = false;
  const scene = new Scene();
  const camera = new OrthographicCamera(-1, 1, 1, -1, -2000, 2000);
  const light = new DirectionalLight(0xffffff, 2.2);
  scene.add(new AmbientLight(0xffffff, 1.1), light, camera);
  const bodies: [Mesh, Mesh] = [new Mesh(undefined, material()), new Mesh(undefined, material())];
  const holder = new Group();
  holder.add(...bodies);
  scene.add(holder);
  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  const middle = new Vector3();
  const size = new Vector3(1, 1, 1);
  /** Half the width and height of what is seen in the standard view that was last taken, mm. */
  let fit: readonly [number, number] = [150, 150];
  let [radius, showing, wipeAt, asked, drawn] = [150, 'wipe' as Showing, 0.5, 0, 0];

  const draw = (): void => {
    if (asked === 0) asked = requestAnimationFrame(drawNow);
  };
  const drawNow = (): void => {
    asked = 0;
    const { width, height } = canvas.getBoundingClientRect();
    if (width === 0 || height === 0) return;
    renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    renderer.setSize(width, height, false);
    light.position.copy(camera.position).sub(controls.target).applyAxisAngle(camera.up, 0.5).add(camera.up);
    renderer.setScissorTest(false);
    renderer.clear();
    const half = width / 2;
    drawn = 0;
    if (showing === 'beside') {
      part(0, half, half, height, 0, bodies[0]);
      part(half, half, half, height, half, bodies[1]);
    } else if (showing === 'wipe') {
      const at = Math.round(width * wipeAt);
      part(0, width, at, height, 0, bodies[0]);
      part(0, width, width - at, height, at, bodies[1]);
    } else if (showing === 'within') part(0, width, width, height, 0, ...bodies);
    else part(0, width, width, height, 0, bodies[0]);
  };
  /** Draws bodies into a field of `field` px from `left`, where it lies within `clip` px from `from`. */
  const part = (left: number, field: number, clip: number, height: number, from: number, ...shown: Mesh[]): void => {
    if (clip <= 0) return;
    for (const body of bodies) body.visible = shown.includes(body);
    const first = bodies[0].material as MeshLambertMaterial;
    first.transparent = shown.length === 2;
    first.opacity = shown.length === 2 ? 0.45 : 1;
    first.depthWrite = shown.length !== 2;
    const mmPerPixel = MARGIN * Math.max((2 * fit[0]) / field, (2 * fit[1]) / height);
    const [x, y] = [(mmPerPixel * field) / 2, (mmPerPixel * height) / 2];
    [camera.left, camera.right, camera.top, camera.bottom] = [-x, x, y, -y];
    camera.updateProjectionMatrix();
    renderer.setViewport(left, 0, field, height);
    renderer.setScissor(from, 0, clip, height);
    renderer.setScissorTest(true);
    renderer.render(scene, camera);
    drawn += renderer.info.render.triangles;
  };
  controls.addEventListener('change', draw);
  const sized = new ResizeObserver(draw);
  sized.observe(canvas);
  canvas.addEventListener('webglcontextrestored', draw);

  const look = (view: View): void => {
    const { from, up } = VIEWS[view];
    camera.up.set(...(up as [number, number, number]));
    controls.target.copy(middle);
    camera.position.copy(middle).addScaledVector(new Vector3(...(from as [number, number, number])), radius * 3);
    camera.zoom = 1;
    // The standard views look along an axis, so the box shows its edges as they are.
    const across = new Vector3(...(from as [number, number, number])).cross(camera.up);
    fit = [Math.abs(across.dot(size)) / 2, Math.abs(camera.up.dot(size)) / 2];
    controls.update();
    draw();
  };
  return {
    put: (first, second) => {
      bodies.forEach((body, i) => {
        const geometry = i === 0 ? first : second;
        if (geometry.getAttribute('normal') === undefined) geometry.computeVertexNormals();
        if (body.geometry !== geometry) body.geometry.dispose();
        body.geometry = geometry;
        const own = body.material as MeshLambertMaterial;
        own.vertexColors = geometry.getAttribute('color') !== undefined;
        if (own.vertexColors) own.color = new Color(1, 1, 1);
        own.needsUpdate = true;
      });
      const box = new Box3().expandByObject(holder as Object3D);
      box.getCenter(middle);
      radius = box.getSize(size).length() / 2;
      draw();
    },
    show: (how, at) => {
      [showing, wipeAt] = [how, at];
      draw();
    },
    look,
    paint: ({ ground, first, second }) => {
      renderer.setClearColor(cssColour(ground), 1);
      bodies.forEach((body, i) => {
        const own = body.material as MeshLambertMaterial;
        if (!own.vertexColors) own.color = cssColour(i === 0 ? first : second);
      });
      draw();
    },
    get drawnTriangles() {
      return drawn;
    },
    close: () => {
      cancelAnimationFrame(asked);
      sized.disconnect();
      controls.dispose();
      for (const body of bodies) body.geometry.dispose();
      renderer.dispose();
    },
  };
}

const material = (): MeshLambertMaterial => new MeshLambertMaterial({ side: DoubleSide });

/** As it is written: the canvas shows the numbers of a colour without change. */
const cssColour = (css: string): Color => new Color().setStyle(css.trim());
