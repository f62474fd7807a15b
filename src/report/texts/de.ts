import { deAlignment } from "./de/alignment.ts";
import { deHealth } from "./de/health.ts";
import { deKinds } from "./de/kinds.ts";
import { deLogs } from "./de/logs.ts";
import { deMachining } from "./de/machining.ts";
import { dePhrases } from "./de/phrases.ts";
import { deResults } from "./de/results.ts";
import { deShop } from "./de/shop.ts";
import { deStored } from "./de/stored.ts";
import { dePlots } from "./dePlots.ts";
import type { Texts } from "./words.ts";

/** German words of the page. */
export const de: Texts = {
  language: "de",
  decimal: ",",
  title: "Einrichtebericht",
  page: "Seite {page} von {pages}",
  revision: "Revision {revision}",
  of: "von",
  more: "und {count} weitere: alle stehen im JSON-Datensatz",
  cut: "{text}… ({count} Zeichen, vollständig im JSON-Datensatz)",
  noValue: "kein Wert",
  notStated: "nicht angegeben",
  notRecorded: "nicht aufgezeichnet",
  yes: "ja",
  no: "nein",
  none: "keine",
  itemsOnly: "Gilt nur für die gemessenen Gegenstände.",
  endMark: "Ende des Berichts {id}, Revision {revision}",
  replaces: "Ersetzt Revision {revision}; sie gilt nicht mehr.",
  superseded: "ERSETZT durch Revision {revision}. Nicht nach dieser Seite arbeiten.",
  verdicts: { pass: "Bestanden", fail: "Nicht bestanden", undecided: "Unentschieden", missing: "Fehlt" },
  levels: { error: "Fehler", warning: "Warnung", note: "Hinweis" },
  states: { "as-found": "vorgefunden", "as-left": "hinterlassen" },
  where: { "on-machine": "dieselbe Maschine", independent: "unabhängiges Messmittel" },
  identity: {
    heading: "Worum es geht",
    issued: "ausgestellt",
    labels: {
      job: "Auftrag",
      operation: "Arbeitsgang",
      setup: "Aufspannung",
      plan: "Plan",
      machine: "Maschine",
      pallet: "Palette",
      fixture: "Vorrichtung",
      part: "Teil",
      serial: "Seriennummer",
      operator: "Bediener",
      instrument: "Messmittel",
      temperature: "Temperatur",
      time: "Gemessen",
      note: "Notiz",
      clamping: "Spannung",
    },
  },
  verdict: {
    heading: "Urteil",
    sentences: {
      pass: "Alles, was der Plan verlangt, liegt nachweislich innerhalb seiner Grenzen.",
      fail: "Etwas liegt nachweislich außerhalb seiner Grenzen.",
      undecided: "Nichts liegt nachweislich außerhalb, aber diese Daten entscheiden nicht alles.",
      missing: "Nichts liegt nachweislich außerhalb, aber etwas wurde nicht gemessen oder nicht bestätigt.",
    },
    empty: "Der Plan verlangt kein Urteil.",
    halted:
      "Was beurteilt wurde, liegt innerhalb seiner Grenzen, aber noch nicht spanen: siehe, was als Nächstes zu tun ist.",
  },
  card: {
    heading: "Als Nächstes",
    nothing: "Nach diesem Plan ist nichts zu verstellen.",
    undecided: "Noch kann kein Weg angegeben werden. Siehe unten, was unentschieden ist.",
  },
  open: {
    failed: "Außerhalb der Grenzen",
    undecided: "Unentschieden, und was entscheidet",
    missing: "Fehlt",
    signOff: "Bestätigung",
    decide: "Das entscheidet:",
    limit: "Grenze",
  },
  offsets: {
    heading: "Einzugebende Verschiebungen",
    axis: "Achse",
    old: "Alt",
    change: "Änderung",
    new: "Neu",
    proof: "Probe:",
    check:
      "Register, Palette, Einheit und Vorzeichen vor der Eingabe mit der Steuerung vergleichen. Nach jeder Änderung ohne Schnitt abfahren.",
    after:
      "Erst die Verstellungen oben ausführen und neu messen: diese Zahlen gelten, wie jetzt aufgespannt ist.",
  },
  results: {
    heading: "Ergebnisse",
    characteristic: "Merkmal",
    limits: "Nennwert und Grenzen",
    value: "Wert",
    uncertainty: "± U",
    margin: "Abstand",
    points: "Punkte",
    asFound: "Vorgefunden",
    verdict: "Urteil",
    reason: "Grund",
    max: "höchstens",
    min: "mindestens",
    nominal: "Nennwert",
    to: "bis",
    datum: "zu",
    conformance: "Wahrscheinlichkeit, innerhalb zu liegen: {share} %",
    legend:
      "U ist die erweiterte Unsicherheit, k = {coverage}, wenn die Zeile nichts anderes sagt. Abstand ist der Weg zur näheren Grenze; ist er negativ, liegt der Wert außerhalb. Punkte sind die Ablesungen hinter dem Wert.",
    barLegend:
      "Balken, jeder in seinem eigenen Maßstab: weiß liegt innerhalb der Grenzen (dicke Striche), getönt ist der Schutzabstand, der Punkt ist der Wert mit U nach beiden Seiten, der Ring der vorgefundene Wert.",
    notes: "Anmerkungen",
    notesHeading: "Anmerkungen zu den Ergebnissen",
    together: {
      "{feature} was measured {clamping}.": "Gemessen {clamping}: {feature}.",
      "{feature} was measured after bolt {bolt}.": "Gemessen nach Schraube {bolt}: {feature}.",
      "{feature} was measured on the machine: errors of its own axes do not show.":
        "Auf der Maschine gemessen, Fehler ihrer eigenen Achsen zeigen sich darum nicht: {feature}.",
      "{feature} was measured with an independent gauge.": "Mit unabhängigem Messmittel gemessen: {feature}.",
    },
    noLimit: "keine Grenze",
    empty: "Der Plan nennt keine Merkmale.",
  },
  correction: {
    heading: "Vorgefunden, verstellt, hinterlassen",
    characteristic: "Was",
    asFound: "Vorgefunden",
    correction: "Verstellt um",
    wanted: "Nötig: {amount}.",
    asLeft: "Hinterlassen",
    ratio: "Verhältnis",
    unit: "Einheit",
    legend:
      "Verhältnis ist hinterlassen durch vorgefunden: nahe 0 hat die Verstellung gewirkt, nahe 1 hat sich nichts bewegt, nahe 2 ging es in die falsche Richtung.",
    notYet: "noch nicht gemessen",
    empty: "Vor der Verstellung wurde nichts gemessen; ein Vergleich ist nicht möglich.",
  },
  advice: {
    heading: "Rat und sein Rechenweg",
    moves: "Wege",
    at: "An",
    along: "Entlang",
    amount: "Betrag",
    turn: "Drehung",
    words: "In Worten",
    expect: "Danach zu erwarten:",
    next: "Nächste Prüfung:",
    working: "Rechenweg",
    numbers: "Zahlen",
    cautions: "Vorsicht:",
    status: { advised: "geraten", undecided: "noch keine Zahl", missing: "nicht gemessen" },
    signs:
      "Von der Spindel aus gesehen ist +X rechts, +Y oben, +Z vom Werkstück zur Spindel. Ein positiver Betrag bewegt das Genannte zur positiven Achse hin.",
    empty: "Der Plan verlangt keinen Rat.",
  },
  features: {
    heading: "Elemente und Ausgleich",
    feature: "Element",
    empty: "Kein Element wurde gemessen.",
    fit: "Ausgleich",
    state: "Zustand",
    points: "Punkte",
    center: "Mitte",
    direction: "Richtung",
    diameter: "Durchmesser",
    inscribed: "Größter einbeschriebener",
    circumscribed: "Kleinster umschriebener",
    rms: "Restabweichung, quadratisches Mittel",
    zoneLeastSquares: "Form, kleinste Quadrate",
    zoneMinimum: "Form, kleinste Zone",
    proof: {
      global: "nachweislich kleinste",
      local: "kleinste in der Nähe, von mehreren Anfängen aus",
      none: "obere Schranke, nicht nachgewiesen",
    },
    scatter: "Streuung einer Ablesung",
    freedom: "Freiheitsgrade",
    condition: "Konditionszahl",
    sweep: "Abtastung",
    fim: "Gesamter Zeigerausschlag",
    sweepRadius: "Radius der Abtastung",
    clamping: "Spannung",
    bolt: "Zuletzt angezogene Schraube",
    where: "Gemessen mit",
    trouble: "Kein Ausgleich:",
  },
  signOffs: {
    heading: "Bestätigungen",
    ask: "Gefragt",
    value: "Antwort",
    limits: "Grenzen",
    by: "Von",
    time: "Wann",
    verdict: "Urteil",
    reason: "Grund",
    torque:
      "Ein Drehmoment wird nur mit dem Wert des Plans verglichen; der richtige Wert kommt vom Hersteller.",
  },
  logs: {
    heading: "Messdateien und wie sie verstanden wurden",
    log: "Datei",
    kind: "Art",
    rows: "Zeilen",
    used: "Verwendet",
    excluded: "Weggelassen",
    hash: "SHA-256",
    header: "Kopf",
    decisions: "Verstanden als",
    because: "weil",
    all: "Alle Messdateien",
    plan: "Plan",
    kinds: {
      probe: "Tastpunkte",
      sweep: "Abtastung mit Messuhr",
      "sign-offs": "Bestätigungen",
      results: "nur Ergebnisse, keine Tastpunkte",
    },
    empty: "Keine Messdatei wurde verwendet.",
  },
  entries: {
    heading: "Was die Qualitätsstelle zu früheren Revisionen sagte",
    revision: "Revision",
    made: "Vermerkt",
    what: "Was",
    who: "Wer",
    why: "Warum",
    void: "ungültig: nicht zu verwenden",
    correction: "{key} ist {value}",
    decisions: {
      "use-as-is": "so verwenden",
      rework: "nacharbeiten",
      "measure-again": "neu messen",
      scrap: "Ausschuss",
    },
  },
  gauges: {
    heading: "Messmittel",
    name: "Messmittel",
    uncertainty: "Standardunsicherheit einer Ablesung",
    due: "Kalibrierung fällig",
    where: "Misst",
    empty: "Der Plan nennt kein Messmittel; darum ist keine Unsicherheit bekannt.",
  },
  decision: {
    heading: "Entscheidungsregel",
    guarded:
      "Mit Schutzabstand. Mit Grenze T, Wert y und Schutzabstand w = {guard} × U: bestanden, wenn y um w oder mehr innerhalb von T liegt; nicht bestanden, wenn y um mehr als w außerhalb liegt; dazwischen unentschieden. U ist die erweiterte Unsicherheit mit k = {coverage}.",
    guardedRisk:
      "Mit w gleich U bleibt die Wahrscheinlichkeit, dass ein Bestanden falsch ist, unter etwa 2,5 %, bei normalverteilter Abweichung.",
    simple:
      "Einfach. Ein Wert auf oder innerhalb der Grenze besteht, ein Wert außerhalb nicht; die Unsicherheit wird gedruckt und nicht verwendet. Für einen Wert genau auf der Grenze ist ein falsches Bestanden bis zu 50 % wahrscheinlich.",
    always:
      "Unabhängig vom Wert ist ein Ergebnis unentschieden: bei zu wenigen Punkten; wenn Einheit, Vorzeichen, Tasterzustand oder Unsicherheit fehlen, wo sie gebraucht werden; wenn die Kalibrierung überfällig ist; wenn Rückkehrprobe oder Kreuzsumme nicht stimmen; wenn das Ergebnis über die gemessene Länge hinausreicht.",
    overall:
      "Der Bericht ist nicht bestanden, wenn ein Eintrag nicht bestanden ist; sonst fehlt etwas; sonst unentschieden; sonst bestanden.",
  },
  exclusions: {
    heading: "Weggelassene Ablesungen",
    log: "Datei",
    line: "Zeile",
    reason: "Grund",
    empty: "Nichts wurde weggelassen.",
  },
  findings: {
    heading: "Auffälligkeiten",
    level: "Stufe",
    text: "Was auffiel",
    place: "Ort",
    line: "Zeile {line}",
    cell: "Zelle {column}",
    empty: "An den Daten fiel nichts auf.",
  },
  assumptions: {
    heading: "Worauf die Ergebnisse beruhen",
    list: {
      uncertainty:
        "Die Unsicherheit kommt aus der angegebenen Unsicherheit einer Ablesung, oder aus der gesehenen Streuung, wo diese größer ist, durch den Ausgleich fortgepflanzt. Fehler der Maschinenwege sind nur enthalten, wo der Plan sie angibt.",
      sameMachine:
        "Eine Fläche, die in derselben Spannung auf der Maschine geprüft wird, die sie geschnitten hat, kann besser aussehen, als sie ist: Wegfehler heben sich auf.",
      points:
        "Form aus einzelnen Tastpunkten ist eine untere Schranke: was zwischen ihnen liegt, wird nicht gesehen. Streuung des Tastens wirkt umgekehrt.",
      temperature:
        "Längen sind wie gemessen. Eine Temperatur zählt nur, wo dieser Bericht sagt, dass sie verwendet wurde.",
      clamped: "Ergebnisse gelten für den Spannzustand, in dem abgelesen wurde.",
    },
  },
  cautions: {
    heading: "Vorsicht",
    list: {
      advice:
        "Diese Zahlen sind ein Rat, aus den Ablesungen errechnet. Anleitungen von Maschine, Vorrichtung, Futter und Hebezeug, die Regeln des Betriebs und seine unterwiesenen Leute gehen vor.",
      isolate:
        "Vor dem Hineingreifen abschalten und gegen Einschalten sichern, wenn der Betrieb nicht für genau diese Arbeit einen schriftlichen sicheren Weg hat. Einrichten gilt als Arbeit an der Maschine; es gilt das Recht des Ortes.",
      hands:
        "Hände, Lappen und Kabel weg von allem, was drehen oder teilen kann. Eine Spindel mit Messuhr von Hand drehen, Antrieb aus. B nur drehen, wenn niemand nahe ist: auch die abgewandte Seite schwenkt.",
      lifting:
        "Ein Gewicht wäre hier berechnet, nicht gewogen. Mit zugelassenem Gerät heben, nie darunter stehen; eine schräg gezogene Ringschraube trägt viel weniger.",
      torque: "Anzugsmomente kommen nur vom Hersteller der Vorrichtung, der Palette oder des Futters.",
      chips:
        "Gesägte Kanten sind scharf, Späne sind heiß: Pinsel nehmen, nicht die Hand und nicht die Druckluft.",
      fire: "Titan, Magnesium und feine Späne können brennen. Späne räumen, Löschpulver Klasse D oder trockenen Sand bereithalten; kein Wasser auf brennendes Metall.",
      coolant:
        "Kühlschmierstoff schadet Haut und Augen und macht Böden glatt. Von Messuhr und Taster fernhalten.",
      offsets:
        "Eine gespeicherte Verschiebung bewegt die Maschine. Nach einer Änderung: Register und Vorzeichen prüfen, ohne Schnitt, Einzelsatz, Eilgang niedrig, Hand am Vorschub-Halt.",
      units:
        "Falsche Einheit, falsches Vorzeichen oder alte Revision machen aus richtiger Rechnung einen Schaden.",
    },
  },
  signatures: {
    heading: "Unterschriften",
    measured: "Gemessen von",
    checked: "Geprüft von",
    approved: "Freigegeben von",
    name: "Name",
    date: "Datum",
    signature: "Unterschrift",
    uncontrolled: "Ein Ausdruck ist eine Kopie: maßgebend ist die JSON-Datei mit dem Namen dieses Berichts.",
    generator: "Erstellt mit {name} {version}; Plan {plan}, SHA-256 {sha256}.",
  },
  ...deKinds,
  plots: dePlots,
  shop: deShop,
  sentences: { ...deAlignment, ...deMachining, ...deStored, ...deResults, ...deHealth, ...deLogs },
  phrases: dePhrases,
  joints: { and: "und", or: "oder" },
};
