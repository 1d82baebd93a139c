import type { SheetWords } from './sheet-words.js';

/** The words of the comparison of two casts or lasts. */
export const GERMAN_COMPARISON: SheetWords['comparison'] = {
  title: 'Vergleich',
  subjects: {
    otherSide: { left: 'Rechter Fuß, gespiegelt, und linker Fuß', right: 'Linker Fuß, gespiegelt, und rechter Fuß' },
    sameSide: { left: 'Zweimal der linke Fuß', right: 'Zweimal der rechte Fuß' },
  },
  mirroredName: (side) => `${side} (gespiegelt)`,
  first: 'erster',
  second: 'zweiter',
  file: 'Datei',
  what: 'Was es ist',
  kinds: { cast: 'geglätteter Abguss', last: 'Leisten', file: 'Netzdatei, wie sie ist, weder geglättet noch geprüft' },
  side: 'Seite',
  verdict: 'Urteil',
  fingerprint: 'SHA-256',
  findings: 'Was sich mehr unterscheidet, als die Regeln durchgehen lassen',
  nothing: 'Nichts.',
  laid: (way, percent, rms) =>
    `Der erste Körper wurde ${way === 'mirrored' ? 'gespiegelt ' : ''}auf den zweiten gelegt und starr bewegt, bis sich deckt, was sich gleicht: ${percent} % des Fußes, mit einer RMS-Abweichung von ${rms}.`,
  difference: 'Erster − zweiter',
  limit: 'Grenze',
  beyond: 'darüber',
  note: 'Jedes Maß ist das des Körpers für sich, nicht der beiden, wie sie aufeinander liegen. ± ist die halbe Breite eines 95-%-Intervalls. Wo keine Grenze steht, setzen die Regeln keine.',
  standsOff: 'Nach Teilen des Fußes, mm',
  median: 'Mitte (Median)',
  most: '95 % bis',
  partsNote: 'Nach Fläche; +\u00a0außerhalb, −\u00a0innerhalb.',
  parts: { toes: 'Zehen', ball: 'Ballen', midfoot: 'Mittelfuß', heel: 'Ferse', leg: 'Bein', all: 'alles' },
  map: 'Karte der Abweichung',
  mapTitle: (first, second) => `${first} gegen ${second}, senkrecht zur Fläche`,
  outside: (from) => `außerhalb, um mehr als ${from}`,
  within: (from) => `innerhalb, um mehr als ${from}`,
  alike: 'Keine Stelle liegt mehr als 0,5 mm neben dem anderen.',
  mapNote: (height) => `Weiß: innerhalb von 0,5 mm. Mehr als ${height} über der Standebene steht nichts, auch nicht, wo dem anderen die Gegenfläche fehlt.`,
};
