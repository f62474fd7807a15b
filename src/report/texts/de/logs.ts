import { deCells } from "./cells.ts";

/** Sentences about logs: what was left out, joined or odd, and how questions about them were settled. */
export const deLogs = {
  "{count} of padding (NUL) before or behind the text were not read":
    "{count:words} Füllung (NUL) vor oder hinter dem Text wurden nicht gelesen",
  "{count} around the lines (STX, ETX and the like) were not read":
    "{count:words} um die Zeilen (STX, ETX und ähnliche) wurden nicht gelesen",
  "the name {name} held control characters; each was replaced by a blank":
    "der Name {name} enthielt Steuerzeichen; jedes wurde durch ein Leerzeichen ersetzt",
  "{name} could belong to the setup of {others}, so it stands alone; add its job and setup to its header":
    "{name} könnte zur Aufspannung von {others:list} gehören und steht darum allein; job und setup im Kopf ergänzen",
  "{logs} state the same job and no setup number; they were joined because they came together":
    "{logs:list} nennen denselben Auftrag und keine Nummer der Aufspannung; sie wurden zusammengelegt, weil sie zusammen kamen",
  "{logs} do not state {missing}; they were joined because they came together":
    "{logs:list}: {missing} ist nicht angegeben; zusammengelegt, weil sie zusammen kamen",
  "{logs} does not state {missing}; it was joined to {others} because they came together":
    "{logs:list}: {missing} ist nicht angegeben; mit {others:list} zusammengelegt, weil sie zusammen kamen",
  "{logs} do not state {missing}; they were joined to {others} because they came together":
    "{logs:list}: {missing} ist nicht angegeben; mit {others:list} zusammengelegt, weil sie zusammen kamen",
  "{later} came later and joined the report of {earlier}; they state the same job and no setup number":
    "zum Bericht mit {earlier:list} kam später hinzu: {later:list}; sie nennen denselben Auftrag und keine Nummer der Aufspannung",
  "{later} came later and joined the report of {earlier}, although {logs} does not state {missing}":
    "zum Bericht mit {earlier:list} kam später hinzu: {later:list}; in {logs:list} ist {missing} nicht angegeben",
  "{later} came later and joined the report of {earlier}, although {logs} do not state {missing}":
    "zum Bericht mit {earlier:list} kam später hinzu: {later:list}; in {logs:list} ist {missing} nicht angegeben",
  "the header key {key} holds control characters; each was replaced by a blank":
    "der Kopfeintrag {key} enthält Steuerzeichen; jedes wurde durch ein Leerzeichen ersetzt",
  "{key}: {value} stands below the first row and was not read as a header line":
    "{key}: {value} steht unter der ersten Zeile mit Werten und wurde nicht als Kopfzeile gelesen",
  "the header key {key} has no meaning here; was {near} meant?":
    "der Kopfeintrag {key} hat hier keine Bedeutung; war {near:list} gemeint?",
  "the remark {text} has no colon and was not read as a header line; was {key}: {value} meant?":
    "die Bemerkung {text} hat keinen Doppelpunkt und wurde nicht als Kopfzeile gelesen; war {key}: {value} gemeint?",
  "all rows were taken for {name}, the title above them, but the column {column} says {one} and {other}; if it names the features, say feature: {column} under logs.columns in the plan":
    "alle Zeilen wurden für {name} genommen, den Titel darüber, aber die Spalte {column} sagt {one} und {other}; wenn sie die Elemente nennt, im Plan unter logs.columns feature: {column} schreiben",
  "the header says {unit} and the plan's logs.unit says {planned}; the header counts":
    "der Kopf sagt {unit} und logs.unit im Plan sagt {planned}; der Kopf zählt",
  "{name} has the same bytes as {first} and counts once":
    "{name} ist Byte für Byte gleich {first} und zählt einmal",
  "{log} names the plan {named}, but the plan used is {used}":
    "{log} nennt den Plan {named}, verwendet wurde {used}",
  "{name} was measured {state} by {earlier} and by {later}; {later} counts, being later by {by}, and the earlier one is superseded":
    "{name} wurde {state:words} in {earlier} und in {later} gemessen; {later} zählt, weil später nach {by:words}, und ersetzt die frühere Datei",
  "{name} was answered in {earlier} and in {later}; {later} counts, being later by {by}, and the earlier one is superseded":
    "{name} wurde in {earlier} und in {later} beantwortet; {later} zählt, weil später nach {by:words}, und ersetzt die frühere Datei",
  "{name}: {reason}": "{name}: {reason:words}",
  "{name}: {text} is not a number": "{name}: {text} ist keine Zahl",
  "{name}: {text} is not a number in {unit}, the unit of its column":
    "{name}: {text} ist keine Zahl in {unit}, der Einheit der Spalte",
  "{evidence}": "{evidence:words}",
  ...deCells,
  "the same as line {earlier}, word for word: logged twice":
    "Wort für Wort wie Zeile {earlier}: doppelt geschrieben",
  "the column {name} is taken in {unit}, as its name says, but elsewhere the unit {general} is stated; look which is right and take the other away":
    "die Spalte {name} gilt in {unit}, wie ihr Name sagt, an anderer Stelle ist aber die Einheit {general} angegeben; nachsehen, was stimmt, und das andere streichen",
  "the row was left out: {reason}": "die Zeile wurde weggelassen: {reason}",
  "{count} rows were left out, the first: {reason}": "{count} Zeilen wurden weggelassen, die erste: {reason}",
  "{count} word for word like an earlier row, without a time or label to tell them apart: kept":
    "{count:words} Wort für Wort wie eine frühere, ohne Zeit oder Marke zum Unterscheiden: behalten",
  "time: {value} is not written year first, such as 2026-11-25T07:00:00Z, and does not order this log":
    "time: {value} beginnt nicht mit dem Jahr, wie 2026-11-25T07:00:00Z, und ordnet diese Datei nicht",
  "the row cannot be divided into cells: {broken}":
    "die Zeile lässt sich nicht in Zellen teilen: {broken:words}",
  "a short row: {count} of {expected} cells": "zu kurze Zeile: {count} von {expected} Zellen",
  "a long row: {count} cells under {expected} columns":
    "zu lange Zeile: {count} Zellen unter {expected} Spalten",
  "left out by the plan: {reason}": "vom Plan weggelassen: {reason}",
  "the last row has no line end but all its cells and decimals, so it was kept":
    "die letzte Zeile hat kein Zeilenende, aber alle Zellen und Stellen, und wurde behalten",
  "it has no line end and fewer decimals than the rows above: it may be cut off":
    "sie hat kein Zeilenende und weniger Stellen als die Zeilen darüber: vielleicht abgeschnitten",
  "the last row has no line end and fewer cells or decimals than the rows above, so it may be cut off and was left out":
    "die letzte Zeile hat kein Zeilenende und weniger Zellen oder Stellen als die darüber, ist vielleicht abgeschnitten und wurde weggelassen",
  "{text} is no reading; as the other lines are as many as the places of the plan, it takes none":
    "{text} ist keine Ablesung; die übrigen Zeilen sind so viele wie die Stellen des Plans, darum nimmt sie keine",
  "no line has {axis}, so it was taken as 0; nothing along {axis} can be said":
    "keine Zeile hat {axis}; es wurde als 0 genommen, entlang {axis} lässt sich nichts sagen",
  "the column names stand here again; the rows go on":
    "die Spaltennamen stehen hier noch einmal; die Zeilen gehen weiter",
  "from here on {name} is in {unit}, above it was in {before}; each row counts in its own unit":
    "ab hier steht {name} in {unit:words}, darüber in {before:words}; jede Zeile zählt in ihrer eigenen Einheit",
  "this line above the column names is neither a header line nor a row and was not read":
    "diese Zeile über den Spaltennamen ist weder Kopfzeile noch Zeile mit Werten und wurde nicht gelesen",
  "the feature is not named": "das Element ist nicht benannt",
  "a repeat of {name} to see whether anything moved: it counts as closure":
    "Wiederholung von {name}, ob sich etwas bewegt hat: zählt als Rückkehrprobe",
  "some rows of {name} have no B, so none is used":
    "einige Zeilen von {name} haben kein B, darum zählt keines",
  "the touch of {name} has no direction in i j k, so the directions of this feature are not used":
    "die Antastung von {name} hat keine Richtung in i j k, darum zählen die Richtungen dieses Elements nicht",
  "{count} i j k of {name} of another length than 1, which was scaled to 1":
    "{count:words} i j k von {name} hatten eine andere Länge als 1 und wurden auf 1 gebracht",
  "the log holds results without their touches, which serve for places and offsets and say nothing about form":
    "die Datei enthält Ergebnisse ohne Antastungen; sie taugen für Lage und Nullpunkt und sagen nichts über Form",
  "the check is not named": "die Prüfung ist nicht benannt",
  "{check} has no value": "{check} hat keinen Wert",
  "the value {written} says {itsUnit} and its unit column {unit}":
    "der Wert {written} sagt {itsUnit}, seine Spalte der Einheit {unit}",
  "{check} is answered again in line {line}, which counts":
    "{check} wird in Zeile {line} nochmals beantwortet, die zählt",
  "{check} is answered here and again in line {later}; the later answer counts":
    "{check} wird hier und nochmals in Zeile {later} beantwortet; die spätere Antwort zählt",
  "the sweep is not named": "die Abtastung ist nicht benannt",
  "the place of the reading is not given": "die Stelle der Ablesung ist nicht angegeben",
  "a repeat of an earlier place of {name}: it counts as closure, not as a station":
    "Wiederholung einer früheren Stelle von {name}: zählt als Rückkehrprobe, nicht als Messstelle",
  "the log does not say which way its readings count; plus was taken as the surface coming towards the indicator. Bump the axis towards the work and see which way the needle goes":
    "die Datei sagt nicht, wie ihre Ablesungen zählen; plus wurde genommen als: die Fläche kommt auf die Messuhr zu. Die Achse kurz zum Werkstück tippen und sehen, wohin der Zeiger geht",
  "from here on the places of {name} come again in the order from line {first} on: all rows count; if something was moved between, keep the rows of one run, or say closure: {name} in the plan and name the later rows {name}-closure":
    "ab hier kommen die Stellen von {name} noch einmal in der Reihenfolge ab Zeile {first}: alle Zeilen zählen; wurde dazwischen etwas bewegt, die Zeilen nur eines Durchgangs behalten oder im Plan closure: {name} angeben und die späteren Zeilen {name}-closure nennen",
  "{count} of {name} at exactly 0, 0, 0, far from the others: perhaps nothing was touched; if so, say exclude in the plan":
    "{count:words} von {name} stehen genau auf 0, 0, 0, weit von den übrigen: vielleicht wurde nichts angetastet; dann im Plan exclude angeben",

  "{first} says {key}: {firstValue} and {second} says {key}: {secondValue}; logs of different setups are not merged, so report them apart or correct the header":
    "{first} sagt {key}: {firstValue} und {second} sagt {key}: {secondValue}; Dateien verschiedener Aufspannungen werden nicht zusammengelegt, also einzeln berichten oder den Kopf berichtigen",

  // Evidence
  "the separator is a comma": "das Trennzeichen ist ein Komma",
  "{text} in line {line} can be read in no other way": "{text} in Zeile {line} lässt sich nicht anders lesen",
  "no number in the log has a decimal mark": "keine Zahl der Datei hat ein Dezimalzeichen",
  "byte order mark EF BB BF": "Bytereihenfolge-Marke EF BB BF",
  "byte order mark {mark}": "Bytereihenfolge-Marke {mark}",
  "every byte sequence is valid UTF-8": "alle Bytefolgen sind gültiges UTF-8",
  "the bytes are not valid UTF-8 and carry no mark, so each byte is one character":
    "die Bytes sind kein gültiges UTF-8 und tragen keine Marke, also ist jedes Byte ein Zeichen",
  "no CR in the file": "kein CR in der Datei",
  "the file mixes them; each ends a line": "die Datei mischt sie; jedes beendet eine Zeile",
  "found in the file": "so in der Datei",
  "declared in the plan": "im Plan angegeben",
  "readings of a lever that slants are too large, zero stays zero":
    "Ablesungen eines schräg stehenden Hebels sind zu groß, null bleibt null",
  "the log names no state": "die Datei nennt keinen Zustand",
  "the columns it has": "ihre Spalten",
  "declared in the plan as logs.order": "im Plan als logs.order angegeben",
  "positions declared in the plan as logs.columns": "Stellen im Plan als logs.columns angegeben",
  "words stand where the plan expects numbers": "es stehen Wörter, wo der Plan Zahlen erwartet",
  "each value carries its name": "jeder Wert trägt seinen Namen",
  "they mean nothing here": "sie bedeuten hier nichts",
  "no line has it": "keine Zeile hat es",
  "{text} in line {line}: printed with a fixed width": "{text} in Zeile {line}: mit fester Breite gedruckt",
  "column names in line {line}": "Spaltennamen in Zeile {line}",
  "declared in the plan as logs.skip-rows": "im Plan als logs.skip-rows angegeben",
  "declared in the plan as logs.constant, where the log has no such column":
    "im Plan als logs.constant angegeben, wo das Protokoll keine solche Spalte hat",
  "declared in the plan as logs.keep; {count} with something else there":
    "im Plan als logs.keep angegeben; {count} mit etwas anderem darin",
  "the results have no z": "die Ergebnisse haben kein z",
  "the column names in line {line} are divided by it": "die Spaltennamen in Zeile {line} sind damit getrennt",
  "it divides the lines into the columns that the plan numbers":
    "es teilt die Zeilen in die Spalten, die der Plan nummeriert",
  "neither header nor plan say whether points are the surface or the ball's center":
    "weder Kopf noch Plan sagen, ob Punkte die Oberfläche oder die Kugelmitte sind",
  "not stated: plunger or lever pushed in is plus": "nicht angegeben: eingedrückter Taststift zählt plus",
  "nothing else is written in the column": "in der Spalte steht nichts anderes",
  "each cell has its own": "jede Zelle hat ihre eigene",
  "the plan has no other feature": "der Plan hat kein anderes Element",
  "column from": "Spalte from",
  header: "Kopf",
  "it has positions": "sie hat Positionen",
  "it has angles": "sie hat Winkel",
  "it has x and y": "sie hat x und y",
  "the feature is a round with a radius and a side": "das Element ist rund, mit Radius und Seite",
  "columns along and height": "Spalten along und height",
  "the normal in the plan points there, and plus is towards the indicator outside the material":
    "die Normale im Plan zeigt dorthin, und Plus ist zur Messuhr hin, die außerhalb des Werkstoffs steht",
  "neither header nor plan say otherwise": "weder Kopf noch Plan sagen anderes",
  "time of the first row": "Zeit der ersten Zeile",
  "when the file was last written or first seen":
    "wann die Datei zuletzt geschrieben oder zuerst gesehen wurde",
  "angles are in degrees": "Winkel stehen in Grad",
  "temperatures are in °C": "Temperaturen stehen in °C",
};
