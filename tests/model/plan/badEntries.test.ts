import { describe, expect, test } from "vitest";
import { advice, type BadPlan, characteristic, FEATURES, HEAD, told } from "./badPlan.ts";

describe("mistakes in features and entries", () => {
  test.each<BadPlan>([
    {
      what: "an unknown fit",
      text: `${HEAD}features:\n  f: {fit: plain}\n`,
      says: ['4:12: "fit" is "plain", which is not known here; did you mean "plane"?'],
    },
    {
      what: "no fit",
      text: `${HEAD}features:\n  f: {normal: [0, 0, 1]}\n`,
      says: ['4:3: feature "f" lacks "fit"; give plane, line, circle, cylinder, sphere, point or axis'],
    },
    {
      what: "an empty feature",
      text: `${HEAD}features:\n  f:\n`,
      says: ['4:5: feature "f" is empty; expected keys such as fit'],
    },
    {
      what: "features as a list",
      text: `${HEAD}features: [f, g]\n`,
      says: ['3:11: "features" is a list; expected names with their keys'],
    },
    {
      what: "a direction of zeros",
      text: `${HEAD}features:\n  f: {fit: plane, normal: [0, 0, 0]}\n`,
      says: ['4:27: "normal" is [0, 0, 0]; expected a direction, not three zeros'],
    },
    {
      what: "a direction of two",
      text: `${HEAD}features:\n  f: {fit: plane, normal: [0, 1]}\n`,
      says: ['4:27: "normal" has 2 entries; expected three numbers, such as [0, 0, 1]'],
    },
    {
      what: "a direction of words",
      text: `${HEAD}features:\n  f: {fit: plane, normal: [0, 0, z]}\n`,
      says: ['4:34: entry 3 of "normal" is "z"; expected a plain number'],
    },
    {
      what: "a rim sweep without its geometry",
      text: `${HEAD}features:\n  rim: {fit: circle, from: rim-sweep}\n`,
      says: [
        '4:3: feature "rim" lacks "radius"; a rim-sweep needs the radius at which the indicator runs',
        '4:3: feature "rim" lacks "surface"; a rim-sweep needs bore or boss, which decides the sign',
      ],
    },
    {
      what: "a traverse that is a plane",
      text: `${HEAD}features:\n  f: {fit: plane, from: traverse}\n`,
      says: ["4:12: a traverse gives a line, not a plane; write fit: line"],
    },
    {
      what: "a radius without a sweep",
      text: `${HEAD}features:\n  c: {fit: circle, radius: 10 mm}\n`,
      says: ['4:20: "radius" belongs to a rim-sweep or face-sweep; say which with from, or take it away'],
    },
    {
      what: "a radius of nothing",
      text: `${HEAD}features:\n  c: {fit: circle, from: rim-sweep, surface: boss, radius: 0 mm}\n`,
      says: ['4:60: "radius" is "0 mm"; expected a length above zero'],
    },
    {
      what: "the surface of a plane",
      text: `${HEAD}features:\n  f: {fit: plane, surface: bore}\n`,
      says: ['4:19: "surface" is for a circle, cylinder or sphere; take it away from a plane'],
    },
    {
      what: "height along the travel",
      text: `${HEAD}features:\n  l: {fit: line, from: traverse, along: y, height: y}\n`,
      says: ['4:52: "height" is the direction of travel itself; name another axis'],
    },
    {
      what: "an axis through one",
      text: `${HEAD + FEATURES}  a: {fit: axis, through: [c]}\n`,
      says: ['8:3: axis "a" needs "through" with two features or more, such as [bore-front, bore-back]'],
    },
    {
      what: "an axis through planes",
      text: `${HEAD + FEATURES}  a: {fit: axis, through: [c, f]}\n`,
      says: ['8:31: "f" is a plane, which has no one centre; name a circle, sphere or point'],
    },
    {
      what: "an axis through the unknown",
      text: `${HEAD + FEATURES}  a: {fit: axis, through: [c, cc]}\n`,
      says: ['8:31: "cc" is not a feature of this plan; features: f, g, c, d or a'],
    },
    {
      what: "a circle through others",
      text: `${HEAD + FEATURES}  a: {fit: circle, through: [c, d]}\n`,
      says: ['8:20: "through" belongs to fit: axis; take it away from a circle'],
    },
    {
      what: "an unknown kind",
      text: characteristic("id: a, kind: flattness, of: f, max: 1 um"),
      says: ['9:19: "flattness" is not a kind of characteristic; did you mean "flatness"?'],
    },
    {
      what: "no kind",
      text: characteristic("id: a, knd: flatness, of: f, max: 1 um"),
      says: ['9:5: an entry of "characteristics" lacks "kind"; did you mean "kind" by "knd"?'],
    },
    {
      what: "a characteristic that is a word",
      text: `${HEAD + FEATURES}characteristics:\n  - flatness\n`,
      says: ['9:5: an entry of "characteristics" is "flatness"; expected keys such as "kind" and "of"'],
    },
    {
      what: "characteristics as a mapping",
      text: `${HEAD + FEATURES}characteristics: {id: a}\n`,
      says: ['8:18: "characteristics" is a mapping; expected a list, each entry after "- "'],
    },
    {
      what: "an unknown feature",
      text: characteristic("id: a, kind: flatness, of: ff, max: 1 um"),
      says: ['9:33: "ff" is not a feature of this plan; features: f, g, c or d'],
    },
    {
      what: "a feature far from any",
      text: characteristic("id: a, kind: flatness, of: elephant, max: 1 um"),
      says: ['9:33: "elephant" is not a feature of this plan; features: f, g, c or d'],
    },
    {
      what: "no features at all",
      text: `${HEAD}characteristics:\n  - {id: a, kind: flatness, of: f, max: 1 um}\n`,
      says: ['4:33: "f" is not a feature of this plan; the plan has no features'],
    },
    {
      what: "a wrong fit",
      text: characteristic("id: a, kind: flatness, of: c, max: 1 um"),
      says: ['9:33: "c" is a circle; "of" of flatness must be a plane'],
    },
    {
      what: "a wrong datum fit",
      text: characteristic("id: a, kind: perpendicularity, of: d, to: c, max: 1 um"),
      says: ['9:48: "c" is a circle; "to" of perpendicularity must be a plane'],
    },
    {
      what: "a datum that is needed",
      text: characteristic("id: a, kind: perpendicularity, of: d, max: 1 um"),
      says: ['9:5: a perpendicularity entry lacks "to"; give the name of a feature'],
    },
    {
      what: "a datum that has no place",
      text: characteristic("id: a, kind: flatness, of: f, to: g, max: 1 um"),
      says: ['9:36: "to" is not for flatness, which has no datum; take it away'],
    },
    {
      what: "a feature as its own datum",
      text: characteristic("id: a, kind: perpendicularity, of: f, to: f, max: 1 um"),
      says: ['9:48: "to" is the feature itself; name the datum it is compared with'],
    },
    {
      what: "an id twice",
      text:
        HEAD +
        FEATURES +
        "characteristics:\n  - {id: a, kind: flatness, of: f, max: 1 um}\n  - {id: a, kind: flatness, of: g, max: 1 um}\nsign-offs:\n  - {id: a}\n",
      says: ['10:10: the id "a" is taken; give another', '12:10: the id "a" is taken; give another'],
    },
    {
      what: "a bare limit",
      text: characteristic("id: a, kind: flatness, of: f, max: 0.012"),
      says: ['9:41: "max" is 0.012, a bare number; write it with its unit, such as "0.012 mm"'],
    },
    {
      what: "a limit without unit, in quotes",
      text: characteristic('id: a, kind: flatness, of: f, max: "0.012"'),
      says: ['9:41: "max" is "0.012"; expected a length with its unit, such as 0.01 mm: it has no unit'],
    },
    {
      what: "a limit in an unknown unit",
      text: characteristic("id: a, kind: flatness, of: f, max: 12 furlong"),
      says: [
        '9:41: "max" is "12 furlong"; expected a length with its unit, such as 0.01 mm: "furlong" is not a unit of length (mm, um, nm, cm, m, in, thou, tenth, ft)',
      ],
    },
    {
      what: "a limit in an angle",
      text: characteristic("id: a, kind: flatness, of: f, max: 0.01 deg"),
      says: [
        '9:41: "max" is "0.01 deg"; expected a length with its unit, such as 0.01 mm: "deg" is not a unit of length, it is one of angle',
      ],
    },
    {
      what: "an angle in a length",
      text: characteristic("id: a, kind: angle, of: f, to: g, nominal: 90 mm, plus: 1 deg"),
      says: [
        '9:49: "nominal" is "90 mm"; expected an angle with its unit, such as 0.01 deg: "mm" is not a unit of angle, it is one of length',
      ],
    },
    {
      what: "a decimal comma",
      text: characteristic("id: a, kind: flatness, of: f, max: 0,012 mm"),
      says: [
        '9:43: "012 mm" is not a key of a flatness entry; if it follows a decimal comma, write a decimal point',
      ],
    },
    {
      what: "a decimal comma in lines",
      text: `${HEAD + FEATURES}characteristics:\n  - id: a\n    kind: flatness\n    of: f\n    max: 0,012 mm\n`,
      says: [
        '12:10: "max" is "0,012 mm"; expected a length with its unit, such as 0.01 mm: its number has a comma or a second point',
      ],
    },
    {
      what: "a limit below zero",
      text: characteristic("id: a, kind: flatness, of: f, max: -1 um"),
      says: ['9:41: "max" is "-1 um", below zero; a flatness is never negative'],
    },
    {
      what: "a max for a signed kind",
      text: characteristic("id: a, kind: diameter, of: c, max: 1 mm"),
      says: ['9:36: "max" is not for diameter, which is signed; give nominal, plus and minus'],
    },
    {
      what: "plus and minus for an unsigned kind",
      text: characteristic("id: a, kind: flatness, of: f, nominal: 0 mm, plus: 1 um"),
      says: ['9:36: "nominal" is not for flatness, which is never negative; give max'],
    },
    {
      what: "max and plus together",
      text: characteristic("id: a, kind: offset, of: c, from: f, max: 1 mm, nominal: 0 mm, plus: 1 mm"),
      says: ['9:69: "max" and "plus" exclude each other; give max, or nominal, plus and minus'],
    },
    {
      what: "plus without nominal",
      text: characteristic("id: a, kind: diameter, of: c, plus: 1 mm, minus: 1 mm"),
      says: ['9:5: a diameter entry has "plus" but no "nominal"; add the value it is aimed at'],
    },
    {
      what: "minus with a sign",
      text: characteristic("id: a, kind: diameter, of: c, nominal: 10 mm, plus: 0.05 mm, minus: -0.05 mm"),
      says: [
        '9:74: nominal - minus is not below nominal + plus, so nothing can pass; "minus" counts downwards: write it without a sign',
      ],
    },
    {
      what: "an unknown choice",
      text: characteristic("id: a, kind: flatness, of: f, max: 1 um, zone: least-square"),
      says: ['9:53: "zone" is "least-square", which is not known here; did you mean "least-squares"?'],
    },
    {
      what: "an unknown key of a kind",
      text: characteristic("id: a, kind: flatness, of: f, max: 1 um, tol: 2 um"),
      says: ['9:47: "tol" is not a key of a flatness entry; its keys are id, kind, of, max and zone'],
    },
    {
      what: "an unknown key of a place",
      text: characteristic("id: a, kind: offset, of: c, from: {X: 0 mm}, max: 1 um"),
      says: ['9:41: "X" is not a key of "from"; did you mean "x"?'],
    },
    {
      what: "a place of bare numbers",
      text: characteristic("id: a, kind: offset, of: c, from: {x: 0, y: 0 mm}, max: 1 um"),
      says: ['9:44: "x" is 0, a bare number; write it with its unit, such as "0 mm"'],
    },
    {
      what: "a place that is neither",
      text: characteristic("id: a, kind: offset, of: c, from: true, max: 1 um"),
      says: ['9:40: "from" is true; expected a place, such as {x: 10 mm, y: 0 mm} or the name of a feature'],
    },
    {
      what: "an unknown advice",
      text: advice("kind: squareup, of: f"),
      says: ['9:12: "squareup" is not a kind of advice; did you mean "square-up"?'],
    },
    {
      what: "an advice of a list",
      text: advice("kind: square-up, of: [f]"),
      says: ['9:27: "of" is a list; expected the name of a feature'],
    },
    {
      what: "an unknown key and a missing one in the entries of a list",
      text: advice("kind: square-up, of: f, stops: [{name: left, x: -200 mm}, {nom: right, q: 1 mm}]"),
      says: [
        '9:64: entry 2 of "stops" lacks "name"; give a name',
        '9:65: "nom" is not a key of entry 2 of "stops"; its keys are name, x, z and pitch',
        '9:77: "q" is not a key of entry 2 of "stops"; its keys are name, x, z and pitch',
      ],
    },
    {
      what: "a pitch without unit, deep inside",
      text: advice(
        "kind: square-up, of: f, stops: [{name: left, x: -200 mm}, {name: right, x: 200 mm, pitch: 1.75}]",
      ),
      says: ['9:96: "pitch" is 1.75, a bare number; write it with its unit, such as "1.75 mm"'],
    },
    {
      what: "an unknown face of four",
      text: advice("kind: four-face, of: {0: f, 90: g, 180: h, 270: c}, height: 1 mm"),
      says: ['9:46: "h" is not a feature of this plan; features: f, g, c or d'],
    },
    {
      what: "a face of no angle",
      text: advice("kind: four-face, of: {0: f, left: g}, height: 1 mm"),
      says: ['9:34: "left": expected a B index in degrees as the key, such as 90'],
    },
    {
      what: "re-seat of an unknown list member",
      text: advice("kind: re-seat, of: [f, gg], limit: 1 um"),
      says: ['9:29: "gg" is not a feature of this plan; features: f, g, c or d'],
    },
    {
      what: "re-seat of neither",
      text: advice("kind: re-seat, of: leger, limit: 1 um"),
      says: ['9:25: "of" is "leger", which is not known here; did you mean "ledger"?'],
    },
    {
      what: "a centre of bare numbers",
      text: advice("kind: clean-up, of: c, finished: 10 mm, center: [0, 0]"),
      says: [
        '9:55: entry 1 of "center" is 0, a bare number; write it with its unit, such as "0 mm"',
        '9:58: entry 2 of "center" is 0, a bare number; write it with its unit, such as "0 mm"',
      ],
    },
    {
      what: "a truth value as a word",
      text: advice("kind: clean-up, of: c, finished: 10 mm, quiet: on"),
      says: ['9:53: "quiet" is "on", which is a word here; write true'],
    },
    {
      what: "half a pass",
      text: advice("kind: clean-up, of: c, finished: 10 mm, passes: 2.5"),
      says: ['9:54: "passes" is 2.5; expected a whole number above zero'],
    },
    {
      what: "a finished size of nothing",
      text: advice("kind: clean-up, of: c, finished: 0 mm"),
      says: ['9:39: "finished" is "0 mm"; expected a length above zero'],
    },
    {
      what: "a temperature in millimetres",
      text: advice("kind: clean-up, of: c, finished: 1 mm, heat: 20 mm"),
      says: [
        '9:51: "heat" is "20 mm"; expected a temperature with its unit, such as 20 C: "mm" is not a unit of temperature, it is one of length',
      ],
    },
    {
      what: "sign-off bounds exchanged",
      text: `${HEAD}sign-offs:\n  - {id: t, unit: N·m, min: 95, max: 80}\n`,
      says: ['4:38: "max" 80 is below "min" 95; exchange them'],
    },
    {
      what: "a sign-off bound with a unit",
      text: `${HEAD}sign-offs:\n  - {id: t, unit: N·m, max: 95 N·m}\n`,
      says: ['4:29: "max" is "95 N·m"; expected a plain number; its unit stands under "unit"'],
    },
    {
      what: "a sign-off without id",
      text: `${HEAD}sign-offs:\n  - {ask: Stoned}\n`,
      says: ['4:5: a sign-off lacks "id"; give a name'],
    },
    {
      what: "an exclusion without reason",
      text: `${HEAD}exclude:\n  - {line: 9}\n`,
      says: ['4:5: an exclusion lacks "reason"; give a text'],
    },
    {
      what: "an exclusion in line zero",
      text: `${HEAD}exclude:\n  - {line: 0, reason: chip}\n`,
      says: ['4:12: "line" is 0; expected a whole number above zero'],
    },
    {
      what: "fewer points than show form",
      text: `${HEAD}points: {plane: 3}\n`,
      says: ["3:17: a plane through 3 points shows no form error, ever; ask for 4 or more"],
    },
    {
      what: "points of no fit",
      text: `${HEAD}points: {plain: 9}\n`,
      says: ['3:10: "plain" is no fit with a form; did you mean "plane"?'],
    },
    {
      what: "closure of an unknown feature",
      text: `${HEAD + FEATURES}closure: [f, h]\n`,
      says: ['8:14: "h" is not a feature of this plan; features: f, g, c or d'],
    },
    {
      what: "closure limit as a number",
      text: `${HEAD}closure-limit: 0.002\n`,
      says: ['3:16: "closure-limit" is 0.002, a bare number; write it with its unit, such as "0.002 mm"'],
    },
    {
      what: "an expansion without its unit, as tables print it per kelvin",
      text: `${HEAD}part: {temperature: 20 C, expansion: 11.5e-6}\n`,
      says: [
        '3:38: "expansion" is 0.0000115, a bare number; write it with its unit, "11.5 um/m/K" if it is per kelvin, as so small a number looks',
      ],
    },
    {
      what: "an expansion without its unit, in millionths",
      text: `${HEAD}part: {temperature: 20 C, expansion: 11.5}\n`,
      says: ['3:38: "expansion" is 11.5, a bare number; write it with its unit, such as "11.5 um/m/K"'],
    },
    {
      what: "temperature of the part in kelvin per",
      text: `${HEAD}part: {temperature: 20 C, expansion: 11.5 um}\n`,
      says: [
        '3:38: "expansion" is "11.5 um"; expected an expansion with its unit, such as 11.5 um/m/K: "um" is not a unit of expansion, it is one of length',
      ],
    },
    {
      what: "several at once",
      text: "plinth: 1\nshow: inch\ndecision: {rule: simple, guard: 2}\nfeatures:\n  f: {fit: plain}\ncharacteristics:\n  - {id: a, kind: flatness, of: g, max: 1}\n  - {kind: flatness, of: f, max: 1 um}\nadvice:\n  - {kind: square}\n",
      says: [
        '2:7: "show" is "inch"; expected mm, in, or both such as [mm, in]: the second stands in brackets',
        '3:26: "guard" has no meaning under rule simple; take it away or write rule: guarded',
        '5:12: "fit" is "plain", which is not known here; did you mean "plane"?',
        '7:33: "g" is not a feature of this plan; features: f',
        '7:41: "max" is 1, a bare number; write it with its unit, such as "1 mm"',
        '8:5: a flatness entry lacks "id"; give a name',
        '10:12: "square" is not a kind of advice; did you mean "square-up"?',
      ],
    },
  ])("$what", ({ text, says }) => expect(told(text)).toEqual(says));
});
