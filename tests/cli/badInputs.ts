/** A small plan that is right; mistakes are made in it. */
export const PLAN = `plinth: 1
name: seat
title: Seat
decision: {rule: simple}
features:
  face: {fit: plane, normal: [0, 0, 1]}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 0.01 mm}
`;

/** Name of a plan, its text, and each sentence with its line and column, in order. */
export const BAD_PLANS: readonly (readonly [string, string, readonly string[]])[] = [
  ["empty", "", ['1:1: the plan is empty; start with "plinth: 1", or with what "plinth plan column" prints']],
  [
    "version",
    PLAN.replace("plinth: 1", "plinth: 7"),
    ['1:9: "plinth" is 7; expected 1, the version of this format'],
  ],
  [
    "no-decision",
    PLAN.replace("decision: {rule: simple}\n", ""),
    ['1:1: the plan lacks "decision"; give {rule: guarded} or {rule: simple}'],
  ],
  [
    "rule",
    PLAN.replace("simple", "strict"),
    ['4:18: "rule" is "strict", which is not known here; write one of these: guarded or simple'],
  ],
  ["key", PLAN.replace("title:", "titel:"), ['3:1: "titel" is not a key of a plan; did you mean "title"?']],
  [
    "fit",
    PLAN.replace("fit: plane", "fit: plan"),
    ['6:15: "fit" is "plan", which is not known here; did you mean "plane"?'],
  ],
  [
    "kind",
    PLAN.replace("flatness", "flattness"),
    ['8:22: "flattness" is not a kind of characteristic; did you mean "flatness"?'],
  ],
  [
    "of",
    PLAN.replace("of: face", "of: fase"),
    ['8:36: "fase" is not a feature of this plan; did you mean "face"?'],
  ],
  [
    "bare",
    PLAN.replace("0.01 mm", "0.01"),
    ['8:47: "max" is 0.01, a bare number; write it with its unit, such as "0.01 mm"'],
  ],
  [
    "unit",
    PLAN.replace("0.01 mm", "0.01 parsec"),
    [
      '8:47: "max" is "0.01 parsec"; expected a length with its unit, such as 0.01 mm: "parsec" is not a unit of length (mm, um, nm, cm, m, in, thou, tenth, ft)',
    ],
  ],
  [
    "angle-unit",
    PLAN.replace("0.01 mm", "1 deg"),
    [
      '8:47: "max" is "1 deg"; expected a length with its unit, such as 0.01 mm: "deg" is not a unit of length, it is one of angle',
    ],
  ],
  [
    "negative",
    PLAN.replace("0.01 mm", "-0.01 mm"),
    ['8:47: "max" is "-0.01 mm", below zero; a flatness is never negative'],
  ],
  [
    "twice-id",
    `${PLAN}  - {id: flat, kind: flatness, of: face, max: 0.02 mm}\n`,
    ['9:10: the id "flat" is taken; give another'],
  ],
  [
    "twice-key",
    PLAN.replace("title: Seat", "title: Seat\ntitle: Chair"),
    ['4:1: "title" stands here twice; keep one of the two'],
  ],
  [
    "max-signed",
    `${PLAN}  - {id: t, kind: tilt, of: face, along: x, per: 12 in, max: 0.01 mm}\n`,
    ['9:57: "max" is not for tilt, which is signed; give nominal, plus and minus'],
  ],
  ["tab", PLAN.replace("  face", "\tface"), ["6:1: a tab stands before the text; indent with blanks"]],
  [
    "normal",
    PLAN.replace("[0, 0, 1]", "[0, 0, 0]"),
    ['6:30: "normal" is [0, 0, 0]; expected a direction, not three zeros'],
  ],
  [
    "sweep-no-radius",
    PLAN.replace("{fit: plane, normal: [0, 0, 1]}", "{fit: plane, from: face-sweep}"),
    ['6:3: feature "face" lacks "radius"; a face-sweep needs the radius at which the indicator runs'],
  ],
  [
    "roundness-of-plane",
    PLAN.replace("flatness", "roundness"),
    ['8:37: "face" is a plane; "of" of roundness must be a circle or cylinder'],
  ],
  [
    "no-to",
    `${PLAN}  - {id: sq, kind: perpendicularity, of: face, max: 0.02 mm}\n`,
    ['9:5: a perpendicularity entry lacks "to"; give the name of a feature'],
  ],
  [
    "advice",
    `${PLAN}advice:\n  - {kind: squareup, of: face}\n`,
    ['10:12: "squareup" is not a kind of advice; did you mean "square-up"?'],
  ],
  ["sense", `${PLAN}machine: {name: HM-2, b-sense: 2}\n`, ['9:32: "b-sense" is 2; expected 1 or -1']],
  [
    "guard",
    PLAN.replace("{rule: simple}", "{rule: guarded, guard: -1}"),
    ['4:34: "guard" is -1; expected a plain number of zero or more'],
  ],
  [
    "instrument",
    `${PLAN}logs: {instrument: probe-9}\n`,
    ['9:20: "probe-9" is not under "instruments"; the plan has no instruments'],
  ],
  ["upper", PLAN.replace("title", "Title"), ['3:1: "Title" is not a key of a plan; did you mean "title"?']],
  [
    "list",
    "- a\n- b\n",
    [
      '1:1: the plan is a list, not keys with values; start with "plinth: 1", or with what "plinth plan column" prints',
    ],
  ],
  [
    "text",
    "hello\n",
    [
      '1:1: the plan is a single value, not keys with values; start with "plinth: 1", or with what "plinth plan column" prints',
    ],
  ],
  [
    "date",
    `${PLAN}instruments:\n  p: {uncertainty: 0.001 mm, calibration-due: soon}\n`,
    [
      '10:47: "calibration-due" is "soon"; expected a date of the calendar as YEAR-MONTH-DAY, such as 2027-03-01',
    ],
  ],
  [
    "proto",
    PLAN.replace("  face:", "  __proto__: {fit: plane}\n  face:"),
    ['6:3: "__proto__" cannot be used as a name; choose another'],
  ],
  ["two-docs", `${PLAN}---\n${PLAN}`, ["9:1: a second document starts here (---); keep one plan in a file"]],
];

/** Name of a log, its text, and what is said after the name. */
export const BAD_LOGS: readonly (readonly [string, string | Uint8Array, string])[] = [
  ["empty.csv", "", ": the file is empty; expected rows of readings, so export the log again"],
  [
    "blank.csv",
    "\n\n   \n",
    ": no line names the columns of a log; expected one such as feature,x,y,z or sweep,angle,reading or check,value, or a mapping in the plan's logs.columns",
  ],
  [
    "header-only.csv",
    "# unit: mm\n# points: surface\nfeature,x,y,z\n",
    ": there are column names but no rows below them; expected readings, so export the log again",
  ],
  [
    "no-unit.csv",
    "feature,x,y,z\nface,1,2,3\n",
    ": the column x has no unit; write # unit: mm or # unit: in above the rows, put it into the column name as x [mm], or set logs.unit in the plan",
  ],
  [
    "unit-odd.csv",
    "# unit: furlong\nfeature,x,y,z\nface,1,2,3\n",
    ", line 1: unit: furlong is no unit of length; write mm or in",
  ],
  [
    "unit-clash.csv",
    "# unit: mm\n# unit: in\nfeature,x,y,z\nface,1,2,3\n",
    ", line 2: unit is in here but mm in line 1; keep the one that is true",
  ],
  [
    "no-columns.csv",
    "# unit: mm\nwhat,is,this\n1,2,3\n",
    ": no line names the columns of a log; expected one such as feature,x,y,z or sweep,angle,reading or check,value, or a mapping in the plan's logs.columns",
  ],
  [
    "no-z.csv",
    "# unit: mm\n# points: surface\nfeature,x,y\nface,1,2\n",
    ", line 3: of the columns feature, x and y are there but z is not; name the column so, or say which one it is in the plan's logs.columns",
  ],
  [
    "two-x.csv",
    "# unit: mm\n# points: surface\nfeature,x,x,y,z\nface,1,2,3,4\n",
    ", line 3: more than one column is named x; rename the one that is not meant or say which counts in the plan's logs.columns",
  ],
  [
    "state.csv",
    "# unit: mm\n# points: surface\n# state: as-guessed\nfeature,x,y,z\nface,1,2,3\n",
    ", line 3: state: as-guessed is none of as-found and as-left; write one of them, or leave the line out",
  ],
  [
    "points.csv",
    "# unit: mm\n# points: tip\nfeature,x,y,z\nface,1,2,3\n",
    ", line 2: points: tip is none of surface and ball-center; write one of them, or leave the line out",
  ],
  [
    "twice.csv",
    "# unit: mm\n# points: surface\nfeature,x,y,z\nface,1,2,3\nbore,1,2,3\nface,1,5,3\n",
    ", line 6: face is measured again here after other rows; if this is a closure, say closure: face in the plan or name these rows face-closure, else give the rows a name of their own",
  ],
  [
    "no-geometry.csv",
    "# unit: mm\n# sign: toward-plus\nsweep,angle,reading\nrim,0,0.1\nrim,90,0.2\nrim,180,0.1\n",
    ", line 4: rim has angles, so it is a sweep of a face or of a rim; say from: face-sweep or from: rim-sweep and radius, and surface: bore or boss for a rim, in the plan's entry rim, or write # from: and # radius: above the rows",
  ],
  [
    "no-place.csv",
    "# unit: mm\nsweep,reading\nrim,0.1\n",
    ", line 2: of the columns sweep and reading are there but position is not; name the column so, or say which one it is in the plan's logs.columns",
  ],
  [
    "sign.csv",
    "# unit: mm\n# sign: up\nsweep,position,reading\nlean,0,0.1\nlean,10,0.2\n",
    ", line 2: sign: up is none of toward-plus and toward-minus; write one of them, or leave the line out",
  ],
  [
    "frame.csv",
    "# unit: mm\n# points: surface\n# frame: pallet\nfeature,x,y,z\nface,1,2,3\n",
    ", line 3: frame: pallet is none of machine and work; write one of them, or leave the line out",
  ],
  [
    "all-bad.csv",
    "# unit: mm\n# points: surface\nfeature,x,y,z\nface,NaN,2,3\nface,1.2.3,1,1\nface,oops,2,1\n",
    ", line 4: no row of 3 can be read: x: NaN stands for a missing value; correct the log or say in the plan what its columns are",
  ],
  [
    "ambiguous.csv",
    "# unit: mm\n# points: surface\nfeature;x;y;z\nface;1,234;2,500;3,125\nface;2,250;1,125;4,875\n",
    ", line 4: 1,234 can be 1234 or 1.234; write # decimal: . or # decimal: , above the rows, or logs.decimal in the plan",
  ],
  [
    "comma-decimal.csv",
    "# unit: mm\n# points: surface\nfeature,x,y,z\nface,1,5,2,5,3,5\nface,2,5,3,5,4,5\n",
    ", line 4: no row of 2 can be read: a long row: 7 cells under 4 columns; correct the log or say in the plan what its columns are",
  ],
  [
    "no-name.csv",
    "# unit: mm\n# points: surface\nfeature,x,y,z\n,1,2,3\n,2,3,4\n",
    ", line 4: no row of 2 can be read: the feature is not named; correct the log or say in the plan what its columns are",
  ],
  [
    "bare.csv",
    "0.0000\n0.0012\n-0.0004\n",
    ", line 1: the log holds 3 readings and nothing that says where each was taken; give the places in the plan's logs.order, or add columns such as sweep,angle,reading",
  ],
  [
    "checks.csv",
    "check,value,unit\n,92,N·m\n",
    ", line 2: no row of 1 can be read: the check is not named; correct the log or say in the plan what its columns are",
  ],
  [
    "sag.csv",
    "# unit: mm\n# sag: little\nsweep,angle,reading\nrim,0,0\nrim,90,1\nrim,180,0\n",
    ", line 2: sag: little is not a quantity; write a number with a decimal point and its unit, such as sag: 6 mm",
  ],
  [
    "lever.csv",
    "# unit: mm\n# lever-angle: 95\nsweep,position,reading\nlean,0,0\nlean,1,1\n",
    ", line 2: lever-angle: 95 cannot be; expected an angle between lever and surface below 90 degrees",
  ],
  [
    "mapping.csv",
    "# unit: mm\nPunkt;X-Ist;Y-Ist;Z-Ist\nface;1,5;2,5;3,5\n",
    ": no line names the columns of a log; expected one such as feature,x,y,z or sweep,angle,reading or check,value, or a mapping in the plan's logs.columns",
  ],
  [
    "tip.csv",
    "# unit: mm\n# points: ball-center\n# tip-diameter: -6 mm\nfeature,x,y,z\nface,1,2,3\n",
    ", line 3: tip-diameter: -6 mm cannot be; expected a diameter above zero",
  ],
  [
    "temp.csv",
    "# unit: mm\n# points: surface\n# temperature: warm\nfeature,x,y,z\nface,1,2,3\n",
    ", line 3: temperature: warm is not a quantity; write a number with a decimal point and its unit, such as temperature: 20.5 C",
  ],
  [
    "decimal.csv",
    "# unit: mm\n# points: surface\n# decimal: comma\nfeature,x,y,z\nface,1,2,3\n",
    ": the decimal mark is declared as a comma but the columns are divided by commas as well; export with semicolons or tabs, or with decimal points",
  ],
  [
    "control.csv",
    Uint8Array.from({ length: 1024 }, (_, i) => i % 256),
    ": 76 control characters among the 1024 bytes from byte 1 on: this is no text; export the log as text",
  ],
  [
    "half-utf-16.csv",
    Uint8Array.of(0xff, 0xfe, 0x41),
    ": the file starts with the mark of UTF-16 but is cut inside a character or damaged; export it again",
  ],
  [
    "archive.csv",
    Uint8Array.of(0x50, 0x4b, 3, 4, 0x14, 0, 6, 0, 8, 0, 0, 0, 0x21, 0, 0, 0, 0),
    ": this is a packed file, as a spreadsheet's own is, and no text; export the readings as text, such as CSV, and hand that over",
  ],
];
