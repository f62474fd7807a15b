import { describe, expect, test } from "vitest";
import { type BadPlan, FEATURES, HEAD, told } from "./badPlan.ts";

describe("mistakes in the parts of a plan", () => {
  test.each<BadPlan>([
    {
      what: "no version",
      text: "decision: {rule: simple}\n",
      says: ['1:1: the plan lacks "plinth"; give 1, the version of this format'],
    },
    {
      what: "another version",
      text: "plinth: 2\ndecision: {rule: simple}\n",
      says: ['1:9: "plinth" is 2; expected 1, the version of this format'],
    },
    {
      what: "a version in quotes",
      text: 'plinth: "1"\ndecision: {rule: simple}\n',
      says: ['1:9: "plinth" is "1"; expected 1, the version of this format'],
    },
    {
      what: "no decision",
      text: "plinth: 1\n",
      says: ['1:1: the plan lacks "decision"; give {rule: guarded} or {rule: simple}'],
    },
    {
      what: "a decision without a rule",
      text: "plinth: 1\ndecision: {guard: 1}\n",
      says: ['2:1: "decision" lacks "rule"; give guarded or simple'],
    },
    {
      what: "an unknown rule",
      text: "plinth: 1\ndecision: {rule: garded}\n",
      says: ['2:18: "rule" is "garded", which is not known here; did you mean "guarded"?'],
    },
    {
      what: "a guard without guarding",
      text: "plinth: 1\ndecision: {rule: simple, guard: 1}\n",
      says: ['2:26: "guard" has no meaning under rule simple; take it away or write rule: guarded'],
    },
    {
      what: "a negative guard",
      text: "plinth: 1\ndecision: {rule: guarded, guard: -1}\n",
      says: ['2:34: "guard" is -1; expected a plain number of zero or more'],
    },
    {
      what: "a decision that is a word",
      text: "plinth: 1\ndecision: guarded\n",
      says: ['2:11: "decision" is "guarded"; expected {rule: guarded} or {rule: simple}'],
    },
    {
      what: "an unknown key of the plan",
      text: `${HEAD}charcteristics: []\n`,
      says: ['3:1: "charcteristics" is not a key of a plan; did you mean "characteristics"?'],
    },
    {
      what: "a misspelt required key",
      text: "plinth: 1\ndecison: {rule: simple}\n",
      says: ['2:1: "decison" is not a key of a plan; did you mean "decision"?'],
    },
    {
      what: "a key in camel case",
      text: `${HEAD}machine: {bSense: 1}\n`,
      says: ['3:11: "bSense" is not a key of "machine"; did you mean "b-sense"?'],
    },
    {
      what: "a key with an underscore",
      text: `${HEAD}sign_offs: []\n`,
      says: ['3:1: "sign_offs" is not a key of a plan; did you mean "sign-offs"?'],
    },
    {
      what: "an unknown unit to show",
      text: `${HEAD}show: inch\n`,
      says: [
        '3:7: "show" is "inch"; expected mm, in, or both such as [mm, in]: the second stands in brackets',
      ],
    },
    {
      what: "an unknown language",
      text: `${HEAD}language: fr\n`,
      says: ['3:11: "language" is "fr", which is not known here; write one of these: en or de'],
    },
    {
      what: "a wrong B sense",
      text: `${HEAD}machine: {b-sense: 2}\n`,
      says: ['3:20: "b-sense" is 2; expected 1 or -1'],
    },
    {
      what: "travel the wrong way round",
      text: `${HEAD}machine: {travel: {x: [800 mm, 0 mm]}}\n`,
      says: ['3:23: the travel of "x" ends where it starts or before; exchange its ends'],
    },
    {
      what: "travel with one end",
      text: `${HEAD}machine: {travel: {x: [800 mm]}}\n`,
      says: ['3:23: "x" has 1 entry; expected two lengths, such as [0 mm, 800 mm]'],
    },
    {
      what: "a day that does not exist",
      text: `${HEAD}instruments:\n  probe: {uncertainty: 1 um, calibration-due: 2027-02-29}\n`,
      says: [
        '4:47: "calibration-due" is "2027-02-29"; expected a date of the calendar as YEAR-MONTH-DAY, such as 2027-03-01',
      ],
    },
    {
      what: "a negative uncertainty",
      text: `${HEAD}instruments:\n  probe: {uncertainty: -1 um}\n`,
      says: ['4:24: "uncertainty" is "-1 um"; expected a length that is not negative'],
    },
    {
      what: "a bare uncertainty",
      text: `${HEAD}instruments:\n  probe: {uncertainty: 0.001}\n`,
      says: ['4:24: "uncertainty" is 0.001, a bare number; write it with its unit, such as "0.001 mm"'],
    },
    {
      what: "an unknown instrument",
      text: `${HEAD}instruments:\n  probe: {uncertainty: 1 um}\nlogs: {instrument: prob}\n`,
      says: ['5:20: "prob" is not under "instruments"; did you mean "probe"?'],
    },
    {
      what: "no instruments at all",
      text: `${HEAD}logs: {instrument: probe}\n`,
      says: ['3:20: "probe" is not under "instruments"; the plan has no instruments'],
    },
    {
      what: "an unknown column",
      text: `${HEAD}logs:\n  columns: {reeding: A, x: 2}\n`,
      says: ['4:13: "reeding" is not a column Plinth knows; did you mean "reading"?'],
    },
    {
      what: "a column by a negative number",
      text: `${HEAD}logs:\n  columns: {x: -2}\n`,
      says: ['4:16: "x" is -2; expected a whole number above zero'],
    },
    {
      what: "an unknown log unit",
      text: `${HEAD}logs: {unit: cm}\n`,
      says: ['3:14: "unit" is "cm", which is not known here; write one of these: mm, in or um'],
    },
    {
      what: "commas for both",
      text: `${HEAD}logs: {decimal: comma, separator: comma}\n`,
      says: ["3:35: separator and decimal mark are both a comma; one must be another"],
    },
    {
      what: "half a row to skip",
      text: `${HEAD}logs: {skip-rows: 1.5}\n`,
      says: ['3:19: "skip-rows" is 1.5; expected a whole number of zero or more'],
    },
    {
      what: "a reading without a place",
      text: `${HEAD + FEATURES}logs:\n  order:\n    - {sweep: f}\n    - {sweep: h, position: 3}\n`,
      says: [
        "10:7: a reading has no place; give position, angle, or x and y",
        '11:15: "h" is not a feature of this plan; features: f, g, c or d',
        '11:28: "position" is 3, a bare number; write it with its unit, such as "3 mm"',
      ],
    },
  ])("$what", ({ text, says }) => expect(told(text)).toEqual(says));
});
