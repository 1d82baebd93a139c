import { changeColour } from '@cast-to-last/sheet/paper/change-colours';
import { Color, DataTexture, DoubleSide, LinearFilter, RGBAFormat, ShaderMaterial, Vector4 } from 'three';

/** Colours of the scale of signed change, from −range to +range. */
function changeTexture(): DataTexture {
  const steps = 256;
  const texels = new Uint8Array(4 * steps);
  for (let i = 0; i < steps; i++) texels.set([...changeColour((2 * i) / (steps - 1) - 1, 1), 255], 4 * i);
  const texture = new DataTexture(texels, steps, 1, RGBAFormat);
  texture.minFilter = texture.magFilter = LinearFilter;
  texture.needsUpdate = true;
  return texture;
}

let scale: DataTexture | null = null;

const VERTEX = /* glsl */ `
attribute float change;
attribute vec4 ground;
varying vec3 vNormal, vAt;
varying float vChange;
varying vec4 vGround;
void main() {
  vNormal = normalMatrix * normal;
  vAt = position;
  vChange = change;
  vGround = ground;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}`;

/** Matt plaster: a broad light from above the viewer and weaker ones from both sides, nothing that shines; for forms near by one light across the surface. */
const FRAGMENT = /* glsl */ `
uniform vec3 body, inside, cursorTint;
uniform float opacity, range, showChange, showGround, raking;
uniform vec2 wipe;
uniform vec4 cursor;
uniform sampler2D scale;
varying vec3 vNormal, vAt;
varying float vChange;
varying vec4 vGround;
void main() {
  if (wipe.y * (vAt.x - wipe.x) > 0.0) discard;
  vec3 n = normalize(vNormal);
  vec3 colour = body;
  if (!gl_FrontFacing) { n = -n; colour = inside; }
  else if (showChange > 0.5 && vChange > 1e6) colour = vec3(0.56);
  else if (showChange > 0.5) colour = texture2D(scale, vec2(clamp(0.5 + 0.5 * vChange / range, 0.002, 0.998), 0.5)).rgb;
  // The tint comes multiplied by its strength, so that it fades at the edge of its ground without passing another's colour.
  if (showGround > 0.5) colour = colour * (1.0 - showGround * vGround.a) + showGround * vGround.rgb;
  if (cursor.w > 0.0) {
    float d = distance(vAt, cursor.xyz);
    if (d < cursor.w) colour = mix(colour, cursorTint, d > cursor.w - 0.9 ? 0.95 : 0.35);
  }
  float light = 0.34 + 0.60 * max(dot(n, normalize(vec3(0.0, 0.62, 0.78))), 0.0) + 0.12 * max(dot(n, normalize(vec3(0.75, -0.2, 0.5))), 0.0) + 0.12 * max(dot(n, normalize(vec3(-0.75, -0.2, 0.5))), 0.0);
  float across = 0.30 + 0.95 * max(dot(n, normalize(vec3(-0.80, 0.45, 0.40))), 0.0);
  gl_FragColor = vec4(colour * min(mix(light, across, raking), 1.08), opacity);
}`;

export interface SceneColours {
  readonly ground: string;
  readonly scan: string;
  readonly cleaned: string;
  readonly last: string;
  readonly inside: string;
  readonly ask: string;
  readonly smooth: string;
  readonly keep: string;
  readonly patch: string;
  readonly protect: string;
  readonly line: string;
  readonly tape: string;
  readonly section: string;
  readonly length: string;
}

/** Numbers as they stand in the sheet of styles: the scene is drawn in the colours of the screen, without a change of space. */
export const plainColour = (css: string): Color => {
  const value = new Color();
  const [r, g, b] = [1, 3, 5].map((i) => Number.parseInt(css.slice(i, i + 2), 16) / 255);
  value.r = r;
  value.g = g;
  value.b = b;
  return value;
};

export function surfaceMaterial(): ShaderMaterial {
  scale ??= changeTexture();
  const tint = () => ({ value: new Color() });
  return new ShaderMaterial({
    vertexShader: VERTEX, fragmentShader: FRAGMENT, side: DoubleSide, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 2,
    uniforms: {
      body: tint(), inside: tint(), cursorTint: tint(),
      opacity: { value: 1 }, range: { value: 1 }, showChange: { value: 0 }, showGround: { value: 1 }, raking: { value: 0 }, wipe: { value: [0, 0] }, cursor: { value: new Vector4(0, 0, 0, 0) }, scale: { value: scale },
    },
  });
}

/** How strongly each ground is tinted; what asks is meant to be seen first. */
const STRENGTH = { ask: 0.6, smooth: 0.42, keep: 0.42, patch: 0.5, protect: 0.5 } as const;

/** The tint of each code of `GROUND`, multiplied by its strength, and that strength; 0 to 255, four a code. */
export function groundTints(colours: SceneColours): Uint8Array {
  const tints = new Uint8Array(4 * 6);
  (['ask', 'smooth', 'keep', 'patch', 'protect'] as const).forEach((name, i) => {
    const { r, g, b } = plainColour(colours[name]);
    tints.set([r, g, b, 1].map((c) => Math.round(255 * c * STRENGTH[name])), 4 * (i + 1));
  });
  return tints;
}

export function paint({ uniforms }: ShaderMaterial, colours: SceneColours, body: 'scan' | 'cleaned' | 'last'): void {
  const set = (name: string, css: string): void => void (uniforms[name].value as Color).copy(plainColour(css));
  set('body', colours[body]);
  set('inside', colours.inside);
  set('cursorTint', colours.section);
}
