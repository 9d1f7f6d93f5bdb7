import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lex } from "../../grammar/lexer.ts";
import { format, formatDeclaration } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";
import { BUILD, ENGINE, SAMPLES } from "./samples.ts";

function formatted(text: string): string {
  return format(readSource("x", text));
}

/** Tokens and comments without blanks; the pipes that close rows left out, for the formatter may add those. */
function tokens(text: string): string[] {
  const { tokens: found, comments } = lex(text);
  const all = [...found, ...comments].sort((a, b) => a.startOffset - b.startOffset);
  return all
    .map((token) => (token.tokenType.name === "Newline" ? "\n" : `${token.tokenType.name} ${token.image.trimEnd()}`))
    .filter((token, i, list) => token !== "\n" || (i > 0 && i + 1 < list.length && list[i + 1] !== "\n"))
    .filter((token, i, list) => !(token === "Pipe |" && (list[i + 1] === "\n" || i + 1 === list.length)));
}

describe("the formatter", () => {
  it("lays out keys, units, tables and remarks", () => {
    expect(formatted(`

// apart


build   b  "B"   on c{

fuel:petrol;octane :98RON
  bore:83.00mm
      stroke:82.0 mm
  rod-length :138.55   mm
  count:4
  redline: 7300 rpm   cold
  lash: 0.15±0.03 mm   // a

  intake { x: 1; y:2mm }
  exhaust {x: 10;y: 3 mm}
  other { z:1 }   // b
  a: 1 mm // longer than that
  measured lash {
    |valve (mm)|1|  2|
    | intake a | 0.2 | 0.215
    |exhaust| - | 10 |
    |…
  }
  tighten: 30 N·m,
  then 55 N·m

}


`)).toMatchInlineSnapshot(`
      "// apart

      build b "B" on c {
        fuel: petrol; octane: 98 RON
        bore:         83.00 mm
        stroke:       82.0  mm
        rod-length:  138.55 mm
        count:      4
        redline:    7300    rpm cold
        lash:       0.15 ± 0.03 mm  // a

        intake  { x: 1; y: 2 mm }
        exhaust { x: 10; y: 3 mm }
        other { z: 1 }  // b
        a: 1 mm         // longer than that
        measured lash {
          | valve (mm) |   1 |      2 |
          | intake a   | 0.2 |  0.215 |
          | exhaust    |   - | 10     |
          | …          |
        }
        tighten: 30 N·m,
            then 55 N·m
      }
      "
    `);
  });

  it("leaves a declaration with a fault in its text as it is, and lays out its neighbours", () => {
    expect(formatted("engine a {\nx:1 @\n}\npart b {\nx:1\n}\n")).toBe("engine a {\nx:1 @\n}\npart b {\n  x: 1\n}\n");
  });

  it("leaves digits, spellings, comments and strings as written", () => {
    const text = "engine a {\n  x: .007 in\n  y: 3/8-24\n  z: 1 1/2 turn\n  /* a\n     b */\n  s: \"  two  blanks \"\n  u: 40 ft lb\n  v: 0,20 mm\n}\n";
    expect(tokens(formatted(text))).toEqual(tokens(text));
  });

  it("keeps the line ends and the byte-order mark of the file", () => {
    expect(formatted("\ufeffengine a {\r\nx:1\r\n}\r\n")).toBe("\ufeffengine a {\r\n  x: 1\r\n}\r\n");
    expect(formatted("engine a {\rx:1\r}")).toBe("engine a {\r  x: 1\r}\r");
  });

  it("leaves nothing of nothing", () => {
    expect(formatted("")).toBe("");
    expect(formatted("\n \n")).toBe("");
  });

  it("prints one declaration with its own line ends", () => {
    const file = readSource("x", "engine a {\nx:1\n}\n\n\n\npart b {}");
    expect(file.declarations.map(({ tree }) => formatDeclaration(tree))).toEqual(["engine a {\n  x: 1\n}\n\n", "part b {}"]);
  });

  it("changes blanks only, in the samples", () => {
    for (const text of SAMPLES) {
      expect(tokens(formatted(text))).toEqual(tokens(text));
      expect(formatted(formatted(text))).toBe(formatted(text));
    }
  });

  it("changes blanks only and settles at once, whatever the blanks were and whatever is damaged", () => {
    const pieces = fc.constantFrom("x: 1 mm", "a-long-key: 12.345 N·m oiled // why", "b { y: 2 }", "b {", "}", "| a | 1 | 2.5 |", "| b | - |", "| c (mm) | … | 10", "fit c", "x: 1,", "2 .. 3", "x: 1 ..", "// c", "/// d", "/* e\n f */ x: 3", "", "", "y: 3 -2; z: 4 - 1", "m: 20mm", "n: 8° 5%", "p: (1 mm)", "q: 83 +0.1 -0.2 mm", "then 4", "@", "engine e {", "x: 1 1/2 turn", "r: ± 3", "…", "a: 1 b: 2", "s: a-b / 2");
    const glue = fc.constantFrom("\n", "\n", "\n    ", "\n\n\n", " ; ", "\r\n", "  \n\t");
    fc.assert(fc.property(fc.array(fc.tuple(pieces, glue), { maxLength: 25 }), (parts) => {
      const text = `engine a {\n${parts.flat().join("")}\n}\n`;
      const once = formatted(text);
      expect(tokens(once)).toEqual(tokens(text));
      expect(formatted(once)).toBe(once);
      expect(readSource("x", once).declarations.map(({ tree }) => tree.problems.map(({ message }) => message))).toEqual(readSource("x", text).declarations.map(({ tree }) => tree.problems.map(({ message }) => message)));
    }), { seed: 20270314, numRuns: 1500 });
  });

  it("changes blanks only when the blanks of a sample are shaken", () => {
    fc.assert(fc.property(fc.constantFrom(ENGINE, BUILD), fc.array(fc.record({ at: fc.nat(10_000), blanks: fc.constantFrom(" ", "   ", "\t", "\n\n") }), { maxLength: 20 }), (sample, shakes) => {
      let text = sample;
      for (const { at, blanks } of shakes) {
        const place = text.indexOf(" ", at % text.length);
        if (place >= 0) text = text.slice(0, place) + blanks + text.slice(place + 1);
      }
      const once = formatted(text);
      expect(tokens(once)).toEqual(tokens(text));
      expect(formatted(once)).toBe(once);
    }), { seed: 20270314, numRuns: 300 });
  });
});
