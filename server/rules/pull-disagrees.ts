// A pull whose torque, power and stated figures cannot all be true.
import { type UnitId, spellingOfUnit } from "../../grammar/vocabulary.ts";
import { angularSpeed } from "../engineering/angle.ts";
import { torqueFromPower } from "../engineering/power.ts";
import type { FigureFact } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import { formatAgainst } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { UNITS } from "../quantity/units.ts";
import { comparable } from "../sheet/formulas/pulls.ts";
import { type Pull, type PullRow, pullsOf } from "../sheet/pull.ts";
import type { Fix } from "./finding.ts";
import type { BuildRule, Report } from "./rule.ts";
import { textAt } from "./wording.ts";

/** How far figures of one printout may lie apart beyond their digits. Common practice, no source. */
const ALLOWED = 0.01;

export const RULE: BuildRule = {
  id: "pull-disagrees",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Torque, power and the peaks stated on a pull's printout cannot all be true.",
    why: "Power is torque times speed and nothing else. Where a printout disagrees with itself, hp was read as PS, ft-lb as N·m, wheels as crank, or a corrected figure put beside raw ones, and every comparison with it is wrong by that much.",
    limit: "One per cent, which is common practice, and what the digits can explain. The power stated may lie above that of every row, since tables go in steps, but not above what the greatest torque of two neighbouring rows makes at the faster one; it cannot lie below any row. Power stated at the crank is not held against torque at the wheels.",
    source: "power is torque times angular speed; the two horsepowers by NIST SP 811; the allowance is common practice, no source",
    remedy: "Look the printout's units up again, and copy the figures once more.",
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

build birkrigg-1 on dunlin-20 {
  tune { date: 2027-05-01; jets: "main 118" }
  pull on 2027-04-17 {
    at: wheels; correction: none
    stated-power: 89.5 hp at wheels
    |  rpm | torque (N·m) |
    | 5000 |          150 |
    | 5500 |          148 |
    | 6000 |          140 |
  }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

build birkrigg-1 on dunlin-20 {
  tune { date: 2027-05-01; jets: "main 118" }
  pull on 2027-04-17 {
    at: wheels; correction: none
    stated-power: 88.0 kW at wheels
    |  rpm | torque (N·m) |
    | 5000 |          150 |
    | 5500 |          148 |
    | 6000 |          140 |
  }
}
`,
  },
  check({ build, report }) {
    for (const pull of pullsOf(build)) {
      const rows = rowThatDisagrees(build, pull);
      if (rows) {
        report(rows);
        continue;
      }
      const stated = pull.quantity("stated-power")?.quantity;
      const power = pull.figure("stated-power");
      if (stated && power && comparable(pull)) {
        const made = pull.rows.flatMap((row) => (row.torque === undefined ? [] : [{ value: row.torque * angularSpeed(row.rpm), slack: slackOf(row) }]));
        const found = outside(made, mostPossible(pull), stated.interval.nominal, stated.halfDigit);
        if (found) report(disagreement(build, power, stated, found, "power"));
      }
      const torque = pull.figure("stated-torque");
      const peak = pull.quantity("stated-torque")?.quantity;
      if (torque && peak) {
        const read = pull.rows.flatMap((row) => (row.torque === undefined ? [] : [{ value: row.torque, slack: slackOf(row) }]));
        // Torque between two rows may be a little more than at either; a tenth is more than any engine does within a step.
        const found = outside(read, Math.max(...read.map((r) => r.value)) * 1.1, peak.interval.nominal, peak.halfDigit);
        if (found) report(disagreement(build, torque, peak, found, "torque"));
      }
    }
  },
};

/** Share that half a unit in the last place of a row's own figure makes. */
function slackOf(row: PullRow): number {
  const read = (row.cells.get("torque") ?? row.cells.get("power"))?.quantity;
  return read && read.interval.nominal > 0 ? read.halfDigit / read.interval.nominal : 0;
}

/** The greatest power that could lie between two neighbouring rows. */
function mostPossible(pull: Pull): number {
  const rows = pull.rows.filter((row) => row.torque !== undefined).sort((a, b) => a.rpm - b.rpm);
  return Math.max(...rows.map((row, i) => Math.max(row.torque ?? 0, rows[i + 1]?.torque ?? 0) * angularSpeed(rows[i + 1]?.rpm ?? row.rpm)));
}

/** The peak of the rows, where the figure stated lies below it or above what could be. */
function outside(rows: readonly { readonly value: number; readonly slack: number }[], most: number, stated: number, halfDigit: number): number | undefined {
  const peak = rows.reduce((a, b) => (b.value > a.value ? b : a), rows[0] ?? { value: NaN, slack: 0 });
  const slack = ALLOWED + peak.slack + (stated > 0 ? halfDigit / stated : 0);
  if (!Number.isFinite(peak.value) || !(stated > 0)) return undefined;
  return peak.value * (1 - slack) > stated || stated > most * (1 + slack) ? peak.value : undefined;
}

function disagreement(build: EffectiveBuild, fact: FigureFact, stated: Quantity, peak: number, kind: "power" | "torque"): Report {
  const at = { tree: build.subject.tree, span: fact.span };
  const shown = formatAgainst(peak, stated.interval.nominal, kind, stated.unit, stated.decimals);
  const meant = otherUnit(stated.interval.nominal, stated.unit, peak, kind);
  const [span] = stated.unitSpans;
  const fixes: Fix[] = meant && span && stated.unitSpans.length === 1 ? [{ title: `Write ${spellingOfUnit(meant)}`, safe: false, edits: [{ tree: at.tree, span, text: spellingOfUnit(meant) }] }] : [];
  return {
    message: `The rows of this pull come to ${shown.value}${stated.unit ? ` ${spellingOfUnit(stated.unit)}` : ""}, and ${textAt(at)} is stated as its ${kind}.${meant ? ` In ${spellingOfUnit(meant)} it would agree: look at the printout's units.` : " Copy the figures again, and see that both are corrected alike."}`,
    at, path: `pull.peak.${kind}`, fixes,
  };
}

/** The unit in which the same digits would agree: the other horsepower, kilowatts, or the other system's torque. */
function otherUnit(stated: number, unit: UnitId | undefined, peak: number, kind: "power" | "torque"): UnitId | undefined {
  const units: readonly UnitId[] = kind === "power" ? ["horsepower", "metric-horsepower", "kilowatt"] : ["newton-metre", "pound-foot", "kilogram-force-metre"];
  if (unit === undefined) return undefined;
  return units.find((other) => other !== unit && Math.abs((stated / UNITS[unit].factor) * UNITS[other].factor / peak - 1) <= ALLOWED);
}

/** The row that has both torque and power, where they lie furthest apart beyond their digits. */
function rowThatDisagrees(build: EffectiveBuild, pull: Pull): Report | undefined {
  const apart = pull.rows.flatMap((row) => {
    const [torque, power] = [row.cells.get("torque"), row.cells.get("power")];
    if (!torque?.quantity || !power?.quantity) return [];
    const [t, p] = [torque.quantity.interval.nominal, power.quantity.interval.nominal];
    if (!(t > 0) || !(p > 0)) return [];
    const slack = ALLOWED + torque.quantity.halfDigit / t + power.quantity.halfDigit / p;
    const off = p / (t * angularSpeed(row.rpm)) - 1;
    return Math.abs(off) > slack ? [{ row, torque, power, off }] : [];
  }).sort((a, b) => Math.abs(b.off) - Math.abs(a.off));
  const [worst] = apart;
  if (!worst?.torque.quantity || !worst.power.quantity) return undefined;
  const at = { tree: build.subject.tree, span: worst.power.span };
  const { unit, decimals } = worst.torque.quantity;
  const spelt = unit ? ` ${spellingOfUnit(unit)}` : "";
  const shown = formatAgainst(torqueFromPower({ power: worst.power.quantity.interval.nominal, rpm: worst.row.rpm }), worst.torque.quantity.interval.nominal, "torque", unit, decimals);
  return {
    message: `At ${Math.round(worst.row.rpm)} rpm this power takes ${shown.value}${spelt}, and ${shown.limit}${spelt} was read${apart.length > 1 ? `; ${apart.length} rows are so` : ""}. Look at the units of both columns, and at which horsepower is meant.`,
    at, path: "pull.peak.power", related: [{ message: "The torque stands here.", at: { tree: at.tree, span: worst.torque.span } }],
  };
}
