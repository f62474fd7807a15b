import { describe, expect, test } from "vitest";
import { type BadPlan, HEAD, told } from "./badPlan.ts";

describe("plans that are not read as YAML", () => {
  test.each<BadPlan>([
    {
      what: "an empty file",
      text: "",
      says: ['1:1: the plan is empty; start with "plinth: 1", or with what "plinth plan column" prints'],
    },
    {
      what: "only comments",
      text: "# nothing yet\n",
      says: ['1:1: the plan is empty; start with "plinth: 1", or with what "plinth plan column" prints'],
    },
    {
      what: "a list",
      text: "- plinth: 1\n",
      says: [
        '1:1: the plan is a list, not keys with values; start with "plinth: 1", or with what "plinth plan column" prints',
      ],
    },
    {
      what: "a single word",
      text: "hello\n",
      says: [
        '1:1: the plan is a single value, not keys with values; start with "plinth: 1", or with what "plinth plan column" prints',
      ],
    },
    {
      what: "a tab as indent",
      text: "plinth: 1\ndecision:\n\trule: simple\n",
      says: ["3:1: a tab stands before the text; indent with blanks"],
    },
    {
      what: "a key without a colon",
      text: "plinth: 1\ntitle Test\nname: t\n",
      says: ['2:1: "title Test" has no colon behind its key; write "title: Test"'],
    },
    {
      what: "a section without a colon",
      text: "plinth: 1\nfeatures\n  face: {fit: plane}\n",
      says: ['2:1: "features" has no colon behind its key; write "features:"'],
    },
    {
      what: "a key without a colon before a bracket",
      text: "plinth: 1\nfeatures:\n  face {fit: circle, surface: bore}\ncharacteristics:\n  - {id: a}\n",
      says: [
        '3:14: "face {fit: circle, surface: bore}" has no colon behind its key; write "face: {fit: circle, surface: bore}"',
      ],
    },
    {
      what: "an open bracket",
      text: "plinth: 1\ndecision: {rule: simple\n",
      says: [
        "3:1: the indentation does not fit, or a bracket opened above is not closed; align the lines or close it",
      ],
    },
    {
      what: "an open quote",
      text: 'plinth: 1\ntitle: "Column\ndecision: {rule: simple}\n',
      says: [
        '4:1: something that was opened is not closed: a quote, a bracket or a colon is missing; add it (Missing closing "quote)',
      ],
    },
    {
      what: "two keys in one line",
      text: "plinth: 1\ntitle: Column: pallet 4\n",
      says: [
        '2:8: a second "key:" stands in one line or a line is indented too far; put it on its own line, or the value in quotes',
      ],
    },
    {
      what: "two documents",
      text: `${HEAD}---\n${HEAD}`,
      says: ["3:1: a second document starts here (---); keep one plan in a file"],
    },
    {
      what: "a key twice",
      text: `${HEAD}title: A\ntitle: B\n`,
      says: ['4:1: "title" stands here twice; keep one of the two'],
    },
    {
      what: "an alias bomb",
      text: "plinth: 1\nname: &a [x, x]\ntitle: *a\n",
      says: [
        '1:1: the plan lacks "decision"; give {rule: guarded} or {rule: simple}',
        "2:10: &a is an anchor; plans have none, take it away",
        "3:8: *a is an alias; write the value out where it is meant",
      ],
    },
    {
      what: "a tag",
      text: "plinth: 1\nname: !thing 3\n",
      says: ["2:7: a tag (!name) is not used in plans; write the plain value"],
    },
    {
      what: "a merge key",
      text: "plinth: 1\n<<: {decision: {rule: simple}}\n",
      says: [
        '1:1: the plan lacks "decision"; give {rule: guarded} or {rule: simple}',
        '2:1: "<<" merges keys from elsewhere; plans have no such thing, write the keys out',
      ],
    },
    {
      what: "a reserved character",
      text: `${HEAD}title: @home\n`,
      says: ["3:8: a value cannot start with this character; put the value in quotes"],
    },
    {
      what: "a bare comma",
      text: `${HEAD}logs: {unit: mm}\nclosure: ,\n`,
      says: ["4:10: a value cannot start with this character; put the value in quotes"],
    },
    {
      what: "a bad escape",
      text: `${HEAD}title: "C:\\plans"\n`,
      says: ['3:11: a backslash inside "..." starts an escape that does not exist; use single quotes'],
    },
    {
      what: "a list as a key",
      text: `${HEAD}? [a, b]\n: 3\n`,
      says: ["3:3: a key must be a word or a number, not a list, a mapping or nothing"],
    },
    {
      what: "a stray bracket",
      text: `${HEAD}title: [a]]\n`,
      says: [
        '3:11: a comma, bracket or sign stands where none belongs; take it away or add what is missing (Unexpected flow-seq-end token in YAML stream: "]")',
      ],
    },
    {
      what: "infinity",
      text: `${HEAD}sign-offs:\n  - {id: t, max: .inf}\n`,
      says: ['4:18: ".inf" is not a number a plan can use'],
    },
    {
      what: "a forbidden name",
      text: `${HEAD}features:\n  __proto__: {fit: plane}\n`,
      says: ['4:3: "__proto__" cannot be used as a name; choose another'],
    },
    {
      what: "deep nesting",
      text: `${HEAD}title: ${"[".repeat(50)}\n`,
      says: ["3:1: the plan is nested too deeply here; no key of a plan needs more than six levels"],
    },
  ])("$what", ({ text, says }) => expect(told(text)).toEqual(says));
});
