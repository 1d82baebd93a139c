import { ZipFile } from 'yazl';
import type { Mesh } from '../mesh/mesh.js';
import { DecimalWriter } from './decimal-writer.js';

export interface WriteThreeMfOptions {
  /** The Title of the model and the name of its object. */
  readonly title?: string;
  /** deflate level 1 to 9; 1 takes half the time of 6 and gives about a third more bytes. */
  readonly compressionLevel?: number;
}

/** One object of a model with several. */
export interface ThreeMfObject {
  readonly name: string;
  /** Closed, edge-manifold and outward, mm, where it is to be built. */
  readonly mesh: Mesh;
  /** What else is known of it: kept with the object, each under its name in this program's namespace. Names are XML names without a colon. */
  readonly metadata?: Readonly<Record<string, string>>;
}

export interface WriteThreeMfModelOptions extends WriteThreeMfOptions {
  readonly description?: string;
  /** What else is known of all of it, as of an object. */
  readonly metadata?: Readonly<Record<string, string>>;
}

/** Names of metadata that the core specification does not list need a namespace of their own. */
const NAMESPACE = 'urn:cast-to-last:making';

export const WRITE_THREE_MF_DEFAULTS = { title: 'last', compressionLevel: 1 } as const satisfies WriteThreeMfOptions;

const CONTENT_TYPES =
  '<?xml version="1.0" encoding="UTF-8"?>\n<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">' +
  '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>' +
  '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>\n';

const RELATIONSHIPS =
  '<?xml version="1.0" encoding="UTF-8"?>\n<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">' +
  '<Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>\n';

const utf8 = new TextEncoder();

/** Characters that XML 1.0 does not allow are left out, the five special ones escaped. */
const escapeXml = (text: string): string =>
  text
    .replace(/[^\t\n\r\x20-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);

/**
 * Writes a 3MF package (core specification 1.4) with one object of type "model" in millimetres. That type asks for a
 * mesh that is closed, edge-manifold and outward: the caller's duty. Same mesh, same bytes.
 */
export function writeThreeMf(mesh: Mesh, options: WriteThreeMfOptions = {}): Promise<Uint8Array> {
  const { title, compressionLevel } = { ...WRITE_THREE_MF_DEFAULTS, ...options };
  return zipped(modelXml([{ name: title, mesh }], { title }), compressionLevel);
}

/** The same with several objects, each built once where its coordinates say. The title is not empty. */
export function writeThreeMfModel(objects: readonly ThreeMfObject[], options: WriteThreeMfModelOptions = {}): Promise<Uint8Array> {
  const { compressionLevel, ...model } = { ...WRITE_THREE_MF_DEFAULTS, ...options };
  return zipped(modelXml(objects, model), compressionLevel);
}

function zipped(model: Uint8Array, compressionLevel: number): Promise<Uint8Array> {
  const zip = new ZipFile();
  // The archive stores wall-clock time without a zone: the earliest it can hold, in any zone.
  const stored = { mtime: new Date(1980, 0, 1), mode: 0o100644, forceDosTimestamp: true };
  zip.addBuffer(Buffer.from(CONTENT_TYPES), '[Content_Types].xml', { ...stored, compressionLevel });
  zip.addBuffer(Buffer.from(RELATIONSHIPS), '_rels/.rels', { ...stored, compressionLevel });
  zip.addBuffer(Buffer.from(model.buffer, model.byteOffset, model.byteLength), '3D/3dmodel.model', { ...stored, compressionLevel });
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    zip.on('error', reject);
    zip.outputStream.on('error', reject);
    zip.outputStream.on('data', (chunk: Buffer) => chunks.push(chunk));
    zip.outputStream.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    zip.end();
  });
}

const ownMetadata = (metadata: Readonly<Record<string, string>>): string =>
  Object.entries(metadata).map(([name, value]) => `<metadata name="making:${name}">${escapeXml(value)}</metadata>\n`).join('');

function modelXml(objects: readonly ThreeMfObject[], { title, description, metadata = {} }: WriteThreeMfModelOptions & { readonly title: string }): Uint8Array {
  const size = objects.reduce((sum, { mesh }) => sum + 18 * mesh.positions.length + 17 * mesh.triangles.length, 2048);
  const out = new DecimalWriter(size);
  const write = (text: string): void => out.text(utf8.encode(text));
  const own = [metadata, ...objects.map((o) => o.metadata ?? {})].some((m) => Object.keys(m).length > 0);
  write(
    `<?xml version="1.0" encoding="UTF-8"?>\n<model unit="millimeter" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"${own ? ` xmlns:making="${NAMESPACE}"` : ''}>\n` +
      `<metadata name="Title">${escapeXml(title)}</metadata>\n${description === undefined ? '' : `<metadata name="Description">${escapeXml(description)}</metadata>\n`}` +
      `<metadata name="Application">cast-to-last</metadata>\n${ownMetadata(metadata)}<resources>\n`,
  );
  objects.forEach((object, i) => {
    const known = ownMetadata(object.metadata ?? {});
    write(`<object id="${i + 1}" type="model" name="${escapeXml(object.name)}">\n${known === '' ? '' : `<metadatagroup>\n${known}</metadatagroup>\n`}`);
    writeMesh(out, object.mesh);
    write('</object>\n');
  });
  write(`</resources>\n<build>\n${objects.map((_, i) => `<item objectid="${i + 1}"/>\n`).join('')}</build>\n</model>\n`);
  return out.finish();
}

function writeMesh(out: DecimalWriter, { positions, triangles }: Mesh): void {
  const [vertexOpen, y, z, close, triangleOpen, v2, v3] = ['<vertex x="', '" y="', '" z="', '"/>\n', '<triangle v1="', '" v2="', '" v3="'].map((s) => utf8.encode(s));
  out.text(utf8.encode('<mesh>\n<vertices>\n'));
  for (let i = 0; i < positions.length; i += 3) {
    out.text(vertexOpen);
    out.coordinate(positions[i]);
    out.text(y);
    out.coordinate(positions[i + 1]);
    out.text(z);
    out.coordinate(positions[i + 2]);
    out.text(close);
  }
  out.text(utf8.encode('</vertices>\n<triangles>\n'));
  for (let i = 0; i < triangles.length; i += 3) {
    out.text(triangleOpen);
    out.index(triangles[i]);
    out.text(v2);
    out.index(triangles[i + 1]);
    out.text(v3);
    out.index(triangles[i + 2]);
    out.text(close);
  }
  out.text(utf8.encode('</triangles>\n</mesh>\n'));
}
