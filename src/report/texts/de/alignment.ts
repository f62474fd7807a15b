/** Sentences about moves, squaring up, the seat and the four faces. */
export const deAlignment = {
  // Moves in words
  "{at}: {amount}{along}{words}{turn}{ending}": "{at}: {amount}{along}{words}{turn}{ending}",
  " along {axis}": " entlang {axis}",
  ", {way}": ", {way}",
  ", turn {turn}": ", {turn} drehen",
  "to the right": "nach rechts",
  "to the left": "nach links",
  up: "nach oben",
  down: "nach unten",
  outward: "nach außen",
  inward: "nach innen",
  "towards the spindle": "zur Spindel hin",
  "away from the spindle": "von der Spindel weg",
  part: "Teil",
  chuck: "Spannfutter",
  column: "Spannturm",
  "and {count} more: see the advice below.": "und {count} weitere: siehe Rat unten.",
  "After the moves above measure again; as it stands now {headline}":
    "Nach den Verstellungen oben neu messen; so wie es jetzt steht {headline}",
  "Clean and re-seat first; if the lean stays, {move}":
    "Zuerst reinigen und neu aufsetzen; bleibt die Neigung, dann {move}",
  "Stop: {names} outside the limits. Put it right or have it decided before going on.":
    "Halt: {names} außerhalb der Grenzen. Erst in Ordnung bringen oder entscheiden lassen, dann weitermachen.",
  "Stop: sign-off {names} failed. Put it right and sign again before going on.":
    "Halt: Bestätigung {names} nicht bestanden. Erst in Ordnung bringen und neu bestätigen, dann weitermachen.",

  // Cautions
  "Clean and re-seat first: shim only what is left after that, and only where the shop allows it.":
    "Zuerst reinigen und neu aufsetzen: nur unterlegen, was dann noch übrig ist, und nur, wo der Betrieb es erlaubt.",
  "Stored offsets move the machine: dry run, single block, rapid low, hand on feed hold after any change.":
    "Gespeicherte Nullpunkte bewegen die Maschine: nach jeder Änderung Probelauf ohne Schnitt, Einzelsatz, Eilgang niedrig, Hand am Vorschub-Halt.",
  "Loosen the bolts before the move, tighten as the maker says, then measure again: tightening can move it.":
    "Vor dem Verschieben die Schrauben lösen, danach nach Angabe des Herstellers anziehen und neu messen: das Anziehen kann verschieben.",
  "Turning about a pivot moves everything else too: probe X and Z again before offsets are stored.":
    "Wer um einen Punkt dreht, bewegt auch alles andere: X und Z neu antasten, bevor Nullpunkte gespeichert werden.",
  "Turn B only with people clear: the far side of the column swings.":
    "B nur drehen, wenn niemand nahe ist: auch die abgewandte Seite des Spannturms schwenkt.",

  // Square up
  "{of} does not look at the spindle: it has no slope over X or Y to correct.":
    "{of} sieht nicht zur Spindel: es gibt keine Steigung über X oder Y zu berichtigen.",
  "{of} runs along Y and cannot tell the turn of the face: sweep along X.":
    "{of} läuft entlang Y und zeigt die Verdrehung der Fläche nicht: entlang X abfahren.",
  "{of} runs along X and cannot tell the lean: sweep along Y.":
    "{of} läuft entlang X und zeigt die Neigung nicht: entlang Y abfahren.",
  "Which way B turns is not known: state b-sense for this machine, or prove it from a ball at several B.":
    "In welche Richtung B dreht, ist nicht bekannt: b-sense dieser Maschine angeben oder mit einer Kugel bei mehreren B nachweisen.",
  "No stop is called {name}: name one of the stops as the pivot.":
    "Kein Anschlag heißt {name}: als Drehpunkt (pivot) einen der Anschläge nennen.",
  "{at}: -({slope}) x (its X less {pivot}) = {amount} along Z":
    "{at}: -({slope}) × (sein X weniger {pivot}) = {amount} entlang Z",
  "{at}: {slope} x (its Z less {pivot}) = {amount} along Y":
    "{at}: {slope} × (sein Z weniger {pivot}) = {amount} entlang Y",
  "slope dZ/d{axis} of {of} from {count} readings = {slope}{known} = {angle}":
    "Steigung dZ/d{axis} von {of} aus {count} Ablesungen = {slope}{known} = {angle}",
  "by turning B instead: {turn}, its sign is not known until the sense of B is stated":
    "statt dessen durch Drehen von B: {turn}, das Vorzeichen ist erst mit dem Drehsinn von B bekannt",
  "by turning B instead: add {turn} to B": "statt dessen durch Drehen von B: {turn} zu B addieren",
  "{of} is square: nothing to move.": "{of} ist ausgerichtet: nichts zu verstellen.",
  " (within the uncertainty of the readings: leave it)":
    " (innerhalb der Unsicherheit der Ablesungen: so lassen)",
  " (step 1 of {steps}, measure again after each)": " (Schritt 1 von {steps}, nach jedem neu messen)",
  "{of}: lean {slopeY}": "{of}: Neigung {slopeY}",
  "{of}: turned {slopeX}": "{of}: verdreht {slopeX}",
  "{of}: turned {slopeX}, lean {slopeY}": "{of}: verdreht {slopeX}, Neigung {slopeY}",
  "Name stops, or rotary: b, to be told the move.":
    "Anschläge (stops) oder rotary: b nennen, dann wird der Weg gesagt.",
  "Sweep {of} again: what is left over what was found should be near 0 (near 2 means the wrong way).":
    "{of} nochmals abfahren: hinterlassen durch vorgefunden soll nahe 0 sein (nahe 2 heißt falsche Richtung).",
  "A shim cannot be negative: lower this support by its screw, or pivot on another one.":
    "Negativ unterlegen geht nicht: diese Stütze an ihrer Schraube absenken oder eine andere als Drehpunkt nehmen.",
  "The sweep of {of} falls by the share of this step; go on until it reads the same at both ends.":
    "Der Ausschlag über {of} sinkt um den Anteil dieses Schritts; weitermachen, bis beide Enden gleich anzeigen.",
  "A sweep of {of} reads the same at both ends.":
    "Beim Abfahren von {of} zeigt die Messuhr an beiden Enden gleich.",
  "An indicator on the face at X {at} must change by {change}: stop there.":
    "Eine Messuhr an der Fläche bei X {at} muss sich um {change} ändern: dort aufhören.",
  "An indicator upright on the base at Z {at} must change by {change}: stop there.":
    "Eine Messuhr senkrecht auf dem Fuß bei Z {at} muss sich um {change} ändern: dort aufhören.",

  // Bolt by bolt
  "{of}: no lean, left out of the bolts": "{of}: keine Neigung, bei den Schrauben weggelassen",
  "{at} pulled: the top moved {moved} over {height}": "{at} angezogen: oben {moved} gewandert, über {height}",
  "Not seated: {at} moved the top {moved} (a seated base stays within {limit})":
    "Liegt nicht auf: {at} hat das obere Ende um {moved} bewegt (ein aufliegender Fuß bleibt innerhalb {limit})",

  // Seat check
  "With the debris gone the lean over {height} is near zero.":
    "Ist der Schmutz weg, liegt die Neigung über {height} nahe 0.",
  "{of} cannot tell the lean: touch a face, or sweep along Y.":
    "{of} zeigt die Neigung nicht: eine Fläche antasten oder entlang Y abfahren.",
  "One face cannot tell the seat from the face or the machine: sweep the opposite face too.":
    "Eine Fläche allein trennt die Auflage nicht von Fläche oder Maschine: auch die Gegenfläche abfahren.",
  " ± {doubt}": " ± {doubt}",
  "lean dZ/dY of {of} = {face}{known}": "Neigung dZ/dY von {of} = {face}{known}",
  "half the difference to the opposite face ({behind}) is the seat: {seat}; half the sum, {rest}, is not":
    "die halbe Differenz zur Gegenfläche ({behind}) ist die Auflage: {seat}; die halbe Summe, {rest}, ist es nicht",
  "sideways lean dX/dY from the second face = {side}":
    "seitliche Neigung dX/dY aus der zweiten Fläche = {side}",
  "Lean {lean} over {height}: state the base's length along Z to tell the debris.":
    "Neigung {lean} über {height}: Länge des Fußes entlang Z angeben, dann lässt sich der Schmutz berechnen.",
  "Lean {lean} over {height}: nothing under the base shows.":
    "Neigung {lean} über {height}: unter dem Fuß zeigt sich nichts.",
  "Lean {lean} over {height}: debris of {thickness} under a corner; which one needs the sense of B.":
    "Neigung {lean} über {height}: Schmutz von {thickness} unter einer Ecke; unter welcher, sagt erst der Drehsinn von B.",
  ", too thin for a feeler": ", zu dünn für eine Fühlerlehre",
  "Lean {lean} over {height}: like debris of {thickness} under the {place} corner{thin}":
    "Neigung {lean} über {height}: wie Schmutz von {thickness} unter der Ecke {place}{thin}",
  "Lean {lean} over {height}: like debris of {thickness} under the {place} edge{thin}":
    "Neigung {lean} über {height}: wie Schmutz von {thickness} unter der Kante {place}{thin}",
  "edge: |{slope}| x {length} = {thickness} under the {edge} edge":
    "Kante: |{slope}| × {length} = {thickness} unter der Kante {edge}",
  "-x or +x": "-x oder +x",
  "corner: tilt {tilt} along the diagonal x lever {lever} = {thickness}":
    "Ecke: Neigung {tilt} entlang der Diagonale × Hebel {lever} = {thickness}",
  "the thinnest feeler finds {feeler}; the debris would be {thickness}":
    "die dünnste Fühlerlehre findet {feeler}; der Schmutz wäre {thickness}",
  "a chip of {chip} under an edge leans {height} by {height} x {chip} / {length} = {lean}":
    "ein Span von {chip} unter einer Kante neigt {height} um {height} × {chip} / {length} = {lean}",
  "under a corner: {height} x {chip} / {lever} = {lean} along the diagonal":
    "unter einer Ecke: {height} × {chip} / {lever} = {lean} entlang der Diagonale",
  "Indicator on the top: slacken and tighten one bolt at a time.":
    "Messuhr oben ansetzen: Schrauben einzeln lösen und anziehen.",
  "Lift, wipe and stone the seat, sweep again; a face 90 degrees on tells an edge from a corner.":
    "Abheben, Auflage abwischen und abziehen, neu abfahren; eine um 90 Grad versetzte Fläche trennt Kante von Ecke.",
  "Lift, wipe and stone the seat, look under the named place, sweep again.":
    "Abheben, Auflage abwischen und abziehen, an der genannten Stelle nachsehen, neu abfahren.",

  // Four faces
  "Opposite faces are needed to tell the seat from the rest: sweep B and B + 180.":
    "Um die Auflage vom Rest zu trennen, braucht es Gegenflächen: B und B + 180 abfahren.",
  "With the seat clean every face shows the common part only: {common}":
    "Mit sauberer Auflage zeigt jede Fläche nur den gemeinsamen Teil: {common}",
  "not known from these faces": "aus diesen Flächen nicht bekannt",
  "One pass cannot tell a wedge of the column from the indexing, nor the B axis from equal taper: seat the column a quarter turn on and sweep again. What stays with the pallet angle is the index or the axis, what moves with the face is the column.":
    "Ein Durchgang trennt weder einen Keil des Spannturms von der Teilung noch die B-Achse von gleicher Verjüngung: den Spannturm eine Vierteldrehung weiter aufsetzen und neu abfahren. Was beim Winkel der Palette bleibt, ist Teilung oder Achse; was mit der Fläche wandert, ist der Spannturm.",
  "B{index}: lean {slope}": "B{index}: Neigung {slope}",
  "B{index}: yaw {slope}": "B{index}: Verdrehung {slope}",
  "B{index}: face {height} from the axis": "B{index}: Fläche {height} von der Achse",
  "common = mean of the leans = {value}": "gemeinsam = Mittel der Neigungen = {value}",
  "seat along Z = (B0 - B180) / 2 = {value}": "Auflage entlang Z = (B0 - B180) / 2 = {value}",
  "seat along X = sense of B ({sense}) x (B270 - B90) / 2 = {value}":
    "Auflage entlang X = Drehsinn von B ({sense}) × (B270 - B90) / 2 = {value}",
  "remainder = (B0 - B90 + B180 - B270) / 4 = {value}": "Rest = (B0 - B90 + B180 - B270) / 4 = {value}",
  "yaw of the column = mean of the yaws = {value} = {turn}":
    "Verdrehung des Spannturms = Mittel der Verdrehungen = {value} = {turn}",
  "width over B{index} and its opposite = {width}: no column is that wide. Heights are not taken from the axis of B; state its centre as center.":
    "Breite über B{index} und Gegenfläche = {width}: so breit ist keine Säule. Die Höhen zählen nicht von der B-Achse; deren Mitte als center angeben.",
  "Widths and centre are not those of the column: state the centre of B as center.":
    "Breiten und Mitte sind nicht die der Säule: die Mitte von B als center angeben.",
  "width over B{index} and its opposite = {width}": "Breite über B{index} und Gegenfläche = {width}",
  "the sense of B is not stated: sideways parts have no sign and are left out":
    "der Drehsinn von B ist nicht angegeben: seitliche Anteile haben kein Vorzeichen und fehlen",
  "{lean} {way}": "{lean} {way}",
  "{lean} sideways": "{lean} seitlich",
  "; {common} is not its seat": "; {common} kommt nicht von der Auflage",
  "Column leans {first} over {over} at B0{rest}": "Spannturm neigt sich bei B0 {first} über {over}{rest}",
  "Column leans {first} and {second} over {over} at B0{rest}":
    "Spannturm neigt sich bei B0 {first} und {second} über {over}{rest}",
  "Not stated whether the tip is taken off: slopes hold, widths and centre are left out.":
    "Nicht angegeben, ob der Kugelradius abgezogen ist: Steigungen gelten, Breiten und Mitte fehlen.",
};
