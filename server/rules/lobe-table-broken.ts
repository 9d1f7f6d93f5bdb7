// A lobe's table with rows out of order, holes, misread points, or ends that stop short.
import type { LobeFault } from "../engineering/lobe-table.ts";
import { formatValue } from "../quantity/display.ts";
import { lobeOf } from "../sheet/lobe.ts";
import { SIDES } from "./lash.ts";
import type { BuildRule } from "./rule.ts";

/** Faults after which the table gives nothing at all. */
const USELESS: ReadonlySet<LobeFault["kind"]> = new Set(["too-few", "not-a-number", "negative-lift", "out-of-order", "repeated-angle"]);

export const RULE: BuildRule = {
  id: "lobe-table-broken",
  scope: "build",
  on: ["engine", "build"],
  severity: "warning",
  page: {
    summary: "A lobe's table has rows out of order, a hole, a point that was misread, or stops with the valve still open.",
    why: "Piston-to-valve clearance and true duration are worked out from it. One misread dial moves them by as much.",
    limit: "Angles rise from row to row; at least five rows. A hole is a step of more than 1.75 times the usual one; a misread point stands off the line of its four neighbours by more than 4 per cent of the lift; an end stops short with more than 0.15 mm of lift. The three are this tool's own choice. Rows out of order give nothing at all, which is an error.",
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
  check({ build, report }) {
    for (const side of SIDES) {
      const lobe = lobeOf(build, side);
      const given = build.tables.get(`camshaft.${side}.lobe`);
      // An engine's own table is the engine's finding, not that of every build on it.
      if (!lobe || !given || (build.subject.sort === "build" && given.origin.sort === "engine")) continue;
      const [first, ...others] = [...lobe.faults].sort((a, b) => Number(USELESS.has(b.fault.kind)) - Number(USELESS.has(a.fault.kind)));
      if (!first) continue;
      report({
        message: `The ${side} lobe's table ${said(first.fault)}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "row needs" : "rows need"} a look` : ""}. Read it again on the wheel and the dial.`,
        at: first.fault.kind === "too-few" ? { tree: first.at.tree, span: { start: first.at.span.start, end: Math.min(first.at.span.end, endOfLine(first.at.tree.text, first.at.span.start)) } } : first.at,
        path: `camshaft.${side}.lobe`, severity: USELESS.has(first.fault.kind) ? "error" : "warning",
        related: others.slice(0, 6).map((o) => ({ message: `This row ${said(o.fault)}.`, at: o.at })),
      });
    }
  },
};

function endOfLine(text: string, from: number): number {
  const end = text.indexOf("\n", from);
  return end < 0 ? text.length : end;
}

const deg = (x: number) => formatValue(x, "angle", "degree");
const mm = (x: number) => formatValue(x, "length", "millimetre");

function said(fault: LobeFault): string {
  switch (fault.kind) {
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
