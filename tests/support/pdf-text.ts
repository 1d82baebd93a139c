import { inflateSync } from 'node:zlib';

export interface PdfPage {
  /** Points. */
  readonly width: number;
  readonly height: number;
  /** Each piece of text as it is set, with the paper point of its start. */
  readonly pieces: readonly { readonly text: string; readonly x: number; readonly y: number }[];
  /** The pieces joined by single spaces. */
  readonly text: string;
  /** The page's drawing operators. */
  readonly operators: string;
}

interface PdfObject { readonly head: string; readonly stream: Buffer | null }

function objects(pdf: Uint8Array): Map<number, PdfObject> {
  const bytes = Buffer.from(pdf);
  const latin = bytes.toString('latin1');
  const found = new Map<number, PdfObject>();
  for (const match of latin.matchAll(/(\d+) 0 obj\n/g)) {
    const from = match.index + match[0].length;
    const body = latin.slice(from, latin.indexOf('\nendobj', from));
    const at = body.indexOf('stream\n');
    const head = at < 0 ? body : body.slice(0, at);
    const length = /\/Length (\d+)/.exec(head);
    const raw = at < 0 || length === null ? null : bytes.subarray(from + at + 7, from + at + 7 + Number(length[1]));
    found.set(Number(match[1]), { head, stream: raw === null ? null : head.includes('FlateDecode') ? inflateSync(raw) : raw });
  }
  return found;
}

const reference = (head: string, key: string): number => Number(new RegExp(`/${key} \\[?(\\d+) 0 R`).exec(head)?.[1]);

/** Glyph number → character, from a font's ToUnicode map as pdfkit writes it (ranges with lists). */
function unicodeOf(font: PdfObject, all: Map<number, PdfObject>): Map<string, string> {
  const cmap = all.get(reference(font.head, 'ToUnicode'))?.stream?.toString('latin1') ?? '';
  const map = new Map<string, string>();
  for (const [, first, list] of cmap.matchAll(/<([0-9a-f]{4})> <[0-9a-f]{4}> \[([^\]]*)\]/g)) {
    [...list.matchAll(/<([0-9a-f ]+)>/g)].forEach(([, hex], i) => {
      const units = hex.replaceAll(' ', '').match(/.{4}/g) ?? [];
      map.set((parseInt(first, 16) + i).toString(16).padStart(4, '0'), units.map((u) => String.fromCharCode(parseInt(u, 16))).join(''));
    });
  }
  return map;
}

/** The pages of a PDF that pdfkit wrote with embedded fonts, with the text a reader would select. */
export function pdfPages(pdf: Uint8Array): PdfPage[] {
  const all = objects(pdf);
  const pages = [...all.values()].filter((o) => /\/Type \/Page\n/.test(o.head));
  return pages.map((page) => {
    const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(page.head);
    const resources = all.get(reference(page.head, 'Resources'))?.head ?? '';
    const fonts = new Map([...resources.matchAll(/\/(F\d+) (\d+) 0 R/g)].map(([, name, id]) => [name, unicodeOf(all.get(Number(id)) as PdfObject, all)]));
    const content = all.get(reference(page.head, 'Contents'))?.stream?.toString('latin1') ?? '';
    const pieces: { text: string; x: number; y: number }[] = [];
    for (const [, x, y, font, shown] of content.matchAll(/1 0 0 1 ([-\d.]+) ([-\d.]+) Tm\n\/(F\d+) [\d.]+ Tf\n(?:[-\d.]+ T[cw]\n)*\[(.*?)\] TJ/g)) {
      const glyphs = [...shown.matchAll(/<([0-9a-f]+)>/g)].flatMap(([, hex]) => hex.match(/.{4}/g) ?? []);
      pieces.push({ text: glyphs.map((g) => fonts.get(font)?.get(g) ?? '\uFFFD').join(''), x: Number(x), y: Number(y) });
    }
    return { width: Number(box?.[1]), height: Number(box?.[2]), pieces, text: pieces.map((p) => p.text.trim()).join(' '), operators: content };
  });
}
