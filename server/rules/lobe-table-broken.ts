// A lobe's table with rows out of order, holes, misread points, or ends that stop short; or one in a file that is no such table.
import type { LobeFault } from "../engineering/lobe-table.ts";
import type { Location } from "../model/declaration.ts";
import { formatValue } from "../quantity/display.ts";
import { lobesIn } from "../sheet/lobe.ts";
import type { FileRule } from "./rule.ts";

/** Faults after which the table gives nothing at all. */
const USELESS: ReadonlySet<LobeFault["kind"]> = new Set(["too-few", "too-many", "not-a-number", "negative-lift", "out-of-order", "repeated-angle"]);

export const RULE: FileRule = {
  id: "lobe-table-broken",
  scope: "file",
  severity: "warning",
  page: {
    summary: "A lobe's table has rows out of order, a hole, a point that was misread, or stops with the valve still open.",
    why: "A table is written out, or stands in a file of comma-separated text beside this one. Piston-to-valve clearance and true duration are worked out from it. One misread dial moves them by as much.",
    limit: "Angles rise from row to row; at least five rows and at most 10,000. A hole is a step of more than 1.75 times the usual one; a misread point stands off the line of its four neighbours by more than 4 per cent of the lift; an end stops short with more than 0.15 mm of lift. The three are this tool's own choice. Rows out of order give nothing at all, which is an error.",
    source: "common practice, no source",
    remedy: "Read the rows again on the wheel and the dial.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  camshaft {
    intake {
      lobe {
        | angle (deg crank) | lift (mm at lobe) |
        |               -80 |              0.00 |
        |               -40 |              3.55 |
        |               -60 |              1.50 |
        |                 0 |              7.10 |
        |                40 |              3.55 |
        |                80 |              0.00 |
      }
    }
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  camshaft {
    intake {
      lobe {
        | angle (deg crank) | lift (mm at lobe) |
        |               -80 |              0.00 |
        |               -60 |              1.04 |
        |               -40 |              3.55 |
        |               -20 |              6.06 |
        |                 0 |              7.10 |
        |                20 |              6.06 |
        |                40 |              3.55 |
        |                60 |              1.04 |
        |                80 |              0.00 |
      }
    }
  }
}
`,
  },
  check({ file, scope, report }) {
    for (const declaration of file.declarations)
      for (const { side, lobe, file: name } of lobesIn(declaration, scope)) {
        const words = `The ${side} lobe's ${name === undefined ? "table" : `file "${name}"`}`;
        const path = `camshaft.${side}.lobe`;
        if (lobe.problem !== undefined) {
          report({ message: `${words} ${lobe.problem}.`, at: name === undefined ? firstLineOf(lobe.location) : lobe.location, path, severity: "error" });
          continue;
        }
        const [first, ...others] = [...lobe.faults].sort((a, b) => Number(USELESS.has(b.fault.kind)) - Number(USELESS.has(a.fault.kind)));
        if (!first) continue;
        report({
          message: `${words} ${said(first.fault)}${first.line === undefined ? "" : ` in line ${first.line}`}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "row needs" : "rows need"} a look` : ""}. Read it again on the wheel and the dial.`,
          at: first.at === lobe.location && name === undefined ? firstLineOf(first.at) : first.at,
          path, severity: USELESS.has(first.fault.kind) ? "error" : "warning",
          related: name === undefined ? others.slice(0, 6).map((o) => ({ message: `This row ${said(o.fault)}.`, at: o.at })) : [],
        });
      }
  },
};

/** A finding never runs over a whole table. */
function firstLineOf({ tree, span }: Location): Location {
  return { tree, span: { start: span.start, end: Math.min(span.end, endOfLine(tree.text, span.start)) } };
}

function endOfLine(text: string, from: number): number {
  const end = text.indexOf("\n", from);
  return end < 0 ? text.length : end;
}

const deg = (x: number) => formatValue(x, "angle", "degree");
const mm = (x: number) => formatValue(x, "length", "millimetre");

function said(fault: LobeFault): string {
  switch (fault.kind) {
    case "too-many": return `has ${fault.count} rows, more than any lobe needs: keep a reading a degree`;
    case "too-few": return `has ${fault.count} rows that can be read, too few to draw a lobe by`;
    case "not-a-number": return "has a row without a figure";
    case "negative-lift": return `goes below the heel, to ${mm(fault.lift)}`;
    case "out-of-order": return `goes back from ${deg(fault.after)} to ${deg(fault.deg)}`;
    case "repeated-angle": return `has ${deg(fault.deg)} twice`;
    case "gap": return `jumps from ${deg(fault.fromDeg)} to ${deg(fault.toDeg)} where its usual step is ${deg(fault.usualStepDeg)}`;
    case "kink": return `reads ${mm(fault.lift)} at ${deg(fault.deg)} where its neighbours make it about ${mm(fault.expected)}`;
    case "ends-open": return `${fault.end === "first" ? "begins" : "ends"} with ${mm(fault.lift)} of lift: the valve is not shut there`;
  }
}
