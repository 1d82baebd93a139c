import type { SpokenFinding } from './spoken-finding.js';

type Say = (finding: SpokenFinding) => string;

const measured = ({ value, limit }: SpokenFinding): string => (limit === '' ? value : `${value}, Grenze ${limit}`);

/** What load does to a foot: the figures that the check names, Tsung 2003. */
const LOAD_CHANGE = 'Schon halbes Gewicht macht einen Fuß länger und breiter und senkt das Gewölbe (Tsung 2003).';

/** What each finding says, by its code; codes of single measures stand under what they begin with. */
const FINDINGS: Readonly<Record<string, Say>> = {
  'stops-short': (f) => `Der Abguss ist ganz bis ${f.value}; etwa ${f.limit} sind üblich. Umfänge darüber lassen sich nicht nehmen.`,
  'top-closed': () => 'Der Scan ist oben geschlossen; die flache Oberseite zählt als Fläche.',
  'stands-on-top': (f) => `Ab ${f.value} steht etwas auf dem Abguss, das kein Bein ist, etwa ein Rohr oder ein Block: Dort wird nichts gemessen. Der Leisten behält es, wenn die Regeln ihm nicht darunter eine flache Oberseite geben.`,
  'toes-closed': (f) => `Die Zehen sind offen oder abgeschnitten (${measured(f)}); ihre Form und Länge dort ist nicht bekannt.`,
  'toes-hidden': () => 'Die Zehen zeichnen sich unter dem Gips nicht ab. Wie weit er über sie hinausreicht, ist nicht zu erkennen; der Fuß kann kürzer sein als gemessen.',
  'surface-made-up': (f) => `Ein Teil der Fläche wurde ergänzt (${measured(f)}); was darauf liegt, ist nicht die Form des Fußes.`,
  'sole-bend': (f) => `Der Knick der Sohle ist nicht der des Fußbetts (${measured(f)}): Ferse oder Zehen standen im falschen Winkel.`,
  'heel-on-plate': (f) => `Die Ferse lag nicht auf ihrer Platte (${measured(f)}).`,
  'ball-on-hinge': (f) => `Die Sohle knickt nicht unter dem Innenballen (${measured(f)}): Der Fuß stand auf dem Fußbett zu weit vorn oder hinten.`,
  'rear-view': (f) => `Von hinten gesehen neigt sich das Bein anders als gewollt (${measured(f)}): Das Knie stand zu weit innen oder außen.`,
  'forward-lean': (f) => `Der Unterschenkel neigt sich anders als gewollt (${measured(f)}): Das Bein stand zu weit vor oder zurück.`,
  'forefoot-twist': (f) => `Der Vorfuß ist gegen die Ferse verdreht (${measured(f)}): Der Fuß stand nicht auf beiden Kanten.`,
  'sole-flatness': (f) => `Die Sohle ist nicht flach, wo sie auf den Platten liegen sollte (${measured(f)}): Der Fuß hing oder rutschte, während der Gips abband.`,
  'toe-box': (f) => `Die Zehen wirken gedrückt oder eingebunden (Breite gegen Ballen ${measured(f)}). Ein Leisten danach würde die Zehen drücken.`,
  'beyond-toes': (f) => `Eine Falte der Binde reicht über die Zehen hinaus (${measured(f)}); die gemessene Fußlänge ist die der Falte.`,
  'closing-ball': (f) => `Die Schnittkanten am Ballen wurden nicht richtig geschlossen (${measured(f)}): Der Abguss ist dort um so viel zu weit oder zu eng.`,
  'closing-waist': (f) => `Die Schnittkanten am Gelenk wurden nicht richtig geschlossen (${measured(f)}): Der Abguss ist dort um so viel zu weit oder zu eng.`,
  'closing-instep': (f) => `Die Schnittkanten am Spann wurden nicht richtig geschlossen (${measured(f)}): Der Abguss ist dort um so viel zu weit oder zu eng.`,
  'cut-step': (f) => `Am Schnitt steht eine Kante über der anderen (${measured(f)}): Die Schale wurde nicht so geschlossen, wie sie vom Fuß kam.`,
  'cut-hidden': () => 'Am Schnitt ist nicht zu erkennen, ob er klafft: Was sich dort zeigt, kann auch eine Naht sein, eine Kante über der anderen oder die Oberfläche daneben. Den Schnitt am Abguss selbst ansehen.',
  'scan-coarse': () => 'Die Punkte des Scans liegen zu weit auseinander: Ein Schnitt, eine Naht oder der Rand einer Binde zeigt sich dazwischen nicht.',
  'scan-rippled': () => 'Feine Wellen bedecken den Scan: Ein Schnitt, eine Naht oder der Rand einer Binde ist darin nicht zu erkennen, und nichts davon wurde geglättet.',
  'wall-thin': (f) => `Die Wand ist auf ${f.value} dünn und kann beim Ausgießen nachgeben.`,
  'wall-broken': (f) => `Die Wand ist auf ${f.value} durchbrochen; die Fläche des Fußes wurde dort ergänzt.`,
  'load-unknown': () => `Der Auftrag sagt nicht, welche Last auf dem Fuß stand. ${LOAD_CHANGE}`,
  'load-unusual': () => `Der Abguss wurde nicht unter der üblichen Last genommen. ${LOAD_CHANGE}`,
  'discipline-not-listed': () => 'Die Regeln führen die Verwendung des Auftrags nicht; die Haltung des Beins wurde nach „other“ beurteilt.',
  'pair-load': () => 'Die beiden Abgüsse wurden unter verschiedener Last genommen: Ihre Unterschiede sagen wenig über die Füße.',
  'tape-': (f) => `Ein Maß des Abgusses weicht vom Band des Kunden ab (${measured(f)}). Vor dem Bau des Leistens nachfragen.`,
  'population-': (f) => `Ein Maß liegt außerhalb dessen, was 98 von 100 Menschen haben (${measured(f)}; ANSUR II). Füße sind verschieden; prüfen, ob es am Abguss liegt.`,
  'pair-': (f) => `Die beiden Abgüsse unterscheiden sich mehr, als Füße es meist tun (Unterschied ${measured(f)}).`,
};

/** The finding in German; the check's own sentence where its code has none. */
export function germanFinding(finding: SpokenFinding): string {
  const { code, text } = finding;
  const say = FINDINGS[code] ?? Object.entries(FINDINGS).find(([key]) => key.endsWith('-') && code.startsWith(key))?.[1];
  return say === undefined ? text : say(finding);
}
