/** Sentences about the data: what was noticed, what to do about it, and why a fit gave nothing. */
export const deHealth = {
  // Plan and log do not match
  "The plan leaves out line {line} of {where}, but no reading of this setup stands there.":
    "Der Plan lässt Zeile {line} von {where} weg, aber dort steht keine Ablesung dieser Aufspannung.",
  "Correct the line in the plan, or take the entry away.":
    "Die Zeile im Plan berichtigen oder den Eintrag entfernen.",
  "{name} was measured, but the plan has no such feature.":
    "{name} wurde gemessen, aber der Plan hat kein solches Element.",
  "{name} was signed, but the plan has no such sign-off.":
    "{name} wurde bestätigt, aber der Plan hat keine solche Bestätigung.",
  "Check its spelling in log and plan; nothing of it is judged.":
    "Schreibweise in Datei und Plan prüfen; nichts davon ist beurteilt.",

  // No fit
  "{feature} gives no number. {reason}": "{feature} ergibt keine Zahl. {reason}",
  "The least zone of {feature} could not be proved; its value is an upper bound.":
    "Die kleinste Zone von {feature} ließ sich nicht nachweisen; ihr Wert ist eine obere Schranke.",
  "The form is at most this; touch again where points lie close together or stand twice.":
    "Die Form ist höchstens so groß; dort neu antasten, wo Punkte eng beieinander liegen oder doppelt stehen.",
  "{feature} was not measured as found.": "{feature} wurde vorgefunden nicht gemessen.",
  "{feature} was not measured.": "{feature} wurde nicht gemessen.",
  "{feature} needs {part}. {reason}": "{feature} braucht {part}. {reason}",
  "The ball is larger than what was touched: check tip-diameter and surface.":
    "Die Tastkugel ist größer als das, was angetastet wurde: tip-diameter und surface prüfen.",
  "It is not stated whether the log gives surface points or ball centres.":
    "Nicht angegeben, ob die Datei Oberflächenpunkte oder Kugelmitten nennt.",
  "The log gives ball centres and the tip's diameter is not stated.":
    "Die Datei nennt Kugelmitten, und der Durchmesser der Tastkugel ist nicht angegeben.",
  "The log gives ball centres, and the plan does not say whether {feature} is a bore or a boss.":
    "Die Datei nennt Kugelmitten, und der Plan sagt nicht, ob {feature} Bohrung oder Zapfen ist.",
  "The log gives ball centres, and neither touch directions nor a normal say on which side of {feature} the material is.":
    "Die Datei nennt Kugelmitten, und weder Antastrichtungen noch eine Normale sagen, auf welcher Seite von {feature} das Material liegt.",

  // What few points hide
  "Three points always show a roundness of zero.": "Drei Punkte zeigen immer eine Rundheit von 0.",
  "Four points read three lobes as eccentricity and do not see an oval that lies between them.":
    "Vier Punkte lesen drei Wellen als Exzentrizität und sehen ein Oval nicht, das dazwischen liegt.",
  "{count} points cannot show {waves} or more lobes.":
    "{count} Punkte können {waves} oder mehr Wellen nicht zeigen.",
  "{count} points cannot tell taper, bend and lobes of a cylinder apart: three rings of five are the least.":
    "{count} Punkte trennen Verjüngung, Biegung und Wellen eines Zylinders nicht: drei Ringe zu fünf sind das Mindeste.",
  "Two points always lie on a straight line.": "Zwei Punkte liegen immer auf einer Geraden.",
  "{count} points on a line cannot tell a bend from one bad reading.":
    "{count} Punkte auf einer Geraden trennen eine Biegung nicht von einer falschen Ablesung.",
  "Three points always show a flatness of zero.": "Drei Punkte zeigen immer eine Ebenheit von 0.",
  "Four points share one residual, plus and minus: a bad one cannot be found, and four corners of a dish read flat.":
    "Vier Punkte teilen sich eine Restabweichung, plus und minus: ein falscher ist nicht zu finden, und vier Ecken einer Mulde wirken eben.",
  "{count} points see a dish or a twist only where one of them stands on it.":
    "{count} Punkte sehen eine Mulde oder Verwindung nur, wo einer von ihnen darauf steht.",
  "Four points always lie on a sphere.": "Vier Punkte liegen immer auf einer Kugel.",
  "{count} points on a sphere cannot tell form from one bad reading.":
    "{count} Punkte auf einer Kugel trennen Form nicht von einer falschen Ablesung.",
  "Touch {feature} in at least {wanted} places before its form is judged.":
    "{feature} an mindestens {wanted} Stellen antasten, bevor die Form beurteilt wird.",
  "{feature}: {blindness}": "{feature}: {blindness}",
  "{feature}: {blindness} A flat {width} wide and {depth} deep fits unseen between two touches.":
    "{feature}: {blindness} Eine Abflachung, {width} breit und {depth} tief, hat ungesehen zwischen zwei Antastungen Platz.",
  "{feature} was touched on {arc} of its round: its radius is {times} times as unsure as one reading.":
    "{feature} wurde nur auf {arc} des Umfangs angetastet: der Radius ist {times}-mal so unsicher wie eine Ablesung.",
  "Touch {feature} all the way round, or at least on three sides.":
    "{feature} ringsum antasten, mindestens auf drei Seiten.",
  "{id} is asked for over {asked}, and {feature} was touched over {measured} only: the rest is a straight line nobody has measured.":
    "{id} ist über {asked} verlangt, und {feature} wurde nur über {measured} angetastet: der Rest ist eine Gerade, die niemand gemessen hat.",
  "Touch {feature} near both ends of the length, or ask for the measured length.":
    "{feature} nahe beiden Enden der Länge antasten oder die gemessene Länge verlangen.",

  // Gauge
  "The calibration of {gauge} was due on {due}; used on {day} for {features}.":
    "Die Kalibrierung von {gauge} war am {due} fällig; verwendet am {day} für {features}.",
  "Have {gauge} calibrated, or measure again with a gauge that is in date.":
    "{gauge} kalibrieren lassen oder mit einem gültigen Messmittel neu messen.",
  "Places of {feature} that were read again repeat to {scatter} only; {stated} is stated for one reading.":
    "Nochmals abgelesene Stellen von {feature} wiederholen nur auf {scatter}; angegeben sind {stated} für eine Ablesung.",
  "Check tip, clamping and cleanliness, or state the uncertainty that the gauge shows here.":
    "Tastkugel, Spannung und Sauberkeit prüfen oder die Unsicherheit angeben, die das Messmittel hier zeigt.",
  "Read with a finer scale before judging anything below {step}.":
    "Mit feinerer Skale ablesen, bevor etwas unter {step} beurteilt wird.",
  "The readings of {feature} spread over {steps} × {step}, the step of the scale: it hides what is smaller.":
    "Alle Ablesungen von {feature} liegen innerhalb von {steps} × {step}: die Skale verdeckt, was kleiner ist.",
  "Readings of {feature} are all multiples of {step}, and {id} allows {limit}: the scale hides the answer.":
    "Die Ablesungen von {feature} sind lauter Vielfache von {step}, und {id} erlaubt {limit}: die Skale verdeckt die Antwort.",
  "Readings of {feature} are all multiples of {step}, which alone is an uncertainty of {alone}; {stated} is stated for one.":
    "Die Ablesungen von {feature} sind lauter Vielfache von {step}, das allein ist eine Unsicherheit von {alone}; angegeben sind {stated} für eine.",
  "Readings of {feature} scatter by {scatter} about the fit, and {stated} is stated for one: the rest is form or dirt, and the uncertainty of place and size counts it.":
    "Die Ablesungen von {feature} streuen um {scatter} um den Ausgleich, und {stated} sind für eine angegeben: der Rest ist Form oder Schmutz und zählt in der Unsicherheit von Lage und Maß mit.",
  "Clean and look at the surface and measure again, or state the uncertainty of a reading as it is.":
    "Oberfläche reinigen, ansehen und neu messen oder die Unsicherheit einer Ablesung so angeben, wie sie ist.",
  "All {count} readings of {feature} are the same: the indicator may be stuck or not touching.":
    "Alle {count} Ablesungen von {feature} sind gleich: die Messuhr klemmt vielleicht oder berührt nicht.",
  "{count} readings of {feature} in a row are the same: a stuck needle or a held value looks like this.":
    "{count} Ablesungen von {feature} nacheinander sind gleich: so sieht ein klemmender Zeiger oder ein gehaltener Wert aus.",
  "Push the axis a hundredth towards the work, see the needle move, and read again.":
    "Die Achse ein Hundertstel zum Werkstück fahren, den Zeiger ausschlagen sehen und neu ablesen.",
  "{features}: measured on the machine. Errors of its own axes cancel where it also cut them in this clamping, and do not show.":
    "{features}: auf der Maschine gemessen. Fehler ihrer eigenen Achsen heben sich auf, wo sie in dieser Spannung auch geschnitten hat, und zeigen sich nicht.",
  "Turn B by 180 degrees or clamp again and repeat, or check with an independent gauge.":
    "B um 180 Grad drehen oder neu spannen und wiederholen, oder mit einem unabhängigen Messmittel prüfen.",

  // Readings
  "The first reading of {feature} came back {closure} off at the end, more than {limit}: something moved or warmed up.":
    "Die erste Ablesung von {feature} kam am Ende um {closure} verschoben zurück, mehr als {limit}: etwas hat sich bewegt oder erwärmt.",
  "Check that indicator, base and part are tight, wait for the temperature, and sweep {feature} again with the first reading repeated.":
    "Prüfen, ob Messuhr, Fuß und Teil fest sind, die Temperatur abwarten und {feature} neu abfahren, die erste Ablesung am Ende wiederholen.",
  "The first reading of {feature} came back {closure} off at the end; without an uncertainty of the gauge there is no limit for it.":
    "Die erste Ablesung von {feature} kam am Ende um {closure} verschoben zurück; ohne Unsicherheit des Messmittels gibt es dafür keine Grenze.",
  "State the gauge's uncertainty or closure-limit in the plan.":
    "Die Unsicherheit des Messmittels oder closure-limit im Plan angeben.",
  "The first reading of {feature} was not repeated at the end: a slip or drift would not show.":
    "Die erste Ablesung von {feature} wurde am Ende nicht wiederholt: Rutschen oder Wandern bliebe unbemerkt.",
  "Go back to the first place at the end of the sweep and read it once more.":
    "Am Ende der Abtastung zur ersten Stelle zurückfahren und noch einmal ablesen.",
  "The sums of opposite readings of {feature} differ by {difference}, more than {limit}: that is no plain tilt or offset.":
    "Die Summen gegenüberliegender Ablesungen von {feature} unterscheiden sich um {difference}, mehr als {limit}: das ist keine einfache Schräge oder Verschiebung.",
  "Look for a chip, an oval or a loose arm, and sweep {feature} again with 8 or 12 readings.":
    "Nach einem Span, einem Oval oder einem losen Messuhrhalter sehen und {feature} mit 8 oder 12 Ablesungen neu abfahren.",
  "One reading of {feature} stands {away} off the fit of the others, which scatter by {scatter}: it looks like a chip, an edge or a hole.":
    "Eine Ablesung von {feature} liegt {away} neben dem Ausgleich der übrigen, die um {scatter} streuen: sieht nach einem Span, einer Kante oder einem Loch aus.",
  "First clean and touch {feature} again{where}: one reading stands {away} off the others, and the lines below are worked out with it.":
    "Zuerst {feature}{where} reinigen und neu antasten: eine Ablesung liegt {away} neben den übrigen, und die Zeilen darunter sind mit ihr gerechnet.",
  " (line {line})": " (Zeile {line})",
  "A doubtful reading of {feature} is in this value.":
    "In diesem Wert steckt eine zweifelhafte Ablesung von {feature}.",
  "First clean the doubtful place of {feature} and touch it again.":
    "Zuerst die zweifelhafte Stelle von {feature} reinigen und neu antasten.",
  "Clean the place and touch it again. Nothing was left out; to leave it out for a cause, name the line under exclude in the plan.":
    "Die Stelle reinigen und neu antasten. Nichts wurde weggelassen; wer sie mit Grund weglassen will, nennt die Zeile im Plan unter exclude.",

  // Machine and index
  "The log is of machine {machine}; the plan's sense of B is stated for {planned}.":
    "Die Datei ist von Maschine {machine}; der Drehsinn von B im Plan ist für {planned} angegeben.",
  "Prove which way B turns on this machine and give it a plan of its own, or correct machine in the log or the plan.":
    "Prüfen, wie herum B an dieser Maschine dreht, und ihr einen eigenen Plan geben, oder machine in Datei oder Plan berichtigen.",
  "{feature} stands at B {index} in the plan's {kind}, but the log has it at B {logged}.":
    "{feature} steht im Plan bei {kind} auf B {index}, in der Datei aber auf B {logged}.",
  "Correct the index under {kind} in the plan, or the names or the column b of the log.":
    "Die Stellung bei {kind} im Plan berichtigen, oder die Namen oder die Spalte b der Datei.",

  // Unit, travel and temperature
  "The touches of {feature} spread over {spread} along {axis}; the machine travels {travel}.":
    "Die Antastungen von {feature} erstrecken sich über {spread} entlang {axis}; die Maschine fährt {travel}.",
  "{axis} {value} of {feature} lies outside the machine's travel of {low} to {high}.":
    "{axis} {value} von {feature} liegt außerhalb des Verfahrwegs der Maschine von {low} bis {high}.",
  "Say frame: machine or frame: work in the log or the plan; in the work's frame it means nothing.":
    "frame: machine oder frame: work in Datei oder Plan angeben; in Werkstückkoordinaten hat es nichts zu bedeuten.",
  "Check unit and frame of the log, or the travel in the plan.":
    "Einheit und Koordinaten der Datei prüfen oder den Verfahrweg im Plan.",
  "The part was at {temperature} and its expansion is not stated: nothing is corrected to 20 °C. On steel that changes {size} by {change}.":
    "Das Teil hatte {temperature} und seine Ausdehnung ist nicht angegeben: nichts ist auf 20 °C umgerechnet. Bei Stahl ändert das {size} um {change}.",
  "State expansion under part in the plan.": "Im Plan unter part expansion angeben.",
  "No part temperature is stated: on steel each degree changes {size} by {change}.":
    "Keine Temperatur des Teils angegeben: bei Stahl ändert jedes Grad {size} um {change}.",
  "No part temperature is stated: each degree changes {size} by {change}.":
    "Keine Temperatur des Teils angegeben: jedes Grad ändert {size} um {change}.",
  "State temperature in the log's header, and temperature and expansion under part in the plan.":
    "temperature im Kopf der Datei angeben, und temperature und expansion im Plan unter part.",
  "Check the unit of the log and of the plan's nominal.":
    "Die Einheit der Datei und des Nennwerts im Plan prüfen.",
  "{feature} measures {size} and the plan expects {expected}, a ratio of {ratio}: inches and millimetres look mixed up.":
    "{feature} misst {size}, und der Plan erwartet {expected}, Verhältnis {ratio}: Zoll und Millimeter sehen verwechselt aus.",
  "The centre of {feature} lies {size} from the log's zero and the plan expects {expected}, a ratio of {ratio}: inches and millimetres look mixed up.":
    "Die Mitte von {feature} liegt {size} vom Nullpunkt der Datei, und der Plan erwartet {expected}, Verhältnis {ratio}: Zoll und Millimeter sehen verwechselt aus.",
};
