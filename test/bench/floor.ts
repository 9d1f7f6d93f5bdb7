// What no server for this language could do without: the parser toolkit's bare pass over 20,000 lines, and what reading and judging them add.
// Prints; asserts nothing about time.
import { lex } from "../../grammar/lexer.ts";
import { readSource } from "../../grammar/read.ts";
import { analyse } from "../../server/workspace/analyse.ts";
import { projectFileOf } from "../../server/workspace/load.ts";
import { documentsOf } from "./documents.ts";
import { figure } from "./spread.ts";

const LINES = 20_000;
const PASSES = 6;

export function floor(): void {
  const text = documentsOf(LINES)[0]?.text ?? "";
  const pieces = readSource("file:///floor.tappet", text).declarations.map(({ tree }) => tree.text);
  const steps: Readonly<Record<string, () => void>> = {
    "lexer": () => pieces.forEach((piece) => lex(piece)),
    "lexer and parser": () => void readSource("file:///floor.tappet", text),
    "and lowered to facts": () => void projectFileOf(readSource("file:///floor.tappet", text)),
    "and worked out and judged": () => {
      const file = projectFileOf(readSource("file:///floor.tappet", text));
      void analyse({ files: new Map([[file.uri, file]]), unreadable: new Map() }, "2027-06-01").fileResult(file.uri);
    },
  };
  console.log(`\nWhole passes over ${text.split("\n").length} lines, in this process, milliseconds of processor time: first, then the least of ${PASSES - 1} more.`);
  for (const [what, work] of Object.entries(steps)) {
    const times = Array.from({ length: PASSES }, () => {
      const before = process.cpuUsage();
      work();
      const { user, system } = process.cpuUsage(before);
      return (user + system) / 1000;
    });
    console.log(`${what.padEnd(28)}${figure(times[0] ?? NaN).padStart(8)}${figure(Math.min(...times.slice(1))).padStart(8)}`);
  }
}
