// A bigger shaft or a moved gear, and nobody knows how near piston and valve come.
import { judged } from "./judged.ts";
import { SIDES } from "./lash.ts";
import { broughtNearer, closedBy, measuredGap } from "./piston-valve.ts";
import { formatValue } from "../quantity/display.ts";
import type { BuildRule } from "./rule.ts";
import { called } from "./wording.ts";
import { spanOfFit } from "./placed.ts";

/** How much lower a head may sit under a stock shaft before nobody should trust that there is room, m: 0.020 in. Common practice, no source. */
const MUCH = 0.02 * 0.0254;

export const RULE: BuildRule = {
  id: "piston-valve-unknown",
  scope: "build",
  on: ["build"],
  severity: "error",
  breaksEngines: true,
  page: {
    summary: "A bigger shaft or a moved gear brings valves nearer to the pistons, and the gap is neither measured nor computed.",
    why: "Piston and valve that meet once bend the valve; at speed they take the engine with them.",
    limit: "None is judged: some figure must be there. It counts as an error where the fitted shaft lifts higher or stays open longer than the stock one, or the gear is set towards the piston. Where the stock shaft's figures are missing, the gap is listed as not checked. A skimmed head or block, a thinner gasket or a crown that stands higher is a warning from 0.020 in (0.5 mm) together, which is common practice; less than that, and other pistons, are listed as not checked.",
    source: "common practice, no source",
    remedy: "Measure it with clay or checking springs, with the gasket and lash as run, and write it down: measured piston-valve.",
    cautions: ["timing-drive"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  camshaft { intake { lobe-lift: 6.00 mm } }
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  intake { lobe-lift: 7.10 mm }
}

build wren-hill-2 on dunlin-18 {
  fit ridgeway-272
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  camshaft { intake { lobe-lift: 6.00 mm } }
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  intake { lobe-lift: 7.10 mm }
}

build wren-hill-2 on dunlin-18 {
  fit ridgeway-272
  measured piston-valve on 2027-03-15 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }
}
`,
  },
  check({ build, sheet, report, unchecked }) {
    const told = new Set<unknown>();
    const closed = closedBy(build);
    /** Other crowns, and a head that sits lower, with the stock shaft on its marks. */
    const lowered = (side: string, missing: readonly { readonly path: string; readonly words: string }[]) => {
      if (!closed) return;
      if (closed.by === undefined || closed.by < MUCH) unchecked(`piston-to-valve clearance, ${side}`, missing);
      else if (!told.has(closed)) {
        told.add(closed);
        report({
          message: `Piston and valves come ${formatValue(closed.by, "length", closed.unit ?? "millimetre")} nearer to each other, as ${closed.words}, and the gap is neither measured nor computed. Measure it before the engine is turned: measured piston-valve.`,
          at: closed.at, path: `piston-valve.${side}.clearance`, severity: "warning",
        });
      }
    };
    for (const side of SIDES) {
      if (measuredGap(build, side) || judged(sheet.byId.get(`piston-valve.${side}.clearance`), "least")) continue;
      const nearer = broughtNearer(build, side);
      const missing = [{ path: "measured piston-valve", words: "measured piston-valve" }];
      if (!nearer) {
        lowered(side, missing);
        continue;
      }
      if (!nearer.certain) {
        unchecked(`piston-to-valve clearance, ${side}`, missing);
        continue;
      }
      // One part is one cause, whichever sides it brings nearer.
      if (told.has(nearer.part)) continue;
      told.add(nearer.part);
      report({
        message: `${called(nearer.part.declaration)} ${nearer.words}, and the gap between piston and valve is neither measured nor computed. Measure it before the engine is turned: measured piston-valve.`,
        at: { tree: build.subject.tree, span: spanOfFit(nearer.part.fit) }, path: `piston-valve.${side}.clearance`,
      });
    }
  },
};
