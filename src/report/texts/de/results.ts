/** Sentences about characteristics: definitions, reasons of a verdict, and what would decide. */
export const deResults = {
  // Verdict and its reason
  "There is no value to judge.": "Es gibt keinen Wert zu beurteilen.",
  "The plan states no limit.": "Der Plan nennt keine Grenze.",
  "No uncertainty is known, and the rule asks for a guard band.":
    "Keine Unsicherheit ist bekannt, und die Regel verlangt einen Schutzabstand.",
  "{value} is not above {limit}": "{value} liegt nicht über {limit}",
  "{value} is not below {limit}": "{value} liegt nicht unter {limit}",
  "{value} is above {limit}": "{value} liegt über {limit}",
  "{value} is below {limit}": "{value} liegt unter {limit}",
  "{value} is within the guard band {guard} of the limit {limit}":
    "{value} liegt im Schutzabstand {guard} der Grenze {limit}",
  "{value} is below {limit} less the guard band {guard}":
    "{value} liegt unter {limit} weniger Schutzabstand {guard}",
  "{value} is above {limit} plus the guard band {guard}":
    "{value} liegt über {limit} plus Schutzabstand {guard}",
  "{value} is above {limit} by more than the guard band {guard}":
    "{value} liegt um mehr als den Schutzabstand {guard} über {limit}",
  "{value} is below {limit} by more than the guard band {guard}":
    "{value} liegt um mehr als den Schutzabstand {guard} unter {limit}",
  "not computed": "nicht berechnet",
  "{value} is inside the limits": "{value} liegt innerhalb der Grenzen",
  "Nobody has signed it.": "Niemand hat es bestätigt.",
  "It was confirmed.": "Es wurde bestätigt.",
  "It was answered with no.": "Es wurde mit Nein beantwortet.",
  '"{answer}" is neither yes nor no.': "„{answer}“ ist weder Ja noch Nein.",
  '"{answer}" is not a number.': "„{answer}“ ist keine Zahl.",
  "It has the unit {unit}, and the plan states none.": "Es hat die Einheit {unit}, und der Plan nennt keine.",
  "The number has no unit, and the plan asks for {unit}.":
    "Die Zahl hat keine Einheit, und der Plan verlangt {unit}.",
  "{unit} cannot be compared with {wanted}.": "{unit} lässt sich nicht mit {wanted} vergleichen.",

  // What decides
  "Measure {feature}.": "{feature} messen.",
  "Touch {feature} again in more and better spread places.":
    "{feature} nochmals antasten, an mehr und besser verteilten Stellen.",
  "Measure again.": "Nochmals messen.",
  "State the gauge in the log or plan, and its uncertainty under instruments in the plan.":
    "Das Messmittel in Datei oder Plan nennen und seine Unsicherheit im Plan unter instruments.",
  "Take {wanted} readings in place of {points}, spread in the same way, with the same gauge.":
    "{wanted} Ablesungen statt {points} nehmen, gleich verteilt, mit demselben Messmittel.",
  "Measure over {wanted} in place of {span}, with {count} readings spread evenly.":
    "Über {wanted} statt {span} messen, mit {count} gleichmäßig verteilten Ablesungen.",
  "Use a gauge with a standard uncertainty of {wanted} or less for one reading; now it is {reading}.":
    "Ein Messmittel mit einer Standardunsicherheit von höchstens {wanted} für eine Ablesung nehmen; jetzt sind es {reading}.",
  "The value is too near the limit for any sensible measurement to decide: correct the part, or settle with whoever set the limit.":
    "Der Wert liegt zu nahe an der Grenze, als dass eine vernünftige Messung entscheiden könnte: das Teil berichtigen oder mit dem klären, der die Grenze gesetzt hat.",
  "Touch {feature} in at least {wanted} places, {more} more than now, spread over all of it.":
    "{feature} an mindestens {wanted} Stellen antasten, {more} mehr als jetzt, über alles verteilt.",
  "State in the log's header points: surface, or points: ball-center with tip-diameter, and in the plan which side the material is on.":
    "Im Kopf der Datei points: surface angeben oder points: ball-center mit tip-diameter, und im Plan, auf welcher Seite das Material liegt.",
  "Measure {feature} over at least {length}.": "{feature} über mindestens {length} messen.",
  "Touch {feature} in rings, each at one height with at least 7 touches.":
    "{feature} in Ringen antasten, jeder auf einer Höhe mit mindestens 7 Antastungen.",
  "Touch {feature} at {wanted} evenly spaced angles or more.":
    "{feature} in mindestens {wanted} gleichmäßig verteilten Winkeln antasten.",
  "Sweep {feature} with an indicator.": "{feature} mit einer Messuhr abfahren.",
  "Touch the round with a probe, or measure it across.": "Das Rund mit dem Taster antasten oder quer messen.",
  "State to or along.": "to oder along angeben.",
  "State along and height of {feature} in the plan.": "along und height von {feature} im Plan angeben.",

  // Why it is not decided
  "No uncertainty is stated for the readings of {feature}, and the rule asks for a guard band.":
    "Für die Ablesungen von {feature} ist keine Unsicherheit angegeben, und die Regel verlangt einen Schutzabstand.",
  "No uncertainty is stated for {gauge}, and the rule asks for a guard band.":
    "Für {gauge} ist keine Unsicherheit angegeben, und die Regel verlangt einen Schutzabstand.",
  "{count} points on {feature} are too few to say: at least {wanted} are needed.":
    "{count} Punkte auf {feature} sind zu wenig für eine Aussage: mindestens {wanted} sind nötig.",
  "each ring of {feature}": "jedem Ring von {feature}",
  "The tip is not taken off {feature}. {problem}":
    "Bei {feature} ist der Kugelradius nicht abgezogen. {problem}",
  "{feature} was measured over {measured}; {length} is beyond that.":
    "{feature} wurde über {measured} gemessen; {length} geht darüber hinaus.",
  "The form of {feature} cannot be told. {reason}": "Die Form von {feature} lässt sich nicht sagen. {reason}",
  "There are no touches.": "Es gibt keine Antastungen.",
  "This fit has no such size.": "Dieser Ausgleich hat kein solches Maß.",
  "The touches do not lie in rings with clear gaps between them.":
    "Die Antastungen liegen nicht in Ringen mit klaren Lücken dazwischen.",
  "A rim sweep shows where the round is and not how large: its radius is what the plan says.":
    "Eine Umfangsabtastung zeigt, wo das Rund liegt, nicht wie groß es ist: der Radius ist, was der Plan sagt.",
  "The plan does not say from where the distance of {feature} counts.":
    "Der Plan sagt nicht, von wo der Abstand von {feature} zählt.",
  "{count} points cannot show {n} waves round {feature}.":
    "{count} Punkte können {n} Wellen um {feature} nicht zeigen.",
  "{feature} was touched and not swept: there is no indicator movement.":
    "{feature} wurde angetastet und nicht abgefahren: es gibt keinen Zeigerausschlag.",
  "{feature} has no rise that could be told along {along}.":
    "{feature} hat keine Steigung, die sich entlang {along} sagen ließe.",

  // Definitions
  "angle between the directions of {of} and {to}": "Winkel zwischen den Richtungen von {of} und {to}",
  "two parallel planes at {angle} to the datum that hold all points (ISO 1101)":
    "zwei parallele Ebenen unter {angle} zum Bezug, die alle Punkte einschließen (ISO 1101)",
  "twice the larger distance of the ends of the axis from the datum axis":
    "doppelter größerer Abstand der Achsenenden von der Bezugsachse",
  "minimum zone of two coaxial cylinders (ISO 12180)": "kleinste Zone zweier koaxialer Zylinder (ISO 12180)",
  "spread about the least-squares cylinder": "Spanne um den Ausgleichszylinder",
  "least-squares diameter": "Durchmesser nach kleinsten Quadraten",
  "diameter of the largest inscribed round": "Durchmesser des größten einbeschriebenen Kreises",
  "diameter of the smallest circumscribed round": "Durchmesser des kleinsten umschriebenen Kreises",
  "place of the centre along {axis} from the log's zero":
    "Lage der Mitte entlang {axis} ab dem Nullpunkt der Datei",
  "mean distance of the points from the datum plane": "mittlerer Abstand der Punkte von der Bezugsebene",
  "distance of the centre from the datum plane": "Abstand der Mitte von der Bezugsebene",
  "distance of the plane from the centre": "Abstand der Ebene von der Mitte",
  "centre less centre along {axis}": "Mitte weniger Mitte entlang {axis}",
  "distance between centres in space": "räumlicher Abstand der Mitten",
  "distance of the least-squares centre from the log's zero, square to the axis":
    "Abstand der Ausgleichsmitte vom Nullpunkt der Datei, quer zur Achse",
  "distance of the least-squares centre from the axis of the sweep, after a sag of {sag}":
    "Abstand der Ausgleichsmitte von der Drehachse der Abtastung, nach Abzug des Durchhangs {sag}",
  "distance of the least-squares centre from the axis of the sweep":
    "Abstand der Ausgleichsmitte von der Drehachse der Abtastung",
  "minimum zone of two parallel planes (ISO 1101)": "kleinste Zone zweier paralleler Ebenen (ISO 1101)",
  "spread about the least-squares plane": "Spanne um die Ausgleichsebene",
  "radius peak to valley of {n} waves about the least-squares centre, harmonics 1 to {highest} together":
    "Radius von Berg zu Tal bei {n} Wellen um die Ausgleichsmitte, Harmonische 1 bis {highest} gemeinsam",
  "distance of the centre from {from}": "Abstand der Mitte von {from}",
  "the stated place": "angegebener Lage",
  "centre less {from} along {along}": "Mitte weniger {from} entlang {along}",
  "largest less smallest distance from the datum plane (ISO 1101)":
    "größter weniger kleinster Abstand von der Bezugsebene (ISO 1101)",
  "distance of two planes parallel to the datum that hold the axis (ISO 1101)":
    "Abstand zweier Ebenen parallel zum Bezug, die die Achse einschließen (ISO 1101)",
  "diameter of the cylinder along the datum axis that holds the axis (ISO 1101)":
    "Durchmesser des Zylinders längs der Bezugsachse, der die Achse einschließt (ISO 1101)",
  "two parallel planes square to the datum that hold all points (ISO 1101)":
    "zwei parallele Ebenen rechtwinklig zum Bezug, die alle Punkte einschließen (ISO 1101)",
  "diameter of the cylinder square to the datum that holds the fitted axis (ISO 1101)":
    "Durchmesser des Zylinders rechtwinklig zum Bezug, der die ausgeglichene Achse einschließt (ISO 1101)",
  "twice the distance of the end of the axis farther from the stated place":
    "doppelter Abstand des entfernteren Achsenendes von der angegebenen Lage",
  "twice the distance of the centre from the stated place":
    "doppelter Abstand der Mitte von der angegebenen Lage",
  "minimum zone of two concentric circles (ISO 12181)":
    "kleinste Zone zweier konzentrischer Kreise (ISO 12181)",
  "spread about the least-squares circle": "Spanne um den Ausgleichskreis",
  "worst of {count} rings of touches, each dropped along the fitted axis; the worst at {height} from the middle":
    "schlechtester von {count} Ringen aus Antastungen, jeder entlang der ausgeglichenen Achse abgebildet; der schlechteste {height} von der Mitte",
  "full indicator movement": "gesamter Zeigerausschlag",
  "full indicator movement after a sag of {sag}":
    "gesamter Zeigerausschlag nach Abzug eines Durchhangs von {sag}",
  "minimum zone of two parallel lines in the plane of travel and height":
    "kleinste Zone zweier paralleler Geraden in der Ebene von Weg und Höhe",
  "spread about the least-squares line": "Spanne um die Ausgleichsgerade",
  "rise along {rise} per {per} along {along}": "Steigung in {rise} je {per} entlang {along}",

  // Beside the result
  "{feature} was measured {clamping}.": "{feature} wurde gemessen: {clamping}.",
  snug: "handfest angelegt",
  torqued: "angezogen",
  clamped: "gespannt",
  free: "frei",
  "{feature} was measured after bolt {bolt}.": "{feature} wurde nach Schraube {bolt} gemessen.",
  "{feature} was measured on the machine: errors of its own axes do not show.":
    "{feature} wurde auf der Maschine gemessen: Fehler ihrer eigenen Achsen zeigen sich nicht.",
  "{feature} was measured with an independent gauge.":
    "{feature} wurde mit einem unabhängigen Messmittel gemessen.",
  "The tolerance is {ratio} times the uncertainty interval; {wanted} to 1 would need an expanded uncertainty of {needed}.":
    "Die Toleranz ist das {ratio}-fache des Unsicherheitsbereichs; {wanted} zu 1 verlangt eine erweiterte Unsicherheit von {needed}.",
  "With the readings that the plan leaves out it would be {value}.":
    "Mit den Ablesungen, die der Plan weglässt, wären es {value}.",
  "Scaled up from a measured span of {span}.": "Von einer gemessenen Länge von {span} hochgerechnet.",
  "Up to {chance} would be read on a perfect feature from the uncertainty of {count} readings alone.":
    "Bis {chance} zeigt auch ein vollkommenes Element, allein durch die Unsicherheit von {count} Ablesungen.",
  "The zone is the least among all small changes of the position found.":
    "Die Zone ist die kleinste unter allen kleinen Änderungen der gefundenen Lage.",
  "The spread about the fit is an upper bound of the minimum zone.":
    "Die Spanne um den Ausgleich ist eine obere Schranke der kleinsten Zone.",
  "Taken over {length}; measured over {measured}.": "Bezogen auf {length}; gemessen über {measured}.",
  "The part's temperature is not stated: each degree from 20 °C changes this by {change}.":
    "Die Temperatur des Teils ist nicht angegeben: jedes Grad neben 20 °C ändert dies um {change}.",
  "Measured {measured} at {temperature}, brought to 20 °C: {change}.":
    "Gemessen {measured} bei {temperature}, auf 20 °C gebracht: {change}.",
  "The tangent plane of {feature} lies {lift} above the least-squares plane at its highest point and is turned by {turn} against it.":
    "Die Tangentialebene von {feature} liegt an ihrem höchsten Punkt {lift} über der Ausgleichsebene und ist um {turn} gegen sie gedreht.",
  "A flat part set on {feature} can rock: the points that touch do not surround its middle.":
    "Ein ebenes Teil auf {feature} kann kippeln: die tragenden Punkte umschließen seine Mitte nicht.",

  // As found and as left
  "{feature}: {quantity} went from {found} to {left}: the correction was right.":
    "{feature}: {quantity} ging von {found} auf {left}: die Verstellung war richtig.",
  "{feature}: {quantity} went from {found} to {left}: the right way, but not far enough.":
    "{feature}: {quantity} ging von {found} auf {left}: richtige Richtung, aber nicht weit genug.",
  "{feature}: {quantity} was {found} and is {left}: nothing moved. Were the bolts loose, and was it the right face and register?":
    "{feature}: {quantity} war {found} und ist {left}: nichts hat sich bewegt. Waren die Schrauben gelöst, und stimmten Fläche und Register?",
  "{feature}: {quantity} went from {found} to {left}: the correction went the wrong way. Check the sign.":
    "{feature}: {quantity} ging von {found} auf {left}: falsche Richtung. Vorzeichen prüfen.",
  "{feature}: {quantity} went from {found} to {left}: the right way, but too far.":
    "{feature}: {quantity} ging von {found} auf {left}: richtige Richtung, aber zu weit.",
  "{feature}: {quantity} was {found} and is {left}: what was found is within its own uncertainty, so a ratio says nothing.":
    "{feature}: {quantity} war {found} und ist {left}: Vorgefundenes liegt innerhalb seiner Unsicherheit, ein Verhältnis sagt nichts.",
};
