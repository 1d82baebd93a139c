import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { unzip } from './unzip.ts';

/** One object of a 3MF model. */
export interface ReadObject {
  readonly id: number;
  readonly name: string;
  readonly type: string;
  readonly metadata: Readonly<Record<string, string>>;
  readonly mesh: Mesh;
}

export interface ReadModel {
  readonly unit: string;
  /** Namespaces by their prefix; '' for the default one. */
  readonly namespaces: Readonly<Record<string, string>>;
  readonly metadata: Readonly<Record<string, string>>;
  readonly objects: readonly ReadObject[];
  /** Object ids of the build, in order. */
  readonly built: readonly number[];
}

interface Element { readonly name: string; readonly attributes: ReadonlyMap<string, string>; readonly children: Element[]; text: string }

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };
const unescaped = (text: string): string =>
  text.replace(/&(#x?[0-9a-fA-F]+|[a-z]+);/g, (_, e: string) => (e.startsWith('#x') ? String.fromCodePoint(parseInt(e.slice(2), 16)) : e.startsWith('#') ? String.fromCodePoint(Number(e.slice(1))) : ENTITIES[e]));

/** XML without comments, CDATA and processing instructions beyond the first. Throws where tags do not nest. */
function parseXml(xml: string): Element {
  const root: Element = { name: '', attributes: new Map(), children: [], text: '' };
  const open = [root];
  for (const [, before, slash, name, attributes, selfClosed] of xml.replace(/^<\?xml[^>]*\?>/, '').matchAll(/([^<]*)<(\/?)([\w:.-]+)([^>]*?)(\/?)>/g)) {
    open[open.length - 1].text += unescaped(before);
    if (slash !== '') {
      if (open.pop()?.name !== name) throw new Error(`</${name}> closes another element`);
      continue;
    }
    const element: Element = { name, attributes: new Map([...attributes.matchAll(/([\w:.-]+)="([^"]*)"/g)].map(([, key, value]) => [key, unescaped(value)])), children: [], text: '' };
    open[open.length - 1].children.push(element);
    if (selfClosed === '') open.push(element);
  }
  if (open.length !== 1 || root.children.length !== 1) throw new Error('the document has no single root');
  return root.children[0];
}

const child = (element: Element, name: string): Element => {
  const found = element.children.filter((e) => e.name === name);
  if (found.length !== 1) throw new Error(`<${element.name}> has ${found.length} <${name}>`);
  return found[0];
};
const metadataOf = (element: Element): Record<string, string> =>
  Object.fromEntries(element.children.filter((e) => e.name === 'metadata').map((e) => [e.attributes.get('name') ?? '', e.text]));
const numbers = (element: Element, names: readonly string[]): number[] => element.children.flatMap((e) => names.map((name) => Number(e.attributes.get(name))));

/** Reads a 3MF package by its own means: nothing of the writer is used. */
export async function readThreeMf(bytes: Uint8Array): Promise<ReadModel> {
  const part = (await unzip(bytes)).get('3D/3dmodel.model');
  if (part === undefined) throw new Error('The package has no model.');
  const model = parseXml(new TextDecoder('utf-8', { fatal: true }).decode(part));
  const namespaces = Object.fromEntries([...model.attributes].filter(([key]) => key.startsWith('xmlns')).map(([key, value]) => [key.slice(6), value]));
  const objects = child(model, 'resources').children.map((object): ReadObject => {
    const mesh = child(object, 'mesh');
    return {
      id: Number(object.attributes.get('id')),
      name: object.attributes.get('name') ?? '',
      type: object.attributes.get('type') ?? '',
      metadata: object.children.some((e) => e.name === 'metadatagroup') ? metadataOf(child(object, 'metadatagroup')) : {},
      mesh: { positions: Float64Array.from(numbers(child(mesh, 'vertices'), ['x', 'y', 'z'])), triangles: Uint32Array.from(numbers(child(mesh, 'triangles'), ['v1', 'v2', 'v3'])) },
    };
  });
  return { unit: model.attributes.get('unit') ?? '', namespaces, metadata: metadataOf(model), objects, built: child(model, 'build').children.map((item) => Number(item.attributes.get('objectid'))) };
}
