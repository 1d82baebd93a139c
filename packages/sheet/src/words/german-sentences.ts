/** Decimal commas, but in names, which stand in quotation marks. */
const comma = (text: string): string => text.replaceAll(/„[^“]*“|(\d)\.(\d)/g, (all, whole?: string, tenths?: string) => (whole === undefined || tenths === undefined ? all : `${whole},${tenths}`));

const UNITS: Readonly<Record<string, string>> = { millimetres: 'Millimeter', centimetres: 'Zentimeter', metres: 'Meter', inches: 'Zoll' };
const SIDES: Readonly<Record<string, string>> = { left: 'links', right: 'rechts' };
const REGIONS: Readonly<Record<string, string>> = { heel: 'der Ferse', ball: 'dem Ballen', forefoot: 'dem Vorfuß', toes: 'den Zehen' };
const POINTS: Readonly<Record<string, string>> = {
  'inside ball point': 'Innenballen', 'outside ball point': 'Außenballen', 'rearmost point of the heel': 'hintersten Punkt der Ferse', 'toe tip': 'Zehenende', 'instep point': 'Spannpunkt',
};
/** What a scanner's check found beyond its limits, figure by figure. */
const scannerFigures = (figures: string): string =>
  figures.replaceAll('sphere-spacing error', 'Kugelabstandsabweichung').replaceAll('form error', 'Formabweichung').replaceAll('size error', 'Maßabweichung').replaceAll(' of ball ', ' der Kugel ').replaceAll('limit', 'Grenze');

const DECIDED: Readonly<Record<string, string>> = { smooth: 'glätten', keep: 'belassen', ask: 'offen' };

/** Sentences that the stages make, as patterns, and the same in German; $1 and on, or a function of what the pattern caught. */
const SENTENCES: readonly (readonly [RegExp, string | ((...caught: string[]) => string)])[] = [
  // Why a mark is smoothed, kept or asked.
  [/^([\d.]+) mm is within the ([\d.]+) mm that the rules smooth\.$/, '$1 mm liegen innerhalb der $2 mm, die die Regeln glätten.'],
  [/^([\d.]+) mm is more than the ([\d.]+) mm up to which the rules smooth\.$/, '$1 mm sind mehr als die $2 mm, bis zu denen die Regeln glätten.'],
  [/^It lies at the (.+), which a measure rests on\.$/, (_, point) => `Sie liegt am ${POINTS[point] ?? point}, auf dem ein Maß beruht.`],
  [/^The foot is small: a mark of this width and its own form can look alike\.$/, 'Der Fuß ist klein: Eine Spur dieser Breite und seine eigene Form können einander gleichen.'],
  [/^It lies on the toes, where a mark and the form of a toe can look alike\.$/, 'Sie liegt auf den Zehen, wo Spur und Form einer Zehe einander gleichen.'],
  [/^Protected ground: (.*)$/, 'Geschützter Bereich: $1'],
  [/^The rules leave the seam to the maker\.$/, 'Die Regeln überlassen die Naht dem Leistenmacher.'],
  [/^The rules leave ridges to the maker\.$/, 'Die Regeln überlassen Grate dem Leistenmacher.'],
  [/^The maker decided: (\w+)\.(.*)$/, (_, decision, note) => `Der Leistenmacher entschied: ${DECIDED[decision] ?? decision}.${note}`],
  // What could not be followed of the maker's decisions.
  [/^The decision "(\w+)" on (.+) meets no mark of this cast: it did nothing\.$/, (_, decision, which) => `Die Entscheidung „${DECIDED[decision] ?? decision}“ zu ${which} trifft keine Spur dieses Abgusses: Sie bewirkte nichts.`],
  [/^Nothing of the cast lies under the patch of ([\d.]+) mm at (.+): it did nothing\.$/, 'Unter dem Flicken von $1 mm bei $2 liegt nichts vom Abguss: Er bewirkte nichts.'],
  [/^No sound surface near enough says what should be at the patch of ([\d.]+) mm at (.+): it was left as it is\.$/, 'Keine unversehrte Fläche in der Nähe sagt, was am Flicken von $1 mm bei $2 sein sollte: Er blieb, wie er ist.'],
  [/^No sound surface near enough says what should be at (\S+): it was left as it is\.$/, 'Keine unversehrte Fläche in der Nähe sagt, was bei $1 sein sollte: Es blieb, wie es ist.'],
  // Why a measure is absent.
  [/^The section round the ball is open: the scan has a gap there\.$/, 'Der Querschnitt am Ballen ist offen: Der Scan hat dort eine Lücke.'],
  [/^The top of the foot is open at half its length\.$/, 'Der Fußrücken ist auf halber Länge offen.'],
  [/^The instep point could not be found\.$/, 'Der Spannpunkt war nicht zu finden.'],
  [/^The top of the foot is open between instep and ball\.$/, 'Der Fußrücken ist zwischen Spann und Ballen offen.'],
  [/^The section is open in every direction of the tape: the cast stops short\.$/, 'Der Querschnitt ist in jeder Richtung des Bands offen: Der Abguss hört zu früh auf.'],
  [/^The cast does not reach above the crook of the ankle\.$/, 'Der Abguss reicht nicht über die Beuge des Knöchels.'],
  [/^The section through heel and ankle is open: the cast stops short\.$/, 'Der Querschnitt durch Ferse und Knöchel ist offen: Der Abguss hört zu früh auf.'],
  [/^The cast does not reach far enough above the ankle bones\.$/, 'Der Abguss reicht nicht weit genug über die Knöchel.'],
  [/^The section above the ankle bones is open\.$/, 'Der Querschnitt über den Knöcheln ist offen.'],
  [/^The leg is still growing narrower where the cast ends\.$/, 'Das Bein wird noch schmaler, wo der Abguss endet.'],
  [/^No sole was found in the medial third of the arch\.$/, 'Im inneren Drittel des Gewölbes fand sich keine Sohle.'],
  // Why a reading could not be taken or weighed.
  [/^The order names no footbed, so there is nothing to hold it against\.$/, 'Der Auftrag nennt kein Fußbett, also fehlt der Vergleich.'],
  [/^The inside ankle bone does not show on the cast; its height was taken from the foot length\.$/, 'Der Innenknöchel zeichnet sich nicht ab; seine Höhe folgt der Fußlänge.'],
  [/^The front of the toes is missing in the scan\.$/, 'Die Vorderseite der Zehen fehlt im Scan.'],
  [/^The toes do not show under the plaster\.$/, 'Die Zehen zeichnen sich unter dem Gips nicht ab.'],
  [/^The cast ends too near above the crook of the ankle\.$/, 'Der Abguss endet zu knapp über der Beuge des Knöchels.'],
  [/^Most of the sole under the (\w+) was missing in the scan\.$/, (_, region) => `Der größte Teil der Sohle unter ${REGIONS[region] ?? region} fehlte im Scan.`],
  [/^Too much of the surface that it is read from was missing in the scan, or its points lie too far apart: it may be far off\.$/, 'Zu viel der Fläche, an der es gelesen wird, fehlte im Scan, oder dessen Punkte liegen zu weit auseinander: Es kann weit danebenliegen.'],
  [/^The measure could not be taken\.$/, 'Das Maß ließ sich nicht nehmen.'],
  [/^The sole rests on no two planes that could be told\.$/, 'Die Sohle liegt auf keinen zwei Ebenen, die zu erkennen wären.'],
  [/^The sole bends by ([\d.]+)°, too little to show where the hinge was\.$/, 'Die Sohle knickt um $1°, zu wenig, um das Scharnier zu zeigen.'],
  [/^The forefoot is twisted by ([\d.]+)° at a bend of ([\d.]+)°: the crease runs askew and does not show where the hinge was\.$/, 'Der Vorfuß ist um $1° verdreht bei einem Knick von $2°: Die Knicklinie läuft schräg und zeigt nicht, wo das Scharnier war.'],
  [/^The toes do not show under the plaster; how far it reaches beyond them follows from where the ball lies, as in most feet \(ANSUR II\)\.$/, 'Die Zehen zeichnen sich unter dem Gips nicht ab; wie weit er über sie hinausreicht, folgt daraus, wo der Ballen liegt, wie bei den meisten Füßen (ANSUR II).'],
  [/^The cast holds too little of the Achilles tendon\.$/, 'Der Abguss enthält zu wenig von der Achillessehne.'],
  [/^The surface was missing in the scan where the tape crosses the cut\.$/, 'Wo das Band den Schnitt kreuzt, fehlte die Oberfläche im Scan.'],
  [/^The surface beside shows lines as clear as the edges of a cut: among them none can be told\.$/, 'Die Fläche daneben zeigt Linien, so deutlich wie die Kanten eines Schnitts: Darunter ist keiner zu erkennen.'],
  [/^Two edges show here as those of a gap would, but lines beside them are as clear: whether the cut gapes cannot be told\.$/, 'Hier zeigen sich zwei Kanten wie die eines Spalts, aber Linien daneben sind ebenso deutlich: Ob der Schnitt klafft, ist nicht zu erkennen.'],
  [/^The cut gapes beside here; how far it does so here does not show\.$/, 'Der Schnitt klafft daneben; wie weit er es hier tut, zeigt sich nicht.'],
  [/^Two lines run along the cut here; whether they are the edges of a narrow gap or the two sides of a seam cannot be told\.$/, 'Am Schnitt verlaufen hier zwei Linien; ob es die Kanten eines schmalen Spalts oder die Seiten einer Naht sind, ist nicht zu erkennen.'],
  [/^One flap stands over the other here; how far they overlap cannot be seen from one side\.$/, 'Hier steht eine Kante über der anderen; wie weit sie sich überlappen, ist von einer Seite nicht zu sehen.'],
  [/^One flap stands over the other here, but the two sides of the wall do not show the same one\.$/, 'Hier steht eine Kante über der anderen, aber die beiden Seiten der Wand zeigen nicht dieselbe.'],
  [/^One flap stands over the other here, but the edges on the two sides of the wall are not those of two flaps that overlap\.$/, 'Hier steht eine Kante über der anderen, aber die Kanten auf den beiden Seiten der Wand sind nicht die zweier Lappen, die sich überlappen.'],
  [/^One side of the wall shows a gap here, the other one flap that stands over the other: which it is cannot be told\.$/, 'Eine Seite der Wand zeigt hier einen Spalt, die andere eine Kante, die über der anderen steht: Was es ist, ist nicht zu erkennen.'],
  [/^The surface was missing in the scan where a cut would run\.$/, 'Wo ein Schnitt verliefe, fehlte die Oberfläche im Scan.'],
  [/^The tape could not be laid there\.$/, 'Das Band ließ sich dort nicht legen.'],
  [/^The sole was missing in the scan\.$/, 'Die Sohle fehlte im Scan.'],
  [/^The toes are missing in the scan\.$/, 'Die Zehen fehlen im Scan.'],
  [/^One side of the shell was scanned; thin places show where both were\.$/, 'Eine Seite der Schale wurde gescannt; dünne Stellen zeigen sich, wo beide es sind.'],
  // What must be said of the scan.
  [/^The file names no unit; (\w+) were taken, because its longest extent of ([\d.]+)(.*) then has the size of a foot cast\.(?: If it is a small child's, ([\d.]+) mm in (\w+), say so with --unit (\w+)\.)?$/, (_, unit, extent, mm, childMm, childUnit, option) => `Die Datei nennt keine Einheit; es wurden ${UNITS[unit] ?? unit} angenommen, weil die längste Ausdehnung von ${extent}${mm} dann die eines Fußabgusses ist.${childMm === undefined ? '' : ` Ist es der eines kleinen Kindes, ${childMm} mm in ${UNITS[childUnit] ?? childUnit}, dann mit --unit ${option} angeben.`}`],
  [/^The longest extent of the scan is ([\d.]+) mm, unusual for a foot cast; the unit was taken as given\.$/, 'Die längste Ausdehnung des Scans ist $1 mm, ungewöhnlich für einen Fußabguss; die Einheit gilt wie angegeben.'],
  [/^The shape looks like a (\w+) foot; it is treated as (\w+) because the operator said so\.$/, (_, shown, side) => `Die Form sieht nach ${SIDES[shown] ?? shown} aus; sie gilt als ${SIDES[side] ?? side}, weil es so bestimmt wurde.`],
  [/^The shape does not tell left from right clearly; it is treated as (\w+), as declared\.$/, (_, side) => `Die Form lässt links und rechts nicht klar erkennen; sie gilt wie angegeben als ${SIDES[side] ?? side}.`],
  [/^A flat surface beside the cast, most likely the table, was left out\.$/, 'Eine flache Fläche neben dem Abguss, wohl der Tisch, blieb weg.'],
  [/^The surface was written in patches with cracks between them; the cracks were closed\.$/, 'Die Fläche bestand aus Stücken mit Rissen; die Risse wurden geschlossen.'],
  [/^The cast was scanned together with the table it stood on; the table was cut away, and the cast just above it closed\.$/, 'Der Abguss wurde mit dem Tisch gescannt; der Tisch wurde abgeschnitten und der Abguss knapp darüber geschlossen.'],
  [/^The cast was scanned together with pegs, blocks or a plate that it stood on; they were cut away, and the sole above them closed\.$/, 'Der Abguss wurde zusammen mit Stiften, Klötzen oder einer Platte gescannt, auf denen er stand; sie wurden abgeschnitten und die Sohle darüber geschlossen.'],
  [/^The scan has no sole \((.+)\); a smooth surface was put in its place, and the sole's own shape is not known\.$/, 'Der Scan hat keine Sohle ($1); eine glatte Fläche steht an ihrer Stelle, die Form der Sohle ist nicht bekannt.'],
  [/^A hole of (.+) was filled with a smooth surface; check what leans on it\.$/, 'Ein Loch von $1 wurde glatt gefüllt; prüfen, was darauf beruht.'],
  [/^(\d+) more holes of 3 cm² or more were filled\.$/, '$1 weitere Löcher von mindestens 3 cm² wurden gefüllt.'],
  [/^Many small holes, ([\d.]+) cm² in all, were filled\.$/, 'Viele kleine Löcher, zusammen $1 cm², wurden gefüllt.'],
  [/^The scan holds a second body, with ([\d.]+) % of the surface of the larger one, which was taken for the cast; look whether it is the right one\.$/, 'Der Scan enthält einen zweiten Körper mit $1 % der Fläche des größeren, der als Abguss genommen wurde; prüfen, ob es der richtige ist.'],
  [/^Loose pieces, ([\d.]+) % of the surface, were left out; look whether a part of the cast was among them\.$/, 'Lose Stücke, $1 % der Fläche, blieben weg; prüfen, ob ein Teil des Abgusses darunter war.'],
  [/^The scan holds a second surface that follows the cast all over; the larger one was used\.$/, 'Der Scan enthält eine zweite Fläche, die dem Abguss überall folgt; die größere wurde verwendet.'],
  [/^The scan shows both sides of a thin shell; both were kept\.$/, 'Der Scan zeigt beide Seiten einer dünnen Schale; beide blieben.'],
  [/^The scan shows both sides of the shell; the inner one is the foot, and the wall was measured: ([\d.]+) mm\.$/, 'Der Scan zeigt beide Seiten der Schale; die innere ist der Fuß, und die Wand wurde gemessen: $1 mm.'],
  [/^The scan shows both sides of the shell, though it was booked in as a scan of the outside; the inner one is the foot, and the wall was measured: ([\d.]+) mm\.$/, 'Der Scan zeigt beide Seiten der Schale, obwohl er als Scan der Außenseite angegeben ist; die innere ist der Fuß, und die Wand wurde gemessen: $1 mm.'],
  [/^The wall was reckoned from the layers of bandage, ([\d.]+) ± ([\d.]+) mm; measure it at the cut edge for closer measures\.$/, 'Die Wand ist aus den Lagen der Binde gerechnet, $1 ± $2 mm; an der Schnittkante gemessen werden die Maße genauer.'],
  [/^The inner surface that was made from the outside folds over itself at a place; look at it before a last is made\.$/, 'Die aus der Außenseite gerechnete innere Fläche faltet sich an einer Stelle über sich; vor dem Bau des Leistens ansehen.'],
  [/^The scanner "(.+)" has no check on record up to ([\d-]+); nobody knows how true its scans are\. Check it with the gauge balls\.$/, 'Für den Scanner „$1“ gibt es bis $2 keine Prüfung; niemand weiß, wie genau seine Scans sind. Mit den Prüfkugeln prüfen.'],
  [/^The scanner "(.+)" was last checked on ([\d-]+), (\d+) days before; a check is good for (\d+)\. Check it with the gauge balls\.$/, 'Der Scanner „$1“ wurde zuletzt am $2 geprüft, $3 Tage davor; eine Prüfung gilt $4 Tage. Mit den Prüfkugeln prüfen.'],
  [/^The scanner "(.+)" was out of limits when it was checked on ([\d-]+): (.+?\))\.(?: Its scans are ([\d.]+) % too (large|small): ([\d.]+) mm on a girth of 250 mm\.)? Every measure of this cast may be off\.$/, (_, scanner, date, figures, percent, way, mm) =>
    `Der Scanner „${scanner}“ lag bei der Prüfung am ${date} außerhalb der Grenzen: ${scannerFigures(figures)}.${percent === undefined ? '' : ` Seine Scans sind um ${percent} % zu ${way === 'large' ? 'groß' : 'klein'}: ${mm} mm auf einen Umfang von 250 mm.`} Jedes Maß dieses Abgusses kann falsch sein.`],
  [/^The foot frame did not come to rest; the mean of its last states is used\.$/, 'Das Achsenkreuz des Fußes kam nicht zur Ruhe; das Mittel der letzten Lagen gilt.'],
  // What must be said of the last.
  [/^The rules name no height of the top: it is cut level at ([\d.]+) mm, where the cast is whole all round\.$/, 'Die Regeln nennen keine Höhe der Oberseite: Sie ist bei $1 mm eben geschnitten, wo der Abguss ringsum ganz ist.'],
  [/^The flat top has room for no mark of the midline\.$/, 'Die flache Oberseite hat keinen Platz für Marken der Mittellinie.'],
  [/^The flat top has room for one mark of the midline\.$/, 'Die flache Oberseite hat nur für eine Marke der Mittellinie Platz.'],
  [/^The flat top has no room for order number and side in letters of ([\d.]+) mm: they are left out\..*$/, 'Die flache Oberseite hat keinen Platz für Auftragsnummer und Seite in Buchstaben von $1 mm: Sie fehlen. Ein höherer Schnitt, ein längerer Kegel oder weniger Löcher schaffen Platz.'],
  [/^There are no strokes for (.+) of the order number: a crossed box stands in place of each\.$/, 'Für $1 der Auftragsnummer gibt es keine Striche: An ihrer Stelle steht je ein gekreuztes Kästchen.'],
  [/^The sole shows no edge: the feather line stays as it was cast\.$/, 'Die Sohle zeigt keine Kante: Die Leistenkante bleibt, wie sie abgeformt ist.'],
  [/^The sole shows no edge over ([\d.]+) % of its outline: the feather line stays as it was cast there\.$/, 'Auf $1 % ihres Umrisses zeigt die Sohle keine Kante: Die Leistenkante bleibt dort, wie sie abgeformt ist.'],
  [/^The foot's own edge is sharper \(([\d.]+) mm\) than the feather line asked for: it is not cut\.$/, 'Die Kante des Fußes selbst ist schärfer ($1 mm) als die verlangte Leistenkante: Sie wird nicht beschnitten.'],
  [/^The toes are not level: the feather line round them stays as it was cast\. last\.toeBox\.level levels them\.$/, 'Die Zehen sind nicht eingeebnet: Die Leistenkante um sie bleibt, wie sie abgeformt ist. last.toeBox.level ebnet sie ein.'],
  [/^The body shows no sole: it stays as it was cast\.$/, 'Es ist keine Sohle zu erkennen: Sie bleibt, wie sie abgeformt ist.'],
  [/^The sole is too narrow to be made flat across: it was made fair\.$/, 'Die Sohle ist zu schmal, um quer flach zu werden: Sie wurde nur geglättet.'],
  [/^The sole rests on no two planes: heel height and toe spring stay those of the cast\.$/, 'Die Sohle liegt auf keinen zwei Ebenen: Absatzhöhe und Spitzensprengung bleiben die des Abgusses.'],
  [/^The sole that was turned rests on no two planes: its stance cannot be read\.$/, 'Die gestellte Sohle liegt auf keinen zwei Ebenen: Ihre Stellung ist nicht ablesbar.'],
  [/^The sole is bent by ([\d.]+)° where ([\d.]+)° were asked for\.$/, 'Die Sohle knickt um $1°, verlangt waren $2°.'],
  [/^The rules ask for a toe box ([\d.]+) mm high, but the toes need ([\d.]+) mm: the box is left at that height\.$/, 'Die Regeln verlangen einen Zehenraum von $1 mm Höhe, die Zehen brauchen $2 mm: Er bleibt so hoch.'],
  [/^The cone stands upright on the cut: with the slope of the surface it would cross itself\. Look at the edge of the cut, or cut higher\.$/, 'Der Kegel steht senkrecht auf dem Schnitt: Mit der Neigung der Fläche würde er sich selbst durchdringen. Die Kante des Schnitts ansehen oder höher schneiden.'],
  [/^The changes of girth asked for differ much from one station to the next, which shows as a hollow or a rise between ball and instep; ask for changes that differ less to avoid it\.$/, 'Die verlangten Änderungen der Umfänge unterscheiden sich stark von Stelle zu Stelle, was sich als Mulde oder Wölbung zwischen Ballen und Spann zeigt; näher beieinander liegende vermeiden das.'],
  [/^The stance or the sole has changed the girths so much that the foot's own cannot be brought back: look at what came of them\.$/, 'Stellung oder Sohle haben die Umfänge so verändert, dass die des Fußes nicht zurückzuholen sind: ansehen, was daraus wurde.'],
  [/^The last was made again from the cleaned cast by the rules "(.+)", version (.+); cast check and marks are those of "(.+)", version (.+)\.$/, 'Der Leisten wurde aus dem geglätteten Abguss nach den Regeln „$1“, Fassung „$2“, neu gemacht; Prüfung und Spuren sind die von „$3“, Fassung „$4“.'],
  // What must be said of how it is made.
  [/^A cut is too short or too narrow for a rail; its parts are not held sideways\.$/, 'Ein Schnitt ist zu kurz oder zu schmal für eine Schiene; seine Teile haben seitlich keinen Halt.'],
  [/^The surface of the piece "(.+)" crosses itself in (\d+) triangles: look at it before it is printed\.$/, 'Die Fläche des Teils „$1“ durchdringt sich selbst in $2 Dreiecken: vor dem Druck ansehen.'],
  [/^The piece "(.+)" falls into (\d+) parts: move its cut\.$/, 'Das Teil „$1“ zerfällt in $2 Stücke: seinen Schnitt versetzen.'],
  [/^The halves of "(.+)" have no room for pins of ([\d.]+) mm\.$/, 'Die Hälften von „$1“ haben keinen Platz für Stifte von $2 mm.'],
  [/^The piece "(.+)" is left solid: no hollow with a wall of ([\d.]+) mm has room in it\.$/, 'Das Teil „$1“ bleibt massiv: Ein Hohlraum mit $2 mm Wand hat darin keinen Platz.'],
  [/^The piece "(.+)" has room for (\d+) of (\d+) drains of ([\d.]+) mm into a hollow of (\d+) cm³(, which is left solid)?\.$/, (_, piece, found, asked, mm, hollow, solid) =>
    `Das Teil „${piece}“ hat Platz für ${found} von ${asked} Abläufen von ${mm} mm in einen Hohlraum von ${hollow} cm³${solid === undefined ? '' : ', der gefüllt bleibt'}.`],
];

/** A stage's sentence in German; as it is where it is not known. */
export function germanSentence(text: string): string {
  for (const [pattern, german] of SENTENCES) {
    if (pattern.test(text)) return comma(typeof german === 'string' ? text.replace(pattern, german) : text.replace(pattern, german));
  }
  return text;
}
