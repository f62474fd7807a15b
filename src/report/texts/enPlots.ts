/** English words of the pictures. */
export const enPlots = {
  highest: "Highest",
  lowest: "lowest",
  atLine: "log line {line}",
  drawn: "{drawn} of {of} points drawn",
  bar: "Bar: {length} of deviation",
  exaggerated: "Deviations drawn {factor} × too large",
  heightScale: "Heights drawn {factor} × too large",
  planeLabel: "Map of {name}: heights above the fitted plane",
  planeCaption:
    "Darker is higher, the heavy line is the fitted plane; filled touches lie above it, hollow ones below. Between touches the map is only joined up. Heights are shown by tone, not by shape.",
  planePoints: "Filled touches lie above the fitted plane, hollow ones below.",
  roundLabel: "Form of {name}: deviations from the fitted circle",
  roundBase: "Heavy circle: least squares.",
  roundExtremes: "Dashed: largest inscribed and smallest circumscribed circle.",
  roundCarries: "Squared touches carry them.",
  roundZone: "Thin pair of circles: minimum zone.",
  holds: "Ringed touches hold the minimum zone.",
  lineLabel: "Readings along {name} with the fitted line",
  lineCaption: "Heavy straight line: the fit.",
  sweepLabel: "Readings of {name} over the angle",
  sweepAngle: "angle from +X towards +Y",
  sweepFim: "Full movement {fim}",
  sweepRim:
    "Up is outward. Heavy curve: what the eccentricity alone would show; touches off it are form, not place.",
  sweepFace: "Up is towards +Z. Heavy curve: what the tilt alone would show; touches off it are form.",
  sweepWave: "{n} waves {amount}",
  sweepWaves: "Dashed: with the waves on top ({waves} peak to valley).",
  sweepSag: "Dotted: what an arm that sags {sag} adds; it is already taken out.",
  crowdReach: "Toned: how far the touches of each stretch reach.",
  crowdMap:
    "Small squares: where touches lie, darker where more do; only highest, lowest and those that hold the zone are marked.",
  tilt: "Arrow: the way the face rises, {rise} over the touches.",
  toleranceLabel: "{name}: {value}, {limits}. {verdict}",
  foundLeftLabel: "As found and as left of what was corrected",
  foundLeftCaption:
    "Ring: as found; dot: as left; heavy upright line: zero, where it should be. The arrow shows the correction made; a dot near the line is a good one, beyond it too far.",
  rotationLeft: "Arrows: what is left over at each B, drawn {factor} × too large; the longest is {most}.",
  leanScale: "Lean drawn {factor} × too large",
  look: "How to read the pictures.",
  kinds: {
    "plane-map": "Map of a face",
    "round-form": "Form of a round",
    "line-chart": "Travel",
    "sweep-chart": "Sweep",
  },
  centeringLabel: "Centre of the round about the sweep axis",
  centeringCaption:
    "Cross: sweep axis. Dot: centre of the round at {where}; it has to go to the cross. Circle: where every touch would lie if it were there.",
  cleanUpLabel: "Stock around the finished round",
  cleanUpStock: "At the best centre the least stock per side is {least}, the most {most}",
  cleanUpCaption:
    "Heavy circle: finished size at the best centre. Dashed: finished size where it is set now. A touch inside a circle does not clean up there; the ringed one has the least. What lies between the touches is not seen.",
  thicknessLabel: "Map of thickness",
  thicknessEnds: "Thickest {most}, thinnest {least}, mean {mean}",
  thicknessRange: "Thickest {most}, thinnest {least} against the mean",
  thicknessCaption:
    "Darker is thicker, the heavy line is the mean; filled touches are thicker than it, hollow ones thinner. Between touches the map is only joined up.",
  rotationLabel: "The ball at each B, from above",
  rotationCaption:
    "Seen from above, X to the right, the spindle below. Heavy cross: the centre of B that was found.",
  spindleSide: "spindle",
  faceCutLabel: "The raw face from the side",
  cutPlane: "cut plane",
  faceCutCaption:
    "Seen from the side with the lowest touch (ringed) towards the left. Heavy line: cut plane; dashed: after each roughing pass. All that is toned goes.",
  position: "position along {axis}",
  squareUpLabel: "The moves that square {of}",
  squareUpCaption:
    "Heavy line: the face as measured; dashed: as it should be. Arrows: which way each named stop or support moves. Seen {view}.",
  fromAbove: "from above, the spindle below",
  fromTheRight: "from the right, the spindle on the right",
  fromTheSpindle: "from the spindle",
  seatLabel: "The column on its seat",
  seatCaption:
    "Heavy outline: how the column stands; dashed: upright. The wedge marks the edge under which debris would lie. Seen {view}.",
  fourFaceLabel: "Lean of each face",
  fourFaceCaption:
    "Bars: lean of the face at each B, plus towards the spindle. Dashed: what all faces share. A seat shows with opposite signs half a turn apart.",
  offsetLabel: "Old and new value of the offset",
  offsetCaption:
    "Hollow: value that is stored; filled: value to store. Each axis has its own scale, all changes one.",
  reSeatLabel: "Values of the seatings in order",
  reSeatCaption: "Dots: seatings, oldest on the left. Line: their mean. Dashed: largest and smallest.",
};
