import { FLOOR, REAR, SECTION, SIDE, TOES, circle, level, upright } from './drawing.js';
import type { Drawing } from './drawing.js';

const PAGE = 'M28 4H60L70 14V60H28Z';
const LINES = 'M35 24H63M35 32H63M35 40H63M35 48H52';
const PAIR_OF_SOLES = 'M10 18C10 11 15 9 22 10C34 11 42 10 52 6C62 2 74 6 75 14C76 21 70 26 62 27C50 28 42 25 32 26C18 28 10 25 10 18ZM10 48C10 41 15 39 22 40C34 41 42 38 54 36C68 33 82 38 83 45C84 52 78 57 70 57C54 58 44 55 32 56C18 58 10 55 10 48Z';
const CUTS = 'M6 40C4 30 10 20 22 18C34 16 43 24 43 36C43 42 38 43 28 43C18 43 10 44 6 40ZM53 44C50 30 58 16 72 14C86 12 93 24 92 38C92 46 86 47 74 46C64 46 57 48 53 44Z';

/** The scanner, the sheet and the limits of the cast check. */
export const CHECK_DRAWINGS: Readonly<Record<string, Drawing>> = {
  'scanner.maxFormMm': { base: circle(48, 32, 27), bold: 'M48 9C62 8 71 20 70 33C69 47 60 55 47 54C33 54 26 44 26 31C26 19 35 10 48 9Z', fine: circle(48, 32, 19) },
  'scanner.maxSizeMm': { base: circle(48, 32, 26), bold: level(32, 22, 74) },
  'scanner.maxSpacingMm': { base: circle(24, 32, 16) + circle(72, 32, 16), bold: level(32, 24, 72) },
  'scanner.validDays': { base: 'M20 12H76V58H20ZM32 6V16M64 6V16', bold: 'M20 24H76', fine: 'M30 34H38M44 34H52M58 34H66M30 44H38M44 44H52M58 44H66' },
  'sheet.paper': { base: LINES, bold: `${PAGE}M60 4V14H70` },
  'sheet.language': { base: `${PAGE}M60 4V14H70`, bold: LINES },
  'sheet.inches': { base: 'M6 22H90V44H6Z', bold: 'M6 22V34M34 22V34M62 22V34M90 22V34', fine: 'M13 44V39M20 44V36M27 44V39M41 44V39M48 44V36M55 44V39M69 44V39M76 44V36M83 44V39' },

  'check.aboveAnkleMm': { base: SIDE + circle(33, 33, 3.5), bold: upright(33, 4, 33), fine: 'M12 4H58' },
  'check.disciplines.*.forwardLeanDeg': { base: SIDE + FLOOR, dash: 'M32 58V4', bold: 'M30 44L42 2', fine: 'M32 22A24 24 0 0 1 37 22.5' },
  'check.disciplines.*.forwardLean': { base: SIDE + FLOOR, area: 'M30 46L32 3H50Z', dash: 'M30 46L41 3', bold: 'M30 46L32 3M30 46L50 3' },
  'check.disciplines.*.rearViewDeg': { base: REAR, dash: 'M48 57V4', bold: 'M48 56L56 4', fine: 'M48 24A32 32 0 0 1 53 24.5' },
  'check.disciplines.*.rearView': { base: REAR, area: 'M48 56L38 4H58Z', dash: 'M48 57V4', bold: 'M48 56L38 4M48 56L58 4' },
  'check.soleBend': { base: SIDE, dash: 'M64 59H94', bold: 'M10 59H64L94 51', fine: 'M82 59A18 18 0 0 0 81.4 54.4' },
  'check.heelOnPlate': { base: SIDE, area: 'M10 60H52L12 52Z', bold: 'M52 60L10 51.5', fine: 'M8 60H92' },
  'check.ballOnHinge': { base: `${SIDE}M8 60H60M60 60H92`, bold: `${circle(60, 60, 2.5)}M70 49V60M60 49V57`, fine: level(48, 60, 70) },
  'check.forefootTwist': { base: SECTION, dash: 'M8 56H90', bold: 'M10 60L88 49' },
  'check.soleFlatness': { base: 'M4 50H92', area: 'M8 40C16 32 24 48 32 41S48 32 56 40S74 48 88 37V50H8Z', bold: 'M8 40C16 32 24 48 32 41S48 32 56 40S74 48 88 37' },
  'check.toeBox': { base: TOES, bold: 'M78 8V54M75 8H81M75 54H81', fine: 'M60 14V54M57 14H63M57 54H63' },
  'check.beyondToes': { base: SIDE, area: 'M84 44C92 38 96 44 95 50C95 58 88 57 84 56C90 54 92 48 84 44Z', bold: 'M84 44C92 38 96 44 95 50C95 58 88 57 84 56' },
  'check.closing': { base: 'M42 18C22 22 12 38 16 50C30 55 44 52 60 53C76 54 84 52 83 42C82 26 70 18 56 17', bold: level(12, 42, 56), fine: 'M42 18V26M56 17V25' },
  'check.cutStep': { base: 'M6 24H46M46 38H90', bold: 'M46 24V38', fine: upright(60, 24, 38) },
  'check.madeUp': { base: SIDE, area: 'M30 30C40 26 50 32 52 38C50 46 38 48 32 44C27 40 26 33 30 30Z', bold: 'M30 30C40 26 50 32 52 38C50 46 38 48 32 44C27 40 26 33 30 30Z', fine: 'M32 40L42 29M36 44L48 32M42 45L50 37' },
  'check.tapePercent': { base: SIDE, bold: 'M64 34.5C68 42 69 50 68 56', fine: 'M68 56C76 58 86 60 94 60M74 57V61M80 58V62M86 58.5V62.5' },
  'check.plyMm': { base: 'M6 22C30 12 66 12 90 22M6 42C30 32 66 32 90 42M6 52C30 42 66 42 90 52', area: 'M6 22C30 12 66 12 90 22V32C66 22 30 22 6 32Z', bold: 'M6 22C30 12 66 12 90 22M6 32C30 22 66 22 90 32' },
  'check.pair.lengthMm': { base: PAIR_OF_SOLES, bold: level(32, 75, 83), fine: 'M75 14V32M83 32V46' },
  'check.pair.girthMm': { base: '', fine: '', bold: CUTS },
  'check.pair.pitchDeg': { base: 'M6 56H90', dash: 'M14 56L84 34', bold: 'M14 56L84 20', fine: 'M62 41A52 52 0 0 0 59 33' },
  'check.pair.leanDeg': { base: 'M26 58C20 58 16 52 17 42C18 28 22 16 23 4M44 4C43 16 40 28 39 42C38 52 34 58 26 58M66 58C60 58 56 52 57 42C58 28 62 16 63 4M84 4C83 16 80 28 79 42C78 52 74 58 66 58', dash: 'M30 58V4M68 58V4', bold: 'M28 56L35 4M68 56L72 4' },
};
