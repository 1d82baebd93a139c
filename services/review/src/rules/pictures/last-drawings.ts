import { FLOOR, LAST, RAISED, SECTION, SIDE, SOLE, SPRUNG, TOES, TOP, circle, level, upright } from './drawing.js';
import type { Drawing } from './drawing.js';

const BALL = 'M64 34.5C68 42 69 50 68 56';
const WAIST = 'M56 28.5C58 38 57 46 54 53';
const INSTEP = 'M52 23.5C50 34 46 44 41 53';

/** Marks, smoothing, and the way from the cast to the last. */
export const LAST_DRAWINGS: Readonly<Record<string, Drawing>> = {
  'marks.minDepthMm': { base: 'M6 30C20 27 28 28 34 30M62 30C70 27 80 27 90 31', dash: 'M34 30C44 28.5 52 28.5 62 30', bold: 'M34 30C41 41 55 41 62 30', fine: 'M48 12V27M45 23L48 27L51 23M48 56V40M45 44L48 40L51 44' },
  'marks.depthThresholdMm': { base: 'M6 24H14M34 24H50M78 24H90M50 24C54 54 74 54 78 24', dash: 'M6 38H90', bold: 'M14 24C18 33 30 33 34 24', fine: 'M14 24H34M64 28V41M61 37L64 41L67 37' },
  'marks.landmarkDistanceMm': { base: SIDE, area: circle(70, 49, 12), bold: `${circle(70, 49, 12)}${circle(70, 49, 1.6)}`, fine: 'M70 49L78.5 40.5' },
  'marks.findSeam': { base: SIDE, bold: 'M47 5C48 14 50 21 55 27C62 34 71 39 82 43' },
  'marks.findRidges': { base: SIDE, bold: 'M21.5 12C30 16 40 16 47.5 12M17 23C30 28 42 27 52 22M34 54C38 44 50 36 61 32' },
  'marks.protect': { base: SOLE, area: circle(70, 31, 11), bold: circle(70, 31, 11), fine: 'M62 36L75 23M64 39L78 25M68 41L80 29' },
  'smoothing.seam': { base: 'M16 50C12 38 20 22 38 18M56 17C70 18 82 26 83 42C84 52 76 54 60 53C44 52 30 55 16 50', dash: 'M38 18C44 17 50 16.5 56 17', bold: 'M38 18C42 16 43 8 47 8C51 8 52 16 56 17' },
  'smoothing.ridges': { base: 'M6 42C16 40 26 40 34 41M62 41C72 40 82 40 90 42', dash: 'M34 41H62', bold: 'M34 41C40 41 42 20 48 20C54 20 56 41 62 41' },
  'smoothing.marginMm': { base: 'M6 36H20M76 36H90M34 36C40 46 56 46 62 36', area: 'M20 36H34C40 46 56 46 62 36H76V26H20Z', bold: 'M20 36H34M62 36H76', fine: `${level(18, 20, 34)}${level(18, 62, 76)}` },

  'last.plasterExpansionPercent': { base: SIDE, bold: 'M24 8C23.5 18 18.5 25 17 36C16 45 18 52 24 53C36 54 40 49 48 49C56 49 62 53 72 53C81 53 86 52.5 87 49.5C87 47.5 84 46 79 45C69 42 58.5 36 52 28.5C47.5 22 45.5 15 45 8' },
  'last.stance.heelHeightMm': { base: `${RAISED}${FLOOR}`, bold: upright(26, 46, 58) },
  'last.stance.toeSpringMm': { base: `${SPRUNG}${FLOOR}`, bold: upright(86, 48.5, 58) },
  'last.toeAllowanceMm': { base: SOLE, area: 'M70 12.5C78 9 94 14 95 27C95.5 36 90 48 78 49.5C87 46 91 34 89 25C87 16 78 12 70 12.5Z', bold: 'M70 12.5C84 6 94 16 95 27C95.5 36 90 48 78 49.5' },
  'last.toeBox.level': { base: TOES, bold: 'M62 16C72 6 88 8 91 20C94 34 86 52 70 54' },
  'last.toeBox.heightMm': { base: `${SIDE}${FLOOR}`, bold: upright(78, 42, 57) },
  'last.sole.shape': { base: 'M16 50C12 38 20 22 40 18C60 14 82 24 83 42C83.5 48 81 51 76 52.5', dash: 'M16 50C30 55 44 52 60 53', bold: 'M14 54H82' },
  'last.sole.featherRadiusMm': { base: SECTION, bold: 'M14.5 40C13.5 50 16 53 26 53M70 54C81 54 84.5 50 83 40' },
  'last.ease.ball': { base: SIDE, fine: WAIST + INSTEP, bold: BALL },
  'last.ease.waist': { base: SIDE, fine: BALL + INSTEP, bold: WAIST },
  'last.ease.instep': { base: SIDE, fine: BALL + WAIST, bold: INSTEP },
  'last.topHeightMm': { base: `${SIDE}${FLOOR}`, bold: 'M12 16H58', fine: upright(7, 16, 58) },
  'last.top.line': { base: SIDE, bold: 'M10 28L58 12', fine: 'M15 28V56M50 16V52' },
  'last.top.coneMm': { base: 'M18.5 22H51C53 26 56 29.5 60 33C68 39 78 42 84 44C90 46 91 50 90 53C88 56 80 56 72 56C62 56 56 52 48 52C40 52 36 57 23 56C15 55 13 46 14 36C15.5 29 17.5 26 18.5 22Z', area: 'M18.5 22L22 5H46L51 22Z', bold: 'M18.5 22L22 5H46L51 22', fine: upright(62, 5, 22) },
  'last.top.thimble': { base: TOP, area: circle(50, 32, 8), bold: circle(50, 32, 8) },
  'last.top.pins': { base: TOP, area: circle(34, 32, 4) + circle(66, 32, 4), bold: circle(34, 32, 4) + circle(66, 32, 4) },
  'last.top.label': { base: TOP, bold: 'M36 26V38M43 26V33H50M49 26V38M56 26C62 26 62 32 57 32C63 32 62 38 56 38M68 26V38H74' },
  'last.top.labelDepthMm': { base: 'M6 26H38M58 26H90', bold: 'M38 26V40H58V26', fine: upright(70, 26, 40) },
  'last.top.stationMarks': { base: TOP, bold: 'M16 32H82M36 16V48M64 16.5V47.5' },
};

export const MAKING_DRAWINGS: Readonly<Record<string, Drawing>> = {
  'making.print.body': { base: SECTION, area: 'M24 45C21 37 27 27 42 24C58 21 75 28 76 41C76 47 71 48 60 47C44 46 33 48 24 45Z', bold: 'M24 45C21 37 27 27 42 24C58 21 75 28 76 41C76 47 71 48 60 47C44 46 33 48 24 45Z' },
  'making.print.wallMm': { base: `${SECTION}M24 45C21 37 27 27 42 24C58 21 75 28 76 41C76 47 71 48 60 47C44 46 33 48 24 45Z`, bold: 'M76 40H83M76 37V43M83 37V43', fine: 'M83 40H94' },
  'making.print.drain': { base: LAST, bold: 'M29 12V26M41 12V26', fine: 'M26 22L29 26L32 22M38 22L41 26L44 22M29 26V40M41 26V38' },
  'making.print.split.by': { base: LAST, bold: 'M46 8L38 57' },
  'making.print.split.at': { base: LAST, bold: 'M46 8L39 56', fine: level(61, 14, 39) },
  'making.print.split.leanDeg': { base: LAST, dash: 'M38 8V58', bold: 'M50 8L38 56', fine: 'M38 24A32 32 0 0 1 46 25' },
  'making.print.split.wedgeAngleDeg': { base: LAST, area: 'M26 12H48L42 52.5L36 54Z', bold: 'M26 10L36 56M49 10L42 56', fine: 'M29 24H47' },
  'making.print.split.wedgeWidthMm': { base: LAST, area: 'M26 12H48L44 52.5L34 55Z', bold: 'M26 10L34 56M49 10L44 56', fine: level(61, 34, 44) },
  'making.print.pins.diameterMm': { base: 'M6 10H40V54H6ZM60 10H90V54H60Z', area: 'M40 25H54V39H40Z', bold: 'M40 25H54V39H40Z', fine: upright(47, 25, 39) },
  'making.print.pins.lengthMm': { base: 'M6 10H40V54H6ZM62 10H90V54H62Z', area: 'M40 25H56V39H40Z', bold: 'M40 25H56V39H40Z', fine: level(18, 40, 56) },
  'making.print.pins.clearanceMm': { base: 'M6 10H40V54H6ZM40 26H62V38H40M90 10V54H46V43H68V21H46V10Z', area: 'M46 21H68V43H46V38H62V26H46Z', bold: 'M62 32H68M62 29V35M68 29V35' },
  'making.print.bedMm': { base: 'M14 42V18L50 6L84 18V44M14 18L48 30L84 18', bold: 'M14 42L48 58L84 44M48 58V30' },
  'making.print.gapMm': { base: 'M4 6H92V58H4ZM12 22C12 14 20 14 28 15C36 15 40 12 41 20C42 28 34 28 26 28C18 28 12 28 12 22ZM55 22C55 14 63 14 71 15C79 15 83 12 84 20C85 28 77 28 69 28C61 28 55 28 55 22Z', bold: level(21, 42, 55), fine: upright(27, 29, 58) },
  'making.print.overhangDeg': { base: 'M24 58V36M56 10H88V58H24', dash: 'M24 36V8', bold: 'M24 36L56 10', fine: 'M24 20A16 16 0 0 1 36 26' },
  'making.print.thinMm': { base: 'M6 14C30 12 38 27 48 27C58 27 66 12 90 14M6 50C30 50 38 37 48 37C58 37 66 50 90 50', bold: upright(48, 27, 37) },
  'making.milling.along': { base: 'M6 10H90V58H6ZM16 16H38C38 24 44 30 54 35C66 40 80 42 82 47C83 52 76 53 66 53H22C16 53 13 46 13 38C13 28 16 24 16 16Z', bold: 'M12 4H84M16 1L12 4L16 7M80 1L84 4L80 7' },
  'making.milling.stockMm': { base: 'M20 18H42C42 26 48 31 56 36C64 40 74 42 75 46C76 50 70 51 62 51H26C20 51 18 45 18 39C18 30 20 26 20 18Z', area: 'M8 8H86V59H8ZM20 18V26C20 26 18 30 18 39C18 45 20 51 26 51H62C70 51 76 50 75 46C74 42 64 40 56 36C48 31 42 26 42 18Z', bold: 'M8 8H86V59H8Z', fine: level(46, 75, 86) },
  'making.milling.holdStartMm': { base: 'M24 10H74V58H24ZM32 18H46C46 26 50 31 56 35C62 39 68 41 69 45C69 50 64 51 58 51H36C31 51 29 45 29 39C29 30 32 26 32 18Z', area: 'M4 10H24V58H4Z', bold: 'M24 10H4V58H24', fine: 'M74 10H92V58H74' },
  'making.milling.holdEndMm': { base: 'M22 10H72V58H22ZM30 18H44C44 26 48 31 54 35C60 39 66 41 67 45C67 50 62 51 56 51H34C29 51 27 45 27 39C27 30 30 26 30 18Z', area: 'M72 10H92V58H72Z', bold: 'M72 10H92V58H72', fine: 'M22 10H4V58H22' },
  'making.milling.roundMm': { base: 'M10 8H80V46H10Z', bold: 'M10 56H80M10 52V60M24 54V58M38 54V58M52 54V58M66 54V58M80 52V60' },
};
