import type { enPlots } from "./enPlots.ts";
import type { Words } from "./words.ts";

/** German words of the pictures. */
export const dePlots: Words<typeof enPlots> = {
  highest: "Höchster",
  lowest: "tiefster",
  atLine: "Zeile {line} der Datei",
  drawn: "{drawn} von {of} Punkten gezeichnet",
  bar: "Balken: {length} Abweichung",
  exaggerated: "Abweichungen {factor}-fach vergrößert",
  heightScale: "Höhen {factor}-fach vergrößert gezeichnet",
  planeLabel: "Karte von {name}: Höhen über der ausgeglichenen Ebene",
  planeCaption:
    "Dunkler ist höher, die kräftige Linie ist die ausgeglichene Ebene; volle Tastpunkte liegen darüber, leere darunter. Zwischen den Tastpunkten ist die Karte nur verbunden. Höhen sind als Ton gezeigt, nicht als Gestalt.",
  planePoints: "Volle Tastpunkte liegen über der ausgeglichenen Ebene, leere darunter.",
  roundLabel: "Form von {name}: Abweichungen vom ausgeglichenen Kreis",
  roundBase: "Kräftiger Kreis: kleinste Quadrate.",
  roundExtremes: "Gestrichelt: größter einbeschriebener und kleinster umschriebener Kreis.",
  roundCarries: "Antastungen im Quadrat tragen sie.",
  roundZone: "Dünnes Kreispaar: kleinste Zone.",
  holds: "Umringte Tastpunkte halten die kleinste Zone.",
  lineLabel: "Ablesungen entlang {name} mit der ausgeglichenen Geraden",
  lineCaption: "Kräftige Gerade: Ausgleich.",
  sweepLabel: "Ablesungen von {name} über dem Winkel",
  sweepAngle: "Winkel von +X nach +Y",
  sweepFim: "Gesamtausschlag {fim}",
  sweepRim:
    "Oben ist außen. Kräftige Kurve: was die Exzentrizität allein zeigen würde; was davon abweicht, ist Form, nicht Lage.",
  sweepFace:
    "Oben ist +Z. Kräftige Kurve: was die Neigung allein zeigen würde; was davon abweicht, ist Form.",
  sweepWave: "{n} Wellen {amount}",
  sweepWaves: "Gestrichelt: mit den Wellen darauf ({waves} von Berg zu Tal).",
  sweepSag: "Gepunktet: was ein um {sag} durchhängender Arm hinzufügt; es ist schon abgezogen.",
  crowdReach: "Getönt: wie weit die Antastungen jedes Abschnitts reichen.",
  crowdMap:
    "Kleine Quadrate: wo Antastungen liegen, dunkler bei mehr; einzeln gezeichnet sind nur die höchste, die tiefste und die, welche die Zone halten.",
  tilt: "Pfeil: wohin die Fläche ansteigt, {rise} über die Antastungen.",
  toleranceLabel: "{name}: {value}, {limits}. {verdict}",
  foundLeftLabel: "Vorgefunden und hinterlassen, was verstellt wurde",
  foundLeftCaption:
    "Ring: vorgefunden; Punkt: hinterlassen; kräftige senkrechte Linie: 0, wie es sein soll. Der Pfeil zeigt die Verstellung; ein Punkt nahe der Linie ist gut, einer jenseits davon zu weit.",
  rotationLeft:
    "Pfeile: was bei jedem B übrig bleibt, {factor} × zu groß gezeichnet; der längste ist {most}.",
  leanScale: "Schräglage {factor} × zu groß gezeichnet",
  look: "Wie die Bilder zu lesen sind.",
  kinds: {
    "plane-map": "Karte einer Fläche",
    "round-form": "Form eines Runds",
    "line-chart": "Weg",
    "sweep-chart": "Umlauf",
  },
  centeringLabel: "Mitte des Runden um die Drehachse der Messuhr",
  centeringCaption:
    "Kreuz: Drehachse der Messuhr. Punkt: Mitte des Runden bei {where}; sie muss auf das Kreuz. Kreis: dort lägen alle Tastpunkte, wenn sie dort wäre.",
  cleanUpLabel: "Aufmaß um das fertige Runde",
  cleanUpStock: "In der besten Mitte ist das kleinste Aufmaß je Seite {least}, das größte {most}",
  cleanUpCaption:
    "Kräftiger Kreis: Fertigmaß in der besten Mitte. Gestrichelt: Fertigmaß, wie es jetzt eingestellt ist. Ein Tastpunkt innerhalb eines Kreises wird dort nicht sauber; der umringte hat am wenigsten. Was zwischen den Tastpunkten liegt, wird nicht gesehen.",
  thicknessLabel: "Karte der Dicke",
  thicknessEnds: "Dickste Stelle {most}, dünnste {least}, Mittel {mean}",
  thicknessRange: "Dickste Stelle {most}, dünnste {least} gegen das Mittel",
  thicknessCaption:
    "Dunkler ist dicker, die kräftige Linie ist das Mittel; volle Tastpunkte sind dicker, leere dünner. Zwischen den Tastpunkten ist die Karte nur verbunden.",
  rotationLabel: "Die Kugel bei jedem B, von oben",
  rotationCaption:
    "Von oben gesehen, X nach rechts, die Spindel unten. Kräftiges Kreuz: gefundene Mitte von B.",
  spindleSide: "Spindel",
  faceCutLabel: "Die rohe Fläche von der Seite",
  cutPlane: "Schnittebene",
  faceCutCaption:
    "Von der Seite gesehen, der tiefste Tastpunkt (umringt) links. Kräftige Linie: Schnittebene; gestrichelt: nach jedem Schruppschnitt. Alles Getönte fällt weg.",
  position: "Weg entlang {axis}",
  squareUpLabel: "Die Bewegungen, die {of} ausrichten",
  squareUpCaption:
    "Kräftige Linie: die Fläche wie gemessen; gestrichelt: wie sie sein soll. Pfeile: wohin jeder genannte Anschlag oder jede Auflage geht. Gesehen {view}.",
  fromAbove: "von oben, die Spindel unten",
  fromTheRight: "von rechts, die Spindel rechts",
  fromTheSpindle: "von der Spindel aus",
  seatLabel: "Der Spannturm auf seiner Auflage",
  seatCaption:
    "Kräftiger Umriss: wie der Spannturm steht; gestrichelt: senkrecht. Der Keil zeigt die Kante, unter der Schmutz läge. Gesehen {view}.",
  fourFaceLabel: "Neigung jeder Fläche",
  fourFaceCaption:
    "Balken: Neigung der Fläche bei jedem B, plus zur Spindel hin. Gestrichelt: was alle Flächen teilen. Eine Auflage zeigt sich mit entgegengesetzten Vorzeichen nach einer halben Drehung.",
  offsetLabel: "Alter und neuer Wert der Verschiebung",
  offsetCaption:
    "Leer: gespeicherter Wert; voll: zu speichernder Wert. Jede Achse hat ihren Ursprung, alle Änderungen haben einen Maßstab.",
  reSeatLabel: "Werte der Aufspannungen in ihrer Folge",
  reSeatCaption:
    "Punkte: Aufspannungen, die älteste links. Linie: ihr Mittel. Gestrichelt: größter und kleinster Wert.",
};
