/** Sentences about what is stored in the control or in earlier reports: centre of B, work offset, seatings. */
export const deStored = {
  // Centre of B
  "Touch the ball at two indices at least, 180 degrees apart or more of them.":
    "Die Kugel in mindestens zwei Stellungen von B antasten, 180 Grad auseinander, oder in mehr.",
  "These indices do not show which way B turns: touch at three or more, or state b-sense.":
    "Diese Stellungen zeigen nicht, in welche Richtung B dreht: in drei oder mehr antasten oder b-sense angeben.",
  "The ball at several B shows sense {shown}, the plan states b-sense {stated}.":
    "Die Kugel bei mehreren B zeigt den Drehsinn {shown}, der Plan sagt b-sense {stated}.",
  "Check the order of the indices and the sign of B, then the plan's machine block.":
    "Reihenfolge der Stellungen und Vorzeichen von B prüfen, dann den Abschnitt machine im Plan.",
  "Touched again and carried to every B the ball is found within {rms}.":
    "Neu angetastet und auf jedes B umgerechnet liegt die Kugel innerhalb {rms}.",
  "A second pair of indices, 90 degrees on, gives the same centre.":
    "Ein zweites Paar von Stellungen, 90 Grad weiter, ergibt dieselbe Mitte.",
  "Store the centre with time and temperature; touch one face at 0 and 180 to prove it.":
    "Mitte mit Zeit und Temperatur speichern; zum Nachweis eine Fläche bei 0 und 180 antasten.",
  "B centre X {x}, Z {z}": "Drehmitte B: X {x}, Z {z}",
  "B centre X {x}, Z {z}: moved X {dx}, Z {dz} since stored":
    "Drehmitte B: X {x}, Z {z}; gegenüber dem gespeicherten Wert um X {dx}, Z {dz} gewandert",
  "B{b}: X {x}, Z {z}, left over X {rx}, Z {rz}": "B{b}: X {x}, Z {z}, Rest X {rx}, Z {rz}",
  "sense {name}: rms {rms}, the wrong one": "Drehsinn {name}: quadratisches Mittel {rms}, der falsche",
  "sense {name}: rms {rms}": "Drehsinn {name}: quadratisches Mittel {rms}",
  "circle without the angles: centre X {x}, Z {z}, arm {arm}":
    "Kreis ohne die Winkel: Mitte X {x}, Z {z}, Hebelarm {arm}",
  "offset carried to B{b} changes by X {x}, Z {z}":
    "auf B{b} umgerechneter Nullpunkt ändert sich um X {x}, Z {z}",
  "the second height is not measured: no tilt of the axis":
    "die zweite Höhe ist nicht gemessen: keine Schräglage der Achse",
  "the second height tells no tilt: it must lie higher or lower":
    "die zweite Höhe zeigt keine Schräglage: sie muss höher oder tiefer liegen",
  "tilt of the axis over {rise} of Y: dX/dY {x}, dZ/dY {z}":
    "Schräglage der Achse über {rise} in Y: dX/dY {x}, dZ/dY {z}",
  "since {report} of {day}: X {x}, Z {z}": "seit {report} vom {day}: X {x}, Z {z}",
  "over {count} earlier reports and this one the centre wandered {x} in X and {z} in Z":
    "über {count} frühere Berichte und diesen ist die Mitte um {x} in X und {z} in Z gewandert",

  // Work offset
  "Name a feature (of), or an offset to carry (from, b, center).":
    "Ein Element (of) nennen oder einen Nullpunkt zum Umrechnen (from, b, center).",
  "State the nominal place of {of}, such as nominal: [x: 0 mm].":
    "Nennlage von {of} angeben, etwa nominal: [x: 0 mm].",
  "State the old offset along {axes}: the reading was taken in it.":
    "Alten Nullpunkt entlang {axes} angeben: darin wurde abgelesen.",
  "{of} tells no place along {axes}.": "{of} zeigt keinen Ort entlang {axes}.",
  "{of} tells no place along {axes}: left out.": "{of} zeigt keinen Ort entlang {axes}: weggelassen.",
  "{axis}: new = old {old} + (measured {measured} - nominal {nominal}) = {next}":
    "{axis}: neu = alt {old} + (gemessen {measured} - Nennwert {nominal}) = {next}",
  "{axis}: new = measured {measured} - nominal {nominal} = {next} (machine coordinates)":
    "{axis}: neu = gemessen {measured} - Nennwert {nominal} = {next} (Maschinenkoordinaten)",
  "Probe {of} again in the new offset: it must read {place}":
    "{of} im neuen Nullpunkt nochmals antasten: die Anzeige muss {place} sein",
  "To carry an offset state x and z of from and of center.":
    "Zum Umrechnen eines Nullpunkts x und z von from und von center angeben.",
  "t = sense of B ({sense}) x {b}°": "t = Drehsinn von B ({sense}) × {b}°",
  "X = {cx} + ({x} - ({cx})) cos t + ({z} - ({cz})) sin t = {nx}":
    "X = {cx} + ({x} - ({cx})) cos t + ({z} - ({cz})) sin t = {nx}",
  "Z = {cz} - ({x} - ({cx})) sin t + ({z} - ({cz})) cos t = {nz}":
    "Z = {cz} - ({x} - ({cx})) sin t + ({z} - ({cz})) cos t = {nz}",
  "At B{b} a known place probed in the new offset reads its nominal.":
    "Bei B{b} zeigt eine bekannte Stelle, im neuen Nullpunkt angetastet, ihren Nennwert.",
  "Read the stored numbers back aloud with their signs; prove the place, then store.":
    "Die gespeicherten Zahlen mit Vorzeichen laut zurücklesen; Lage nachweisen, dann speichern.",
  "A change above {most} along {axes}: check unit, sign, register and pallet a second time.":
    "Eine Änderung über {most} entlang {axes}: Einheit, Vorzeichen, Register und Palette ein zweites Mal prüfen.",
  "{place} (change {by})": "{place} (Änderung {by})",
  "{register}: {parts}: look twice": "{register}: {parts}: zweimal hinsehen",
  "{register}: {parts}": "{register}: {parts}",
  "not stated": "nicht angegeben",
  "register {register}, pallet {pallet}, old values not stated":
    "Register {register}, Palette {pallet}, alte Werte nicht angegeben",
  "register {register}, pallet {pallet}, old {places}": "Register {register}, Palette {pallet}, alt {places}",

  // Coordinates and tip
  "{kind}: the log does not say which coordinates these are; taken as coordinates of the active offset.":
    "{kind}: die Datei sagt nicht, in welchen Koordinaten sie steht; angenommen: Koordinaten des aktiven Nullpunkts.",
  "{kind}: the log does not say which coordinates these are; taken as machine coordinates.":
    "{kind}: die Datei sagt nicht, in welchen Koordinaten sie steht; angenommen: Maschinenkoordinaten.",
  "State frame: machine or frame: work in the log's header or the plan's logs.":
    "frame: machine oder frame: work im Kopf der Datei oder unter logs im Plan angeben.",
  "{of}: not stated whether the tip is taken off, so size and place are not known.":
    "{of}: nicht angegeben, ob der Kugelradius abgezogen ist; darum sind Maß und Lage nicht bekannt.",
  "rotation-center": "Drehmitte",
  "work-offset": "Nullpunktverschiebung",

  // Seatings
  "State which feature of the ledger to compare: feature: NAME.":
    "Angeben, welches Element aus dem Verlauf verglichen wird: feature: NAME.",
  "Two seatings at least are needed, three are better: here is {count}.":
    "Mindestens zwei Aufsetzungen sind nötig, drei sind besser: hier ist {count}.",
  "The next seating falls within {range} of the mean.":
    "Die nächste Aufsetzung liegt innerhalb {range} vom Mittel.",
  "Outside the limit: clean seat, pins and pull-studs, look for a burr, seat again three times.":
    "Außerhalb der Grenze: Auflage, Stifte und Anzugsbolzen reinigen, nach Graten sehen, dreimal neu aufsetzen.",
  "{from}: {quantity} {value}": "{from}: {quantity} {value}",
  "mean {mean}, standard deviation {deviation}, largest less smallest {range}":
    "Mittel {mean}, Standardabweichung {deviation}, größte weniger kleinste {range}",
  "not known": "nicht bekannt",
  "{count} seatings say little about spread: seat at least three times.":
    "{count} Aufsetzungen sagen wenig über die Streuung: mindestens dreimal aufsetzen.",
  "Seat it the same way each time: the same push, the same order of bolts.":
    "Jedes Mal gleich aufsetzen: gleicher Druck, gleiche Reihenfolge der Schrauben.",
  "{count} seatings: {quantity} within {range}": "{count} Aufsetzungen: {quantity} innerhalb {range}",
  "{count} seatings: {quantity} within {range}; state over to hold it against {limit}":
    "{count} Aufsetzungen: {quantity} innerhalb {range}; over angeben, dann wird gegen {limit} verglichen",
  "Comes back: {count} seatings within {length} over {over}, limit {limit}":
    "Kommt wieder: {count} Aufsetzungen innerhalb {length} über {over}, Grenze {limit}",
  "Comes back: {count} seatings within {length}, limit {limit}":
    "Kommt wieder: {count} Aufsetzungen innerhalb {length}, Grenze {limit}",
  "Does NOT come back: {count} seatings differ {length} over {over}, limit {limit}":
    "Kommt NICHT wieder: {count} Aufsetzungen weichen {length} über {over} ab, Grenze {limit}",
  "Does NOT come back: {count} seatings differ {length}, limit {limit}":
    "Kommt NICHT wieder: {count} Aufsetzungen weichen {length} ab, Grenze {limit}",
  "no earlier report of this: no drift can be told":
    "kein früherer Bericht davon: eine Wanderung lässt sich nicht sagen",
  "drift against {count} earlier values (mean {old}): {drift}":
    "Wanderung gegenüber {count} früheren Werten (Mittel {old}): {drift}",
  "slope over X": "Steigung über X",
  "slope over Y": "Steigung über Y",
  "place along X": "Lage entlang X",
  "place along Y": "Lage entlang Y",
  "place along Z": "Lage entlang Z",
};
