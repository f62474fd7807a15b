/** Sentences about centring, the face cut, cleaning up and the part turned over. */
export const deMachining = {
  // Centring
  "{of} is no round about Z: sweep a rim.": "{of} ist nicht rund um Z: einen Umfang abfahren.",
  "Sweep again after the move; then sweep the face, because a true rim can stand on a tilted face.":
    "Nach dem Verschieben neu abfahren; dann die Planfläche abfahren, denn guter Rundlauf geht auch mit schlechtem Planlauf.",
  "sag {sag} of the log's header is already taken out":
    "Durchhang {sag} aus dem Kopf der Datei ist schon herausgerechnet",
  "no sag of the arm is stated: if only Y disagrees with the probe, suspect it (test on a mandrel)":
    "kein Durchhang des Messuhrhalters angegeben: weicht nur Y vom Taster ab, liegt er nahe (am Prüfdorn prüfen)",
  "touched, not swept: the arm's sag {sag} does not count":
    "angetastet, nicht abgefahren: der Durchhang {sag} des Messuhrhalters zählt nicht",
  "Y = measured {raw} - sag {sag} = {y}": "Y = gemessen {raw} - Durchhang {sag} = {y}",
  "Off by {e}, within the uncertainty of the sweep: leave it.":
    "Um {e} aus der Mitte, innerhalb der Unsicherheit der Abtastung: so lassen.",
  "Move the {at} X {x}, Y {y}, in {steps} steps, sweep after each.":
    "{at} verschieben: X {x}, Y {y}, in {steps} Schritten, nach jedem abfahren.",
  "; {at} X {x}, Y {y}": "; {at} X {x}, Y {y}",
  "; {at} X {x}, Y {y} in {steps} steps, sweep after each":
    "; {at} X {x}, Y {y} in {steps} Schritten, nach jedem abfahren",
  "Move the {at} X {x}, Y {y}: {way}.": "{at} verschieben: X {x}, Y {y}, also {way}.",
  "Move the {at} X {x}, Y {y}.": "{at} verschieben: X {x}, Y {y}.",
  "Move the {at} X {x}, Y {y}: {across} and {upright}.":
    "{at} verschieben: X {x}, Y {y}, also {across} und {upright}.",
  "The next sweep still moves {form}: that is form, not setting; do not chase it.":
    "Auch die nächste Abtastung schlägt {form} aus: das ist Form, nicht Lage; nicht hinterherstellen.",
  "The next sweep moves about {form} instead of {fim}.":
    "Die nächste Abtastung schlägt etwa {form} aus statt {fim}.",
  "centre from the sweep axis: X {x}, Y {y}": "Mitte gegenüber der Drehachse: X {x}, Y {y}",
  "eccentricity = {e}{toward}": "Exzentrizität = {e}{toward}",
  "eccentricity = {e} ± {doubt}{toward}": "Exzentrizität = {e} ± {doubt}{toward}",
  " towards {angle}": " in Richtung {angle}",
  "full indicator movement {fim}; twice the eccentricity explains {e}":
    "gesamter Zeigerausschlag {fim}; die doppelte Exzentrizität erklärt {e}",
  "{n} lobes: {amount} peak to valley, high at {at}": "{n} Wellen: {amount} von Berg zu Tal, hoch bei {at}",
  "{count} readings: three lobes read as eccentricity and an oval at 45° reads as nothing. Take 8, better 12.":
    "{count} Ablesungen: drei Wellen sehen aus wie Exzentrizität, ein Oval unter 45° wie nichts. 8 nehmen, besser 12.",
  "Looks like a three-jaw squeeze: slacken and sweep again; a micrometer cannot see three lobes.":
    "Sieht nach Verformung durch drei Backen aus: lösen und neu abfahren; eine Bügelmessschraube sieht drei Wellen nicht.",
  "Looks like marks of four jaws, or steps where the axes turn round.":
    "Sieht nach vier Backen aus oder nach Stufen an den Umkehrstellen der Achsen.",
  "Looks oval: the part lifts in its holding, or it is oval by nature; hold-down first, then the machine.":
    "Sieht oval aus: das Teil hebt sich in der Spannung oder ist von sich aus oval; erst die Niederhaltung prüfen, dann die Maschine.",

  // Clean-up
  "{of} is no round about Z.": "{of} ist nicht rund um Z.",
  "{of} is a bore: this tells whether an outside round cleans up.":
    "{of} ist eine Bohrung: hier geht es darum, ob ein Außendurchmesser sauber wird.",
  "Turned where it is, the whole outside is cut.":
    "Dort gedreht, wo es sitzt, wird die ganze Außenseite sauber.",
  "Touched again after the shift the least stock is the same on two or three sides: {stock}":
    "Nach dem Versatz neu angetastet ist das kleinste Aufmaß auf zwei oder drei Seiten gleich: {stock}",
  "The centre of the finished part moves too: check stock at the far end, face features and jaw clearance.":
    "Auch die Mitte des Fertigteils wandert: Aufmaß am anderen Ende, Planflächen und Freiraum der Backen prüfen.",
  "Cleans up here: least stock {here} per side, at {at}":
    "Wird hier sauber: kleinstes Aufmaß {here} je Seite, bei {at}",
  "Not here ({here}); cleans up with X {x}, Y {y}: {best} per side":
    "Hier nicht ({here}); wird sauber mit X {x}, Y {y}: {best} je Seite",
  "Not shown here ({here} ± {doubt}); with X {x}, Y {y}: {best} per side":
    "Hier nicht nachgewiesen ({here} ± {doubt}); mit X {x}, Y {y}: {best} je Seite",
  "Not shown: {best} ± {doubt} per side at the best place X {x}, Y {y}":
    "Nicht nachgewiesen: {best} ± {doubt} je Seite an der besten Stelle X {x}, Y {y}",
  "Will NOT clean up: {best} per side even at the best place.":
    "Wird NICHT sauber: {best} je Seite selbst an der besten Stelle.",
  "here: least {least} from the centre at {at} - finished radius {radius} = {stock}":
    "hier: kleinster Abstand {least} von der Mitte bei {at} - Fertigradius {radius} = {stock}",
  "best: largest inscribed circle, diameter {diameter} at X {x}, Y {y}; less {finished}, halved = {stock}":
    "beste Stelle: größter einbeschriebener Kreis, Durchmesser {diameter} bei X {x}, Y {y}; weniger {finished}, halbiert = {stock}",
  "heaviest side at the best place: {most} - {radius} = {heavy}, at {at}":
    "dickste Seite an der besten Stelle: {most} - {radius} = {heavy}, bei {at}",
  "wanted per side {allowance}, each touch ± {doubt}":
    "gewünscht je Seite {allowance}, jede Antastung ± {doubt}",
  "wanted per side {allowance}; the uncertainty of a touch is not stated":
    "gewünscht je Seite {allowance}; die Unsicherheit einer Antastung ist nicht angegeben",
  "the round leans {lean} over {height}: all heights are counted together":
    "das Rundteil neigt sich {lean} über {height}: alle Höhen zählen zusammen",
  "{count} touches: nothing is known of flats or dings narrower than {flat} between them. Hold a margin.":
    "{count} Antastungen: von Abflachungen oder Dellen dazwischen, schmaler als {flat}, ist nichts bekannt. Reserve halten.",
  "Less than 1.6 % of stock per side: more than hot-rolled bar is promised to clean up at (common practice).":
    "Weniger als 1,6 % Aufmaß je Seite: damit wird warmgewalzter Stab erfahrungsgemäß nicht sicher sauber (übliche Praxis).",
  "The touches do not go round: the side without touches is not judged.":
    "Die Antastungen gehen nicht ringsum: die Seite ohne Antastung ist nicht beurteilt.",

  // Face cut
  "{of} is no face that looks at the spindle.": "{of} ist keine Fläche, die zur Spindel sieht.",
  "After the last pass the whole face is cut; a sweep shows only what the cut left.":
    "Nach dem letzten Schnitt ist die ganze Fläche bearbeitet; ein Abfahren zeigt nur, was der Schnitt hinterließ.",
  "Touch round the low spot and at the rim before the first cut: one touch can sit on a chip.":
    "Vor dem ersten Schnitt rings um die tiefste Stelle und am Rand antasten: eine einzelne Antastung kann auf einem Span sitzen.",
  "NOT LONG ENOUGH: {left} left, {need} needed. Do not cut yet.":
    "ZU KURZ: {left} bleiben, {need} nötig. Noch nicht schneiden.",
  "Cut at Z {plane}, deepest {deepest}": "Schnitt bei Z {plane}, tiefste Stelle {deepest}",
  "Cut at Z {plane}: the finish cut alone, deepest {deepest}":
    "Schnitt bei Z {plane}: nur der Schlichtschnitt, tiefste Stelle {deepest}",
  "Cut at Z {plane}: {passes} passes of {depth}": "Schnitt bei Z {plane}: {passes} × {depth} schruppen",
  "Cut at Z {plane}: {passes} passes of {depth}, then finish {finish}":
    "Schnitt bei Z {plane}: {passes} × {depth} schruppen, dann {finish} schlichten",
  "lowest reading {low} at X {x}, Y {y}; highest {high}":
    "tiefste Ablesung {low} bei X {x}, Y {y}; höchste {high}",
  "face tilts {tilt}": "Fläche steht schräg um {tilt}",
  "at the rim: plane's lowest + smallest residual = {low}, plane's highest + largest residual = {high}":
    "am Rand: Tiefstes der Ebene + kleinste Restabweichung = {low}, Höchstes der Ebene + größte Restabweichung = {high}",
  "cut plane = {low} - {below} = {plane}": "Schnittebene = {low} - {below} = {plane}",
  "deepest cut = {high} - ({plane}) = {deepest}": "größte Schnitttiefe = {high} - ({plane}) = {deepest}",
  "pass {number} at Z {z}": "Schnitt {number} bei Z {z}",
  "length left = {raw} - {removed} - {other} for the other side = {left}":
    "bleibende Länge = {raw} - {removed} - {other} für die andere Seite = {left}",
  "Cut less below the low spot, leave less on the other side, or take a longer blank: before the first cut.":
    "Weniger unter die tiefste Stelle gehen, auf der anderen Seite weniger lassen oder ein längeres Rohteil nehmen: vor dem ersten Schnitt.",
  "Depth below the low spot not stated: {below} taken, common practice for a saw-cut face.":
    "Tiefe unter der tiefsten Stelle nicht angegeben: {below} genommen, übliche Praxis nach einem Sägeschnitt.",
  "The rim is not stated: the lowest place may lie outside the touches.":
    "Der Rand ist nicht angegeben: die tiefste Stelle kann außerhalb der Antastungen liegen.",
  "The rim goes {lower} lower than any touch if the tilt {tilt} holds there.":
    "Der Rand liegt {lower} tiefer als jede Antastung, wenn die Schräge {tilt} dort weitergeht.",
  "Only one touch backs the low spot, {gap} below the next: touch round it.":
    "Nur eine Antastung belegt die tiefste Stelle, {gap} unter der nächsten: ringsum antasten.",
  "{count} touches: a low spot between them is not seen.":
    "{count} Antastungen: eine tiefe Stelle dazwischen wird nicht gesehen.",

  // Turned over
  "State first and second, two faces of one setup, or a map of thickness.":
    "first und second angeben, zwei Flächen einer Aufspannung, oder ein Raster der Dicke (map).",
  "{of} is no face that looks along Z.": "{of} ist keine Fläche, die entlang Z sieht.",
  "State first and second, or a map of thickness.":
    "first und second angeben oder ein Raster der Dicke (map).",
  "{first} and {second} lie in one place: they look like two setups; map the thickness instead.":
    "{first} und {second} liegen an einer Stelle: das sieht nach zwei Aufspannungen aus; statt dessen die Dicke im Raster messen.",
  "{first} and {second} are in different coordinates: map the thickness instead.":
    "{first} und {second} stehen in verschiedenen Koordinaten: statt dessen die Dicke im Raster messen.",
  "{first} and {second} come from different setups: map the thickness instead.":
    "{first} und {second} kommen aus verschiedenen Aufspannungen: statt dessen die Dicke im Raster messen.",
  "On a clean seat, cut again, thickness is alike all round.":
    "Auf sauberer Auflage neu geschnitten ist die Dicke ringsum gleich.",
  "Thickness is alike all round within the readings.":
    "Die Dicke ist innerhalb der Ablesungen ringsum gleich.",
  "Distances are from a least-squares plane; a micrometer rests on high spots and does not see a common bow.":
    "Die Abstände zählen von einer Ausgleichsebene; eine Bügelmessschraube liegt auf den Erhebungen und sieht eine gemeinsame Wölbung nicht.",
  "A range of thickness is not parallelism where the first face is not flat.":
    "Die Spanne der Dicke ist keine Parallelität, wo die erste Fläche nicht eben ist.",
  "; thickness {thickness}": "; Dicke {thickness}",
  "No wedge shows, range {range}{size}": "Kein Keil zu sehen, Spanne {range}{size}",
  "Wedge {wedge} over {span}, thick side at {at}{size}":
    "Keil {wedge} über {span}, dicke Seite bei {at}{size}",
  "slope of thickness: X {x}, Y {y}; together {wedge}, times {span} = {over}":
    "Steigung der Dicke: X {x}, Y {y}; zusammen {wedge}, mal {span} = {over}",
  "largest {most} - smallest {least} = {range}": "größte {most} - kleinste {least} = {range}",
  "the wedge is known to ± {doubt}": "der Keil ist auf ± {doubt} bekannt",
  "cross sums: {a} and {b}, apart {apart}": "Kreuzsummen: {a} und {b}, Unterschied {apart}",
  "Unclamp, seat and sweep the new face three times: the spread is the shift of clamping.":
    "Dreimal lösen, aufsetzen und die neue Fläche abfahren: die Spanne ist der Versatz durch das Spannen.",
  "the seat was not touched before: seat or cut cannot be told apart":
    "die Auflage wurde vorher nicht angetastet: Auflage oder Schnitt lässt sich nicht trennen",
  "the seat's slope alone would leave X {x}, Y {y}: looks like the seat":
    "die Schräge der Auflage allein ließe X {x}, Y {y}: sieht nach der Auflage aus",
  "Clean and true the seat, set the part on it again and sweep before cutting.":
    "Auflage reinigen und ausrichten, das Teil neu aufsetzen und vor dem Schneiden abfahren.",
  "the seat's slope alone would leave X {x}, Y {y}: does not look like the seat":
    "die Schräge der Auflage allein ließe X {x}, Y {y}: sieht nicht nach der Auflage aus",
  "Looks like the cut or the clamp: sweep the new face in the clamp and free. True there and a wedge free means it sprang.":
    "Sieht nach dem Schnitt oder der Spannung aus: die neue Fläche gespannt und frei abfahren. Gespannt gut und frei ein Keil heißt, dass das Teil aufgefedert ist.",
  "{count} clampings: the face tilts by up to {x} over X and {y} over Y":
    "{count} Spannungen: die Fläche steht bis zu {x} über X und {y} über Y schräg",

  // Blank
  "Blank about {kg} ({lb}), calculated, not weighed: use the hoist (above {limit}).":
    "Rohteil etwa {kg} ({lb}), berechnet, nicht gewogen: Hebezeug nehmen (über {limit}).",
  "Blank about {kg} ({lb}), calculated, not weighed.": "Rohteil etwa {kg} ({lb}), berechnet, nicht gewogen.",
};
