import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { tokenErrors } from "../../grammar/lexer.ts";
import { parseDeclaration, ruleNames } from "../../grammar/parser.ts";
import { readSource } from "../../grammar/read.ts";
import { UNIT_SPELLINGS_LONGEST_FIRST, unitOfSpelling } from "../../grammar/vocabulary.ts";
import type { Figure, Part } from "../../grammar/tree.ts";
import { SAMPLES } from "./samples.ts";
import { itemText, partText, treeText } from "./tree-text.ts";

/** The parts of one entry's value, as text; a problem shows behind it. */
function value(text: string): string {
  const tree = parseDeclaration(`engine a { x: ${text} }`);
  const entry = tree.phrase?.block?.items[0];
  const shown = entry === undefined ? "nothing" : itemText(entry).replace(/^x: /, "");
  return [shown, ...tree.problems.map((problem) => problem.code)].join(" | ");
}

function firstPart(text: string): Part | undefined {
  const entry = parseDeclaration(`engine a { x: ${text} }`).phrase?.block?.items[0];
  return entry?.kind === "entry" ? entry.values[0]?.parts[0] : undefined;
}

function figure(text: string): Figure {
  const part = firstPart(text);
  if (part?.kind !== "figure") throw new Error(`no figure in ${text}`);
  return part;
}

/** A token or a rule by its name; or all of several, one of several, one over and over; with `least: 0` it may be left out. */
type Stated = string | { readonly kind: "all" | "one" | "again"; readonly least: 0 | 1; readonly of: readonly Stated[] };

/** The rules that a comment states. */
function stated(comment: string): ReadonlyMap<string, Stated> {
  return new Map([...comment.matchAll(/^\/\/ {3}([a-z]+) += (.+?) \.(?: +\(\*.*)?$/gm)].map(([, name = "", body = ""]) => {
    const words = body.match(/"[^"]+"|\w+|\}-|[[\]{}()|]/g) ?? [];
    const choice = (): Stated => {
      const of = [sequence()];
      while (words[0] === "|") words.shift(), of.push(sequence());
      return of.length === 1 ? of[0] as Stated : { kind: "one", least: 1, of };
    };
    const sequence = (): Stated => {
      const of: Stated[] = [];
      while (words.length > 0 && !/^[|\])}]/.test(words[0] as string)) {
        const word = words.shift() as string;
        if (!"[{(".includes(word)) of.push(word);
        else {
          const inner = choice();
          const close = words.shift() as string;
          of.push({ kind: word === "{" ? "again" : "all", least: close === "]" || close === "}" ? 0 : 1, of: [inner] });
        }
      }
      return { kind: "all", least: 1, of };
    };
    return [name, choice()];
  }));
}

/** What would keep a parser that looks at one token from ending, or from being told what to read. */
function faultsOf(rules: ReadonlyMap<string, Stated>): string[] {
  const faults = new Set<string>();
  const mayBeEmpty = (stated: Stated, within: readonly string[] = []): boolean => {
    if (typeof stated === "string") return rules.has(stated) && !within.includes(stated) && mayBeEmpty(rules.get(stated) as Stated, [...within, stated]);
    return stated.least === 0 || (stated.kind === "one" ? stated.of.some((each) => mayBeEmpty(each, within)) : stated.of.every((each) => mayBeEmpty(each, within)));
  };
  const firstOf = (stated: Stated, within: readonly string[] = []): readonly string[] => {
    if (typeof stated !== "string") {
      const leads = stated.kind === "all" ? stated.of.findIndex((each) => !mayBeEmpty(each)) : -1;
      return (leads < 0 ? stated.of : stated.of.slice(0, leads + 1)).flatMap((each) => firstOf(each, within));
    }
    const rule = rules.get(stated);
    if (rule === undefined) {
      if (/^[a-z]/.test(stated)) faults.add(`${stated} is stated nowhere`);
      return [stated];
    }
    if (!within.includes(stated)) return firstOf(rule, [...within, stated]);
    faults.add(`${stated} begins with itself`);
    return [];
  };
  const look = (stated: Stated, rule: string): void => {
    if (typeof stated === "string") return void firstOf(stated);
    if (stated.kind === "again" && stated.of.some((each) => mayBeEmpty(each))) faults.add(`${rule} repeats what may be empty`);
    const first = stated.kind === "one" ? stated.of.flatMap((each) => [...new Set(firstOf(each))]) : [];
    for (const token of new Set(first)) if (first.indexOf(token) !== first.lastIndexOf(token)) faults.add(`${rule} begins twice with ${token}`);
    stated.of.forEach((each) => look(each, rule));
  };
  for (const [rule, stated] of rules) look(stated, rule);
  return [...faults];
}

describe("the grammar itself", () => {
  it("has token patterns that the toolkit finds sound", () => {
    expect(tokenErrors()).toEqual([]);
  });

  it("is stated at the head of the parser rule by rule, so that the token at hand decides and every loop moves on", () => {
    const rules = stated(readFileSync(new URL("../../grammar/parser.ts", import.meta.url), "utf8"));
    expect([...rules.keys()].sort()).toEqual(ruleNames().sort());
    // A note in brackets is told from a group by the token that follows, as a dash alone is from a sign.
    expect(faultsOf(rules)).toEqual(["cell begins twice with \"(\""]);
  });

  it.each([
    ["a = a B", "a begins with itself"], ["a = b ; b = [ C ] a", "a begins with itself"], ["a = { [ B ] }", "a repeats what may be empty"], ["a = { b } ; b = { C }", "a repeats what may be empty"],
    ["a = B | b ; b = [ C ] B", "a begins twice with B"], ["a = { B | b }- ; b = ( C | B ) D", "a begins twice with B"], ["a = b", "b is stated nowhere"],
  ])("would be seen to be unsound as %s", (grammar, fault) => {
    expect(faultsOf(stated(grammar.split(" ; ").map((rule) => `//   ${rule} .`).join("\n")))).toContain(fault);
  });

  it("reads the samples without a problem", () => {
    for (const text of SAMPLES) for (const { tree } of readSource("x", text).declarations) expect(treeText({ ...tree, comments: [] })).toBe(tree.phrase === undefined ? "" : itemText(tree.phrase));
  });
});

describe("figures", () => {
  it.each([
    ["20mm", "20[mm]"], ["98RON", "98[RON]"], ["40ft-lb", "40[ft-lb]"], ["8°", "8[°]"], ["8°C", "8[°C]"], ["5%", "5[%]"],
    ["40 ft lb oiled", "40[ft lb] oiled"], ["83 MM", "83[MM]"], ["3 mpa", "3[mpa]"], ["6500 1/min", "6500[1/min]"], ["5 lb/(hp·h)", "5[lb/(hp·h)]"],
    ["1-1/4 in", "fraction 1-1/4[in]"], ["1 1/2 turn past zero", "fraction 1 1/2[turn] past zero"], ["3/8 in", "fraction 3/8[in]"], ["1/2", "fraction 1/2"],
    [".007 in (0.18 mm)", ".007[in] (group 0.18[mm])"], ["9.4:1", "ratio 9.4:1"], ["1-3-4-2", "dashed 1-3-4-2"], ["10-32", "dashed 10-32"],
    ["10-12 N·m", "dashed 10-12[N·m] | dashed-range"], ["0.10-0.15", "dashed 0.10-0.15 | dashed-range"],
    ["0,20 mm", "comma 0,20[mm] | decimal-comma"], ["1,775 cc", "comma 1,775[cc] | decimal-comma"], ["1,2,3", "1, 2, 3"], ["1, 2", "1, 2"],
    ["M8", "<thread M8>"], ["M8x1.25 10.9", "<thread M8x1.25> 10.9"], ["M10×1", "<thread M10×1>"], ["3/8-24", "<thread 3/8-24>"], ["1-1/8-12", "<thread 1-1/8-12>"],
    ["10W-40", "<mark 10W-40>"], ["7BPE-11", "<mark 7BPE-11>"], ["1e5", "<mark 1e5>"], ["2027-03-14", "<date 2027-03-14>"], ["#3f9c21", "<print #3f9c21>"],
    ["83.00 +0.02 -0.01 mm", "(83.00 +0.02 -0.01[mm])"], ["83 mm +0.02/-0.01", "(83[mm] +0.02 -0.01)"], ["+0.50 mm over", "(+0.50[mm]) over"],
    ["20 mm/s", "20 mm/s"], ["20 N·mm", "20 N·mm"], ["5 floz", "5 floz"], ["3 in-house", "3 in-house"], ["8° crank", "8[°] crank"], ["8°crank", "8[°] crank"],
  ])("reads %s", (text, shown) => {
    expect(value(text)).toBe(shown);
  });

  it("keeps the value and half a unit in the last place as written", () => {
    expect(figure("0.20 mm")).toMatchObject({ value: 0.2, halfDigit: 0.005 });
    expect(figure("20 mm")).toMatchObject({ value: 20, halfDigit: 0.5 });
    expect(figure(".007 in")).toMatchObject({ value: 0.007, halfDigit: 0.0005 });
    expect(figure("1-1/4 in")).toMatchObject({ value: 1.25, halfDigit: 0 });
    expect(figure("1 1/2 turn")).toMatchObject({ value: 1.5, halfDigit: 0 });
    expect(figure("9.4:1")).toMatchObject({ value: 9.4, halfDigit: 0.05 });
    expect(figure("0,20 mm")).toMatchObject({ value: 0.2, halfDigit: 0.005 });
    expect(figure("1-3-4-2").value).toBeNaN();
    expect(figure("1,775 cc").value).toBeNaN();
  });

  it.each(UNIT_SPELLINGS_LONGEST_FIRST)("reads %s as that unit after a figure, apart and glued", (spelling) => {
    const apart = figure(`20 ${spelling} cold`);
    expect(apart.unit?.text).toBe(spelling);
    expect(unitOfSpelling(apart.unit?.text ?? "")).toBe(unitOfSpelling(spelling));
    if (!/^\d/.test(spelling)) expect(figure(`20${spelling}`).unit?.text).toBe(spelling);
  });

  it("reads no unit before a colon, so that a key may be spelt like one", () => {
    expect(treeText(parseDeclaration("engine a { x: 3 min: 4 }"))).toBe("engine a {\n  x: 3\n  min: 4\n}");
  });
});

describe("values", () => {
  it.each([
    ["1800 .. 2400 rpm for 20 min", "(1800 .. 2400[rpm]) for 20[min]"], ["20mm..30mm", "(20[mm] .. 30[mm])"], ["5 ..", "(5 .. -)"], [".. 5 mm", "(- .. 5[mm])"],
    ["0.15 ± 0.03 mm cold", "(0.15 +0.03[mm] -0.03[mm]) cold"], ["± 8 deg", "(- +8[deg] -8[deg])"], ["3 +/- 1", "(3 +1 -1)"], ["3 +- 1", "(3 +1 -1)"],
    ["<= 20 m/s", "(<= 20[m/s])"], ["≥ 3", "(>= 3)"],
    ["3 * (a.b + 2 mm) - 1", "((3 * (group (a.b + 2[mm]))) - 1)"], ["8 - 4 - 2", "((8 - 4) - 2)"], ["8 / 4 * 2", "((8 / 4) * 2)"], ["3 -2", "3 (-2)"], ["-2 mm", "(-2[mm])"],
    ["(3 + 4) mm", "(group (3 + 4))[mm]"], ["30 N·m oiled, then 55 N·m, then 90 deg", "30[N·m] oiled, then 55[N·m], then 90[deg]"], ["30 N·m then 55 N·m", "30[N·m], then 55[N·m]"],
    ["0.20 goes 0.22 stops", "0.20 goes 0.22 stops"], ["belt end", "belt end"], ["\"figure 6-9\"", "\"figure 6-9\""], ["…", "…"], ["...", "…"],
  ])("reads %s", (text, shown) => {
    expect(value(text)).toBe(shown);
  });

  it.each(["… N·m", "… %", "… cc/min", "…", "... mm"])("reads `%s` as a hole that has its unit already", (text) => {
    const tree = parseDeclaration(`build b { torque: ${text} }`);
    expect(tree.problems).toEqual([]);
    expect(value(text)).toBe("…");
  });

  it("leaves an entry without a value alone: it is not filled in yet", () => {
    expect(value("")).toBe("");
  });
});

describe("items", () => {
  it("reads phrases, entries, holes and docs, on one line or many", () => {
    expect(treeText(parseDeclaration(`/// Doc.
build b "B, b" on c {
  /// About the redline.
  redline: 7300 rpm; at: wheels
  fit cam { set: 3 deg crank retarded }
  check "x, y" piston-speed.mean <= 20 m/s, more
  plan { … } // remark
  /* a /* nested */ comment */
}
`))).toMatchInlineSnapshot(`
      "/// Doc.
      build b "B, b" on c {
        /// About the redline.
        redline: 7300[rpm]
        at: wheels
        fit cam {
          set: 3[deg] crank retarded
        }
        check "x, y" piston-speed.mean (<= 20[m/s]) more
        plan {
          …
        }
      }
      comment // remark
      comment /* a /* nested */ comment */"
    `);
  });

  it("reads tables with units and words in brackets, empty cells, dashes and rows left open", () => {
    expect(treeText(parseDeclaration(`build b { measured lash {
  | valve (mm) | 1 | lash (mm cold) | | N·m
  | intake a | 0.20 | - | … | 3 .. 4 |
  | bottom (of it) | -0.5 | 0.2 mm |
  | rpm | torque (N·m) | } }`))).toMatchInlineSnapshot(`
      "build b {
        measured lash {
          row [valve unit=mm] [1] [lash unit=mm word=cold] [] [N m]
          row [intake a] [0.20] [none] […] [(3 .. 4)]
          row [bottom word=of word=it] [(-0.5)] [0.2[mm]]
          row [rpm] [torque unit=N·m]
        }
      }
      syntax at "·": \`·\` does not fit in this cell; end what stands before it with \`;\` or a new line, or remove it."
    `);
  });

  it("takes a documentation line that documents nothing for a comment", () => {
    expect(treeText(parseDeclaration("engine a {\n  x: 1 /// behind\n  /// alone\n}\n/// last"))).toBe("engine a {\n  x: 1\n}\ncomment /// behind\ncomment /// alone\ncomment /// last");
  });
});

describe("line ends", () => {
  it.each([
    ["joins after a comma", "x: 1,\n  2", "x: 1, 2"],
    ["joins over a comment line", "x: 1,\n  // why\n  2", "x: 1, 2"],
    ["joins after dots", "x: 1 ..\n  2", "x: (1 .. 2)"],
    ["joins after a sign", "x: 1 +\n  2", "x: (1 + 2)"],
    ["does not join over a blank line", "x: 1 ..\n\n  y: 2", "x: (1 .. -)\ny: 2"],
    ["does not eat a key", "x: 1 ..\n  y: 2", "x: (1 .. -)\ny: 2"],
    ["does not eat a statement", "x: 1 ..\n  fit y", "x: (1 .. -)\nfit y"],
    ["does not eat a phrase with a block", "x: 1 ..\n  intake { y: 2 }", "x: (1 .. -)\nintake {\n  y: 2\n}"],
    ["does not eat a row", "x: 1 ..\n  | 2 |", "x: (1 .. -)\nrow [2]"],
    ["ends a row at its line, whatever it ends in", "| 1 | -\n  | 2 |", "row [1] [none]\nrow [2]"],
  ])("%s", (_, text, shown) => {
    const tree = parseDeclaration(`engine a {\n  ${text}\n}`);
    expect(tree.phrase?.block?.items.map((item) => itemText(item)).join("\n")).toBe(shown);
    expect(tree.phrase?.block?.closed).toBe(true);
  });

  it("reads CRLF, lone CR and a byte-order mark as it reads plain lines", () => {
    const plain = treeText(parseDeclaration("engine a {\n  x: 1,\n  2\n\n  y: 3\n}\n"));
    for (const eol of ["\r\n", "\r"]) expect(treeText(parseDeclaration(`\ufeffengine a {${eol}  x: 1,${eol}  2${eol}${eol}  y: 3${eol}}${eol}`))).toBe(plain);
  });
});

describe("braces", () => {
  it("lets layout close a block whose brace is missing, and reads the rest as it stands", () => {
    expect(treeText(parseDeclaration(`engine a {
  combustion {
    chamber: 44 cc
  valve-gear {
    layout: sohc
  }
  bore: 83 mm
}`))).toMatchInlineSnapshot(`
      "engine a {
        combustion {
          chamber: 44[cc]
        (never closed)
        valve-gear {
          layout: sohc
        }
        bore: 83[mm]
      }
      unclosed-block at "{": The block of \`combustion\` is never closed: add the missing \`}\`."
    `);
  });

  it("leaves flush-left text alone where the braces balance", () => {
    expect(treeText(parseDeclaration("engine a {\nx: 1\nb {\ny: 2\n}\n}"))).toBe("engine a {\n  x: 1\n  b {\n    y: 2\n  }\n}");
  });

  it("keeps everything in place around a brace too many", () => {
    expect(treeText(parseDeclaration("engine a {\n  x: 1\n  }\n  y: 2 }\n  z: 3\n}"))).toMatchInlineSnapshot(`
      "engine a {
        x: 1
        junk
        y: 2
        junk
        z: 3
      }
      syntax at "}": This \`}\` closes nothing: remove it, or add the \`{\` that belongs to it.
      syntax at "}": This \`}\` closes nothing: remove it, or add the \`{\` that belongs to it."
    `);
  });

  it("reads on inside a brace that belongs to nothing", () => {
    expect(treeText(parseDeclaration("engine a {\n  12 {\n    y: 2\n  }\n  z: 3\n}"))).toContain("junk\n  y: 2\n  z: 3\n}");
  });

  it("starts a new declaration at a top word in column one whatever is open", () => {
    const file = readSource("x", "engine a {\n  b {\n    x: 1\n// about c\ncard c {\n}\n");
    expect(file.declarations.map(({ tree }) => tree.phrase === undefined ? "" : partText(tree.phrase.head[0]))).toEqual(["a", "c"]);
    expect(file.declarations[1]?.tree.text).toBe("// about c\ncard c {\n}\n");
  });
});
