import makeQrCode from 'qrcode-generator';
import type { Pdf } from './flow.js';

/** Empty modules that the standard asks for all round (ISO/IEC 18004, from memory). */
export const QUIET_ZONE = 4;

/** A QR code as black rectangles, one a run of dark modules; `size` with the quiet zone, points. */
export function drawQrCode(pdf: Pdf, text: string, x: number, y: number, size: number): void {
  const code = makeQrCode(0, 'M');
  code.addData(utf8(text), 'Byte');
  code.make();
  const count = code.getModuleCount();
  const module = size / (count + 2 * QUIET_ZONE);
  for (let row = 0; row < count; row++) {
    for (let column = 0; column < count; column++) {
      if (!code.isDark(row, column)) continue;
      const from = column;
      while (column + 1 < count && code.isDark(row, column + 1)) column++;
      pdf.rect(x + (from + QUIET_ZONE) * module, y + (row + QUIET_ZONE) * module, (column - from + 1) * module, module);
    }
  }
  pdf.fill('#000000');
}

/** Its bytes in UTF-8 as one character each, which is what the generator takes for bytes. */
const utf8 = (text: string): string => String.fromCharCode(...new TextEncoder().encode(text));
