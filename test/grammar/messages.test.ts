import { describe, expect, it } from "vitest";
import * as messages from "../../grammar/messages.ts";
import { parseDeclaration } from "../../grammar/parser.ts";

/** Each way a text can go wrong: the text, with what the problem points at between «». */
const CASES: Readonly<Record<keyof typeof messages, readonly (readonly [marked: string, says: RegExp])[]>> = {
  doesNotFit: [["engine a {\n  «12 oops»\n}", /does not fit here: expected a key with a colon/], ["engine a {\n  «= 4»\n}", /a key takes a colon/]],
  restDoesNotFit: [
    ["engine a {\n  x: 1 mm «@@»\n}", /does not fit in this value/], ["engine a {\n  fit b «@ c»\n}", /does not fit in this statement/],
    ["engine a {\n  | 1 | «@» |\n}", /does not fit in this cell/], ["engine a {\n  … «3»\n}", /does not fit after this row/], ["engine a {\n  x: 10«–12»\n}", /write `\.\.` between the ends/],
  ],
  unclosedBlock: [["engine a «{»\n  x: 1\n", /block of `engine a` is never closed/]],
  strayClose: [["engine a {\n}\n«}»", /closes nothing/]],
  strayOpen: [["engine a {\n  | 1 |\n  «{»\n  }\n}", /belongs to nothing/]],
  tooDeep: [[`engine a { x: ${"(".repeat(100)}«(»1${")".repeat(101)} }`, /more than 100 brackets deep/]],
  tooLong: [[`engine a { x: 1${" + 1".repeat(100)} «+» 1 }`, /More than 100 signs/]],
  colonBeforeBlock: [["engine a {\n  combustion«:» {\n  }\n}", /write `combustion \{ … \}`/]],
  keyWithoutColon: [["engine a {\n  «:» 3\n}", /without its key/]],
  reservedStart: [["engine a {\n  «then» 55 N·m\n}", /no stage stands before it/], ["engine a {\n  «for» b\n}", /cannot begin one/]],
  missingAfter: [["engine a {\n  x: 1«,»\n}", /missing after a comma/], ["engine a {\n  x: 1, «then»\n}", /missing after `then`/], ["engine a {\n  x: 1 «±»\n}", /missing after `±`/], ["engine a {\n  x: 3 «*»\n}", /missing after `\*`/]],
  missingBound: [["engine a {\n  x: «<=»\n}", /write the limit/]],
  unclosedParen: [["engine a {\n  x: «(»1 mm\n}", /never closed/], ["engine a {\n  | a «(»mm |\n}", /never closed/]],
  unclosedString: [["engine a {\n  x: «\"figure 6»\n}", /closing " on the same line/]],
  unclosedComment: [["engine a {\n  «/* x: 1»\n}", /ends with its line/]],
  decimalComma: [["engine a {\n  x: «0,20» mm\n}", /write 0\.20/], ["engine a {\n  x: «1,775» cc\n}", /1\.775 or as 1775/], ["engine a {\n  x: «1,234.5» cc\n}", /write 1234\.5/]],
  trailingPoint: [["engine a {\n  x: «1.» mm\n}", /ends in a point/]],
  dashedRange: [["engine a {\n  x: «10-12» N·m\n}", /write 10 \.\. 12/]],
  gluedFigures: [["engine a {\n  x: «12.5.3 mm»\n}", /glued together/]],
  useNeedsString: [["use «engines»\n", /file in quotes/], ["«use»\n", /file in quotes/]],
  outsideDeclaration: [["engine a {\n}\n«x»: 1\n", /outside any declaration/], ["engine a {\n}\n  «fit» b\n", /outside any declaration/]],
  unknownDeclaration: [["«engin» a {\n}", /does not begin a declaration/]],
  indentedDeclaration: [["  «engine» a {\n}", /first column/]],
  unreadable: [],
  longDeclaration: [],
  manyDeclarations: [],
};

describe("what the text itself gets wrong", () => {
  for (const [name, cases] of Object.entries(CASES)) {
    for (const [marked, says] of cases) {
      it(`${name} points at the fault in ${JSON.stringify(marked.slice(0, 60))}`, () => {
        const start = marked.indexOf("«");
        const end = marked.indexOf("»") - 1;
        const { problems } = parseDeclaration(marked.replace("«", "").replace("»", ""));
        expect(problems.map(({ span, message }) => ({ span, message }))).toEqual([{ span: { start, end }, message: expect.stringMatching(says) }]);
      });
    }
  }

  it("offers a fix that mends the text", () => {
    for (const [text, mended] of [
      ["engine a {\n  x: 0,20 mm\n}", "engine a {\n  x: 0.20 mm\n}"], ["engine a {\n  x: 10-12 N·m\n}", "engine a {\n  x: 10 .. 12 N·m\n}"], ["engine a {\n  b: {\n  }\n}", "engine a {\n  b {\n  }\n}"],
      ["engine a {\n  x: \"b\n}", "engine a {\n  x: \"b\"\n}"], ["  engine a {\n}", "engine a {\n}"], ["engine a {\n}\n}", "engine a {\n}\n"],
    ] as const) {
      const fix = parseDeclaration(text).problems[0]?.fix;
      if (fix === undefined) throw new Error(`no fix for ${text}`);
      const after = text.slice(0, fix.span.start) + fix.text + text.slice(fix.span.end);
      expect(after).toBe(mended);
      expect(parseDeclaration(after).problems).toEqual([]);
    }
  });

  it("has no fix where two readings are possible", () => {
    expect(parseDeclaration("engine a {\n  x: 1,775 cc\n}").problems[0]?.fix).toBeUndefined();
  });

  it("words a declaration that could not be read as one problem over its text", () => {
    expect(messages.unreadable({ start: 0, end: 9 })).toMatchObject({ code: "syntax", span: { start: 0, end: 9 } });
  });
});
