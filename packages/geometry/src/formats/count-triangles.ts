/** Counts the triangles of an STL, PLY or OBJ file while its bytes come in, without keeping them. */
export interface TriangleCounter {
  /** Takes the next bytes; gives how many triangles there are at least, by what was seen so far. */
  see(chunk: Uint8Array): number;
}

/** Of the beginning, looked at before anything is counted; a PLY header is longer than this only by its comments. */
const HEAD_BYTES = 4096;
const STL_HEADER = 84;
const STL_RECORD = 50;
const NEWLINE = 10;

const latin1 = new TextDecoder('latin1');

/**
 * A text is counted by its lines (facets of STL, polygons of OBJ as the triangles they give), a PLY by what its header
 * announces, anything else as a binary STL by its length. Whether it is such a file, `readMesh` says.
 */
export function countTriangles(): TriangleCounter {
  let head = new Uint8Array(0);
  let count: ((chunk: Uint8Array) => number) | null = null;
  let last = 0;
  return {
    see: (chunk) => {
      if (count !== null) return (last = Math.max(last, count(chunk)));
      const joined = new Uint8Array(head.length + chunk.length);
      joined.set(head);
      joined.set(chunk, head.length);
      head = joined;
      if (head.length < HEAD_BYTES) return last;
      count = counterFor(head);
      last = count(head);
      head = new Uint8Array(0);
      return last;
    },
  };
}

function counterFor(head: Uint8Array): (chunk: Uint8Array) => number {
  const text = latin1.decode(head.subarray(0, HEAD_BYTES));
  const announced = /^\s*ply\b[\s\S]*?\belement\s+(?:face|tristrips)\s+(\d+)/.exec(text)?.[1];
  if (announced !== undefined) return () => Number(announced);
  // oxlint-disable-next-line no-control-regex -- a text has none of these
  return /[\x00-\x08\x0e-\x1f]/.test(text) ? binaryStl() : lines();
}

function binaryStl(): (chunk: Uint8Array) => number {
  let bytes = 0;
  return (chunk) => {
    bytes += chunk.length;
    return Math.max(0, Math.floor((bytes - STL_HEADER) / STL_RECORD));
  };
}

function lines(): (chunk: Uint8Array) => number {
  let rest = '';
  let triangles = 0;
  return (chunk) => {
    const end = chunk.lastIndexOf(NEWLINE);
    if (end < 0) {
      rest += latin1.decode(chunk);
      return triangles;
    }
    for (const line of (rest + latin1.decode(chunk.subarray(0, end))).split('\n')) {
      const start = line.trimStart();
      if (start.startsWith('f ')) triangles += Math.max(1, start.trim().split(/\s+/).length - 3);
      else if (/^endfacet/i.test(start)) triangles++;
    }
    rest = latin1.decode(chunk.subarray(end + 1));
    return triangles;
  };
}
