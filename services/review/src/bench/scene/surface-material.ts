import { changeColour } from '@cast-to-last/sheet/change-colours';
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
attribute float ground;
varying vec3 vNormal, vAt;
varying float vChange, vGround;
void main() {
  vNormal = normalMatrix * normal;
  vAt = position;
  vChange = change;
  vGround = ground;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}`;

/** Matt plaster: a broad light from above the viewer, a weaker one from below, nothing that shines. */
const FRAGMENT = /* glsl */ `
uniform vec3 body, inside, askTint, smoothTint, keepTint, patchTint, protectTint, cursorTint;
uniform float opacity, range, showChange, showGround;
uniform vec2 wipe;
uniform vec4 cursor;
uniform sampler2D scale;
varying vec3 vNormal, vAt;
varying float vChange, vGround;
void main() {
  if (wipe.y * (vAt.x - wipe.x) > 0.0) discard;
  vec3 n = normalize(vNormal);
  vec3 colour = body;
  if (!gl_FrontFacing) { n = -n; colour = inside; }
  else if (showChange > 0.5) colour = texture2D(scale, vec2(clamp(0.5 + 0.5 * vChange / range, 0.002, 0.998), 0.5)).rgb;
  if (showGround > 0.5 && vGround > 0.5) {
    vec3 tint = vGround < 1.5 ? askTint : vGround < 2.5 ? smoothTint : vGround < 3.5 ? keepTint : vGround < 4.5 ? patchTint : protectTint;
    colour = mix(colour, tint, vGround < 1.5 ? 0.55 : 0.38);
  }
  if (cursor.w > 0.0) {
    float d = distance(vAt, cursor.xyz);
    if (d < cursor.w) colour = mix(colour, cursorTint, d > cursor.w - 0.9 ? 0.95 : 0.35);
  }
  float light = 0.34 + 0.60 * max(dot(n, normalize(vec3(0.0, 0.62, 0.78))), 0.0) + 0.12 * max(dot(n, normalize(vec3(0.75, -0.2, 0.5))), 0.0) + 0.12 * max(dot(n, normalize(vec3(-0.75, -0.2, 0.5))), 0.0);
  gl_FragColor = vec4(colour * min(light, 1.08), opacity);
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
      body: tint(), inside: tint(), askTint: tint(), smoothTint: tint(), keepTint: tint(), patchTint: tint(), protectTint: tint(), cursorTint: tint(),
      opacity: { value: 1 }, range: { value: 1 }, showChange: { value: 0 }, showGround: { value: 1 }, wipe: { value: [0, 0] }, cursor: { value: new Vector4(0, 0, 0, 0) }, scale: { value: scale },
    },
  });
}

export function paint({ uniforms }: ShaderMaterial, colours: SceneColours, body: 'scan' | 'cleaned' | 'last'): void {
  const set = (name: string, css: string): void => void (uniforms[name].value as Color).copy(plainColour(css));
  set('body', colours[body]);
  set('inside', colours.inside);
  for (const name of ['ask', 'smooth', 'keep', 'patch', 'protect'] as const) set(`${name}Tint`, colours[name]);
  set('cursorTint', colours.section);
}
