import type { SheetLanguage } from '../measurement/content.js';
import { ENGLISH } from './english.js';
import { GERMAN } from './german.js';
import type { SheetWords } from './sheet-words.js';

const LANGUAGES: Readonly<Record<SheetLanguage, SheetWords>> = { en: ENGLISH, de: GERMAN };

/** Every word of the sheet in one language. */
export const wordsOf = (language: SheetLanguage): SheetWords => LANGUAGES[language];
