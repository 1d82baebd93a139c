import type { ComparisonContent, ComparisonFigure } from '@cast-to-last/sheet/comparison/comparison-content';
import type { SheetMapView, SheetParticular } from '@cast-to-last/sheet/measurement/content';
import type { SheetWords } from '@cast-to-last/sheet/words/sheet-words';
import { wordsOf } from '@cast-to-last/sheet/words/words-of';
import type { SheetForm } from '../sheet/sheet-content.js';
import { worstFirst } from '../report/worst-first.js';
import { figureLabel, findingText } from '../sheet/spoken.js';
import type { ComparedFigure } from './compared-cast.js';
import type { ComparedScan, ComparisonReport } from './comparison-report.js';
import type { PairFinding } from './pair-findings.js';

/** Digits of a file's SHA-256 that are shown. */
const DIGITS = 16;

/** All that the picture of a comparison says, in the words of its language; figures as compare.json has them. */
export function comparisonContent(report: ComparisonReport, map: readonly SheetMapView[], { paper, language, inches }: SheetForm): ComparisonContent {
  const words = wordsOf(language);
  const { comparison } = words;
  const { casts: [first, second], registration: { mirrored, rmsMm, usedShare }, deviation, rules } = report;
  const figures = [...report.measures, ...report.readings];
  const parts = [...deviation.regions.map((r) => ({ label: comparison.parts[r.region], ...r })), ...(deviation.overall === null ? [] : [{ label: comparison.parts.all, ...deviation.overall }])];
  return {
    paper, language, inches, mirrored,
    subject: (mirrored ? comparison.subjects.otherSide : comparison.subjects.sameSide)[second.side],
    names: mirrored ? [comparison.mirroredName(words.sides[first.side]), words.sides[second.side]] : [comparison.first, comparison.second],
    bodies: [bodyOf(first, words), bodyOf(second, words)],
    side: second.side,
    registration: { rms: rmsMm, usedShare },
    upTo: deviation.upToMm,
    parts: parts.map(({ label, medianMm, p95Mm }) => ({ label, median: medianMm, p95: p95Mm })),
    figures: figures.map((f) => figureOf(f, words)),
    findings: report.findings.toSorted(worstFirst).map((f) => ({ severity: f.severity, label: subjectOf(f, figures, words), text: findingText(f, words) })),
    particulars: [{ label: words.rules, text: words.version(rules.name, rules.version) }, { label: words.program, text: `cast-to-last ${report.program.version}` }],
    map,
  };
}

function bodyOf({ file, sha256, of, kind, side, load, verdict }: ComparedScan, words: SheetWords): SheetParticular[] {
  const { comparison } = words;
  return [
    { label: comparison.file, text: file },
    { label: comparison.what, text: comparison.kinds[of] },
    { label: comparison.side, text: words.sides[side] },
    ...(kind === null ? [] : [{ label: words.scanOf, text: words.scanKinds[kind] }]),
    ...(load === null || load === undefined ? [] : [{ label: words.load, text: words.loads[load] }]),
    ...(verdict === null ? [] : [{ label: comparison.verdict, text: words.verdicts[verdict] }]),
    { label: comparison.fingerprint, text: `${sha256.slice(0, DIGITS)}…` },
  ];
}

const figureOf = ({ id, label, unit, first, second, difference, uncertainty, expected, limit, beyond }: ComparedFigure, words: SheetWords): ComparisonFigure => ({
  label: figureLabel(id, words) ?? label, unit: unit === 'mm' ? 'mm' : unit === 'deg' || unit === '°' ? 'deg' : '', first, second, difference, uncertainty, expected, limit, beyond,
});

/** What a finding is about: the figure whose id its code holds. */
function subjectOf({ code }: PairFinding, figures: readonly ComparedFigure[], words: SheetWords): string {
  const figure = figures.find(({ id }) => code === `pair-${id}`);
  return figure === undefined ? '' : figureLabel(figure.id, words) ?? figure.label;
}
