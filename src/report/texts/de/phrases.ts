import { deCells } from "./cells.ts";

/** Phrases that stand in the record as plain text; what varies is a named hole. */
export const dePhrases = {
  // What was settled about a log, with its answer
  "encoding: {value}": "Zeichensatz: {value}",
  "line ends: {one} and {two} and {three}": "Zeilenenden: {one}, {two} und {three}",
  "line ends: {one} and {two}": "Zeilenenden: {one} und {two}",
  "line ends: {value}": "Zeilenenden: {value}",
  "shape: {value}": "Aufbau: {value}",
  "kind: probe": "Art: Tastpunkte",
  "kind: sweep": "Art: Abtastung",
  "kind: sign-offs": "Art: Bestätigungen",
  "kind: results": "Art: Ergebnisse",
  "unit of {name}: {value}": "Einheit von {name}: {value}",
  "unit: {value}": "Einheit: {value}",
  "decimal: point": "Dezimalzeichen: Punkt",
  "decimal: comma": "Dezimalzeichen: Komma",
  "separator: comma": "Trennzeichen: Komma",
  "separator: semicolon": "Trennzeichen: Strichpunkt",
  "separator: tab": "Trennzeichen: Tabulator",
  "separator: blanks": "Trennzeichen: Leerzeichen",
  "columns not used: {value}": "nicht verwendete Spalten: {value}",
  "column names: line {line}": "Spaltennamen: Zeile {line}",
  "columns: {value}": "Spalten: {value}",
  "rows skipped: {value}": "übersprungene Zeilen: {value}",
  "places: {count} in order": "Stellen: {count} der Reihe nach",
  "split sign: belongs to the number behind it": "abgesetztes Vorzeichen: gehört zur Zahl dahinter",
  "feature: {value}": "Element: {value}",
  "state: as-found": "Zustand: vorgefunden",
  "state: as-left": "Zustand: hinterlassen",
  "frame: machine": "Koordinaten: Maschine",
  "frame: work": "Koordinaten: Werkstück",
  "points: surface": "Punkte: Oberfläche",
  "points: ball-center": "Punkte: Kugelmitte",
  "points: unknown": "Punkte: unbekannt",
  "sign: toward-plus": "Vorzeichen: zur Messuhr hin plus",
  "sign: toward-minus": "Vorzeichen: zur Messuhr hin minus",
  "sweep {name}: traverse": "Abtastung {name}: Längsabtastung",
  "sweep {name}: rim-sweep": "Abtastung {name}: Umfangsabtastung",
  "sweep {name}: face-sweep": "Abtastung {name}: Planabtastung",
  "sweep {name}: map": "Abtastung {name}: Raster",
  "axes of {name}: along {along}, readings along {height}":
    "Achsen von {name}: entlang {along}, Ablesung entlang {height}",
  "closure of {name}: {count} readings": "Rückkehrprobe von {name}: {count} Ablesungen",
  "closure of {name}: line {line}": "Rückkehrprobe von {name}: Zeile {line}",
  "closure: {name}": "Rückkehrprobe: {name}",
  "time: {value}": "Zeit: {value}",
  "temperature: {value}": "Temperatur: {value:number}",
  "tip-diameter: {value}": "Durchmesser der Tastkugel: {value:number}",
  "sag: {value}": "Durchhang: {value:number}",
  "radius: {value}": "Radius: {value:number}",
  "lever-angle: unknown": "Winkel des Tasthebels: unbekannt",
  "lever-angle: {value} deg": "Winkel des Tasthebels: {value:number}°",
  "lever-angle: {value}": "Winkel des Tasthebels: {value:number}",

  // Why it was settled so
  "{line}, its unit from {because}": "{line:words}, Einheit nach: {because:words}",
  "header line {line}": "Kopfzeile {line}",
  "column name {text}": "Spaltenname {text}",
  "row of units in line {line}": "Zeile der Einheiten, Zeile {line}",
  "title {text} in line {line}": "Titel {text} in Zeile {line}",
  "the file is named {name}": "die Datei heißt {name}",
  "declared in the plan for {name}": "im Plan für {name} angegeben",
  "declared in the plan; lines from {line}": "im Plan angegeben; Zeilen ab {line}",
  "rows named {name}-closure from line {line}": "Zeilen mit Namen {name}-closure ab Zeile {line}",
  "repeat of {name}": "Wiederholung von {name}",
  "the last reading stands at the place of the first, line {line}":
    "die letzte Ablesung steht an der Stelle der ersten, Zeile {line}",
  "{text} in line {line}": "{text} in Zeile {line}",

  // Moves
  "{way}: screw in": "{way:words}: Schraube hineindrehen",
  "{way}: screw out": "{way:words}: Schraube herausdrehen",
  "outward: back it off": "nach außen: lösen",
  "inward: push": "nach innen: drücken",
  stays: "bleibt",
  "anticlockwise seen from above: right side {way}":
    "von oben gesehen gegen den Uhrzeigersinn: rechte Seite {way:words}",
  "clockwise seen from above: right side {way}":
    "von oben gesehen im Uhrzeigersinn: rechte Seite {way:words}",

  // What quality said
  void: "ungültig",
  "disposition: {decision} ({of})": "Entscheid: {decision:words} ({of})",
  "disposition: {decision}": "Entscheid: {decision:words}",
  "correction: {key} is {value}": "Berichtigung: {key} ist {value}",
  "use-as-is": "so verwenden",
  rework: "nacharbeiten",
  "measure-again": "neu messen",
  scrap: "Ausschuss",

  // Words and counts
  "1 row": "1 Zeile",
  "{count} rows": "{count} Zeilen",
  "1 direction": "1 Richtung",
  "{count} directions": "{count} Richtungen",
  "1 control character": "1 Steuerzeichen",
  "{count} control characters": "{count} Steuerzeichen",
  "1 character": "1 Zeichen",
  "{count} characters": "{count} Zeichen",
  "the unit of the log": "der Einheit der Datei",
  "their times": "ihrer Zeit",
  "the order in which they were given": "der Reihenfolge der Übergabe",
  "as found": "vorgefunden",
  "as left": "hinterlassen",
  ...deCells,

  "a quotation mark in it is opened or closed in the wrong place":
    "ein Anführungszeichen darin öffnet oder schließt an der falschen Stelle",
  "line {line} names columns": "Zeile {line} nennt Spalten",
  "line {line} names some columns": "Zeile {line} nennt einige Spalten",
  "line {line} names diameter, x and y": "Zeile {line} nennt diameter, x und y",
  "the plan gives the positions of columns": "der Plan gibt die Stellen der Spalten an",
  "a title stands above column names without a name for the feature":
    "ein Titel steht über Spaltennamen ohne Namen für das Element",
  "{count} titles stand above column names without a name for the feature":
    "{count} Titel stehen über Spaltennamen ohne Namen für das Element",
  "{count} of the first {lines} lines hold name=value pairs":
    "{count} der ersten {lines} Zeilen enthalten Paare Name=Wert",
  "{count} of the first {lines} lines hold letters with numbers":
    "{count} der ersten {lines} Zeilen enthalten Buchstaben mit Zahlen",
  "{count} of the first {lines} lines hold one number and nothing else":
    "{count} der ersten {lines} Zeilen enthalten eine Zahl und sonst nichts",

  // Why a fit gave nothing
  "The points spread alike in several directions: they single out no line.":
    "Die Punkte streuen in mehrere Richtungen gleich: sie legen keine Gerade fest.",
  "The points spread alike in all directions: they single out no line.":
    "Die Punkte streuen in alle Richtungen gleich: sie legen keine Gerade fest.",
  "The points spread alike in several directions: they single out no plane.":
    "Die Punkte streuen in mehrere Richtungen gleich: sie legen keine Ebene fest.",
  "The points lie on one line: they hold no plane.":
    "Die Punkte liegen auf einer Geraden: sie halten keine Ebene.",
  "The points lie on one line: they hold no circle.":
    "Die Punkte liegen auf einer Geraden: sie halten keinen Kreis.",
  "The points lie in one plane: they hold no cylinder.":
    "Die Punkte liegen in einer Ebene: sie halten keinen Zylinder.",
  "The points lie in one plane: they hold no sphere.":
    "Die Punkte liegen in einer Ebene: sie halten keine Kugel.",
  "The points do not determine the axis of a cylinder.":
    "Die Punkte bestimmen die Achse eines Zylinders nicht.",
  "The points do not determine every parameter of the fit.":
    "Die Punkte bestimmen nicht alle Größen des Ausgleichs.",
  "The readings do not determine every coefficient of the fit.":
    "Die Ablesungen bestimmen nicht alle Größen des Ausgleichs.",
  "Several cylinders pass equally well through the points: more points or a stated direction of the axis are needed.":
    "Mehrere Zylinder gehen gleich gut durch die Punkte: mehr Punkte oder eine angegebene Achsrichtung sind nötig.",
  "The points follow a plane better than any cylinder: there is no radius.":
    "Die Punkte folgen einer Ebene besser als jedem Zylinder: es gibt keinen Radius.",
  "The points follow something straight better than any round: there is no radius.":
    "Die Punkte folgen einer Geraden oder Ebene besser als jedem Rund: es gibt keinen Radius.",
  "The points hardly determine the round: the arc is too short.":
    "Die Punkte bestimmen das Rund kaum: der Bogen ist zu kurz.",
  "The fit ran into a radius of nothing.": "Der Ausgleich lief auf einen Radius von 0.",
  "The fit needs at least {count} readings.": "Der Ausgleich braucht mindestens {count} Ablesungen.",
  "The fit cannot start: a residual is not a finite number.":
    "Der Ausgleich kann nicht beginnen: eine Restabweichung ist keine endliche Zahl.",
  "The fit did not settle on an answer.": "Der Ausgleich kam zu keiner Lösung.",
  "A reading is not a finite number.": "Eine Ablesung ist keine endliche Zahl.",
  "A coordinate is not a finite number.": "Eine Koordinate ist keine endliche Zahl.",
  "An angle or a place is not a finite number.": "Ein Winkel oder eine Lage ist keine endliche Zahl.",
  "An angle or a value is not a finite number.": "Ein Winkel oder ein Wert ist keine endliche Zahl.",
  "{feature} needs at least {least} different points, here are {different}.":
    "{feature:words} braucht mindestens {least} verschiedene Punkte, hier sind {different}.",
  "A line": "Eine Gerade",
  "A plane": "Eine Ebene",
  "A circle": "Ein Kreis",
  "A cylinder": "Ein Zylinder",
  "A sphere": "Eine Kugel",
  "No diameter is given.": "Es gibt keinen Durchmesser.",
  "needs at least {least} points, has {count}": "mindestens {least} Punkte nötig, hier sind {count}",
  "the points lie on one line and leave no room for a circle between them":
    "die Punkte liegen auf einer Geraden und lassen keinem Kreis Platz",
  "no circle fits between the points": "zwischen die Punkte passt kein Kreis",
  "the face lies along the datum and leaves the zone free to turn":
    "die Fläche liegt entlang des Bezugs, die Zone kann sich frei drehen",
  "the points lie on one line, which leaves the plane free to turn":
    "die Punkte liegen auf einer Geraden, die Ebene kann sich frei drehen",
  "the search for the plane did not settle": "die Suche nach der Ebene kam zu keiner Lösung",
  "the points lie on one line, which has no centre":
    "die Punkte liegen auf einer Geraden, die hat keine Mitte",
  "the search for the ring did not settle": "die Suche nach dem Ring kam zu keiner Lösung",
  "the points lie on one line, which leaves no cylinder round them":
    "die Punkte liegen auf einer Geraden, darum gibt es keinen Zylinder um sie",
  "the points do not surround an axis": "die Punkte umschließen keine Achse",
  "the search for the cylinder did not settle": "die Suche nach dem Zylinder kam zu keiner Lösung",
  "all points coincide, which leaves the line free to turn":
    "alle Punkte fallen zusammen, die Gerade kann sich frei drehen",
  "the search for the zone did not settle": "die Suche nach der Zone kam zu keiner Lösung",
  "all points coincide": "alle Punkte fallen zusammen",
  "the points do not hold a sphere from all sides": "die Punkte halten keine Kugel von allen Seiten",
  "The centre of a rotation needs at least 2 angles.": "Die Mitte einer Drehung braucht mindestens 2 Winkel.",
  "The angles lie too close together to show the centre of the rotation.":
    "Die Winkel liegen zu eng, um die Mitte der Drehung zu zeigen.",
  "Harmonics need at least 3 different angles, here are {count}.":
    "Harmonische brauchen mindestens 3 verschiedene Winkel, hier sind {count}.",
  "The angles lie too close together to tell the harmonics apart.":
    "Die Winkel liegen zu eng, um die Harmonischen zu trennen.",
};
