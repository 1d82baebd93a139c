import { Box3, BufferAttribute, BufferGeometry, Color, DirectionalLight, HemisphereLight, Mesh, MeshStandardMaterial, PerspectiveCamera, Scene, Vector3, WebGLRenderer } from 'three';
import type { Object3D } from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';
import { readPackedGlb } from '@cast-to-last/geometry/formats/read-packed-glb';
import { askBytes } from '../../server/ask.js';

type Triple = readonly [number, number, number];

/** The browser draws no WebGL. */
export class NoWebGl extends Error {}

/** Where a place of the cast stands in the picture, CSS pixels. */
export interface Placed {
  readonly x: number;
  readonly y: number;
  /** Whether it lies on the far side. */
  readonly behind: boolean;
}

export interface CastScene {
  /** Looks from that side at the whole. */
  look(from: Triple): void;
  /** Turns to a place of the cast, from outside. */
  lookAt(place: Triple): void;
  close(): void;
}

const FIELD_OF_VIEW = 32;

/**
 * Draws the cleaned cast of a view-light.glb (foot frame, mm) and tells where the places stand whenever the view changed.
 * Throws NoWebGl, and what the loader throws.
 */
export async function openCastScene(canvas: HTMLCanvasElement, address: string, places: readonly Triple[], placed: (places: readonly Placed[]) => void): Promise<CastScene> {
  const renderer = rendererOn(canvas);
  const scene = new Scene();
  const camera = new PerspectiveCamera(FIELD_OF_VIEW, 1, 10, 4000);
  camera.up.set(0, 0, 1);
  const lamp = new DirectionalLight(0xffffff, 2.1);
  lamp.position.set(-0.6, 0.8, 1);
  camera.add(lamp);
  const sky = new HemisphereLight(0xffffff, 0x8d8577, 1.4);
  sky.position.set(0, 0, 1);
  scene.add(camera, sky);
  try {
    scene.add(await castOf(address));
  } catch (error) {
    renderer.dispose();
    throw error;
  }
  const box = new Box3().setFromObject(scene);
  const centre = box.getCenter(new Vector3());
  const radius = box.getSize(new Vector3()).length() / 2;
  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  controls.minDistance = radius * 0.4;
  controls.maxDistance = radius * 8;

  const draw = (): void => {
    scene.background = new Color(getComputedStyle(canvas).getPropertyValue('--scene').trim());
    renderer.render(scene, camera);
    placed(places.map((place) => {
      const at = new Vector3(...place);
      const outward = at.clone().sub(centre).dot(camera.position.clone().sub(at));
      at.project(camera);
      return { x: ((at.x + 1) / 2) * canvas.clientWidth, y: ((1 - at.y) / 2) * canvas.clientHeight, behind: outward < 0 };
    }));
  };
  const fit = (): void => {
    const { clientWidth, clientHeight } = canvas;
    if (clientWidth === 0 || clientHeight === 0) return;
    renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    renderer.setSize(clientWidth, clientHeight, false);
    camera.aspect = clientWidth / clientHeight;
    camera.updateProjectionMatrix();
    draw();
  };
  const stand = (from: Vector3, target: Vector3, distance: number): void => {
    controls.target.copy(target);
    camera.position.copy(target).addScaledVector(from.normalize(), distance);
    controls.update();
    draw();
  };
  controls.addEventListener('change', draw);
  const sized = new ResizeObserver(fit);
  sized.observe(canvas);
  const looks = new MutationObserver(draw);
  looks.observe(document.documentElement, { attributes: true, attributeFilter: ['data-look'] });
  fit();
  const whole = (): number => (radius / Math.sin((FIELD_OF_VIEW * Math.PI) / 360)) * Math.max(0.82, 0.82 / camera.aspect);
  return {
    look: (from) => stand(new Vector3(...from), centre, whole()),
    lookAt: (place) => {
      const at = new Vector3(...place);
      const from = at.clone().sub(centre);
      // From along the foot one sees little: across and from above or below is how a cast is held.
      from.x *= 0.35;
      stand(from, centre.clone().lerp(at, 0.4), whole() * 0.8);
    },
    close: () => {
      sized.disconnect();
      looks.disconnect();
      controls.dispose();
      scene.traverse((object) => {
        if (object instanceof Mesh) object.geometry.dispose();
      });
      renderer.dispose();
      renderer.forceContextLoss();
    },
  };
}

function rendererOn(canvas: HTMLCanvasElement): WebGLRenderer {
  // Asked for first: three writes an error to the console where there is none.
  const context = canvas.getContext('webgl2', { antialias: true });
  if (context === null) throw new NoWebGl('WebGL is missing');
  return new WebGLRenderer({ canvas, context, antialias: true });
}

/** The cleaned cast of a file of views, at its light level. */
async function castOf(address: string): Promise<Object3D> {
  const cleaned = (await readPackedGlb(new Uint8Array((await askBytes(address)).bytes))).find(({ name }) => name === 'cleaned');
  if (cleaned === undefined) throw new Error('The file holds no cleaned cast.');
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(cleaned.mesh.positions), 3));
  geometry.setIndex(new BufferAttribute(cleaned.mesh.triangles, 1));
  geometry.computeVertexNormals();
  return new Mesh(geometry, new MeshStandardMaterial({ color: 0xf2ede2, roughness: 0.92, metalness: 0 }));
}
