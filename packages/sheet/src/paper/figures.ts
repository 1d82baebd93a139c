import type { SheetFigure } from '../measurement/content.js';

const MM_PER_INCH = 25.4;

/** How numbers are written on the sheet. */
export interface Figures {
  /** Decimals: one where they are left out. */
  readonly plain: (value: number, decimals?: number) => string;
  /** With + or a true minus; nothing before what rounds to 0. */
  readonly signed: (value: number, decimals?: number) => string;
  /** Half-width of an interval: never 0, but less than what is shown. */
  readonly around: (figure: SheetFigure) => string;
  /** Hundredths of an inch of a length in mm. */
  readonly inches: (mm: number) => string;
}

/** @param decimal what stands between the whole and the tenths */
export function figuresWith(decimal: string): Figures {
  const plain = (value: number, decimals = 1): string => value.toFixed(decimals).replace(/^-(?=[0.]+$)/, '').replace('-', '−').replace('.', decimal);
  return {
    plain,
    signed: (value, decimals = 1) => {
      const text = plain(value, decimals);
      return value > 0 && /[1-9]/.test(text) ? `+${text}` : text;
    },
    around: ({ uncertainty }) => (uncertainty < 0.05 ? `<${plain(0.1, 1)}` : plain(uncertainty)),
    inches: (mm) => plain(mm / MM_PER_INCH, 2),
  };
}
