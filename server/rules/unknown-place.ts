// Readings at places that the engine has not: cylinder 5 of four, a valve row called `inlet`.
import type { MeasuredFact } from "../model/declaration.ts";
import { type EffectiveBuild, quantityAt } from "../model/effective.ts";
import { type Measurement, measurementOf } from "../schema/measurements.ts";
import { nearest } from "../schema/lookup.ts";
import type { BuildRule, Report } from "./rule.ts";
import { allOf } from "./wording.ts";

export const RULE: BuildRule = {
  id: "unknown-place",
  scope: "build",
  on: ["build"],
  severity: "error",
  page: {
    summary: "A table of readings has a row or a column for a place that the engine has not.",
    why: "A reading whose place is not understood is judged by nobody.",
    limit: "Rows of valves are named `intake` or `exhaust`, with a letter where a cylinder has several; columns are numbers of cylinders, bearings or bolts. Cylinders run from 1 to the engine's number, letters as far as its valves do.",
    source: "the definition of the language; the engine's own figures",
    remedy: "Name the row or column as the message says.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured chamber on 2027-03-01 {
    | cylinder (cc) |    1 |    2 |    5 |
    | chamber       | 44.6 | 44.5 | 44.7 |
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured chamber on 2027-03-01 {
    | cylinder (cc) |    1 |    2 |    4 |
    | chamber       | 44.6 | 44.5 | 44.7 |
  }
}
`,
  },
  check({ build, report }) {
    for (const fact of build.measured) {
      const measurement = measurementOf(fact.what.text);
      if (!measurement || !fact.table || fact.readings.length === 0) continue;
      for (const fault of [...headFaults(build, fact, measurement), ...rowFaults(build, fact, measurement)]) report(fault);
    }
  },
};

function headFaults(build: EffectiveBuild, fact: MeasuredFact, { forms }: Measurement): Report[] {
  const cylinders = quantityAt(build, "cylinders")?.quantity.interval.nominal;
  const counted = forms.includes("bearing") ? "bearing" : forms.includes("bolt") ? "bolt" : "cylinder";
  return (fact.table?.heads ?? []).slice(1).flatMap((head): Report[] => {
    const at = { tree: build.subject.tree, span: head.span };
    if (head.text === "") return [];
    if (!/^\d{1,4}$/.test(head.text) || Number(head.text) < 1) return [{ message: `\`${head.text}\` is no number of a ${counted}. Head the column with the number.`, at }];
    if (counted === "cylinder" && cylinders !== undefined && Number(head.text) > cylinders) return [{ message: `There is a column for cylinder ${head.text}, and the engine has ${cylinders}. Number the columns again.`, at }];
    return [];
  });
}

function rowFaults(build: EffectiveBuild, fact: MeasuredFact, { forms, rows }: Measurement): Report[] {
  const { tree } = build.subject;
  const seen = new Set<string>();
  return (fact.table?.rows ?? []).flatMap(({ cells }): Report[] => {
    const label = cells[0];
    if (!label || label.text === "" || seen.has(label.text)) return [];
    seen.add(label.text);
    const at = { tree, span: label.span };
    if (forms.includes("valve")) {
      const [, side, letter] = /^(\S+)(?:\s+(\S+))?$/.exec(label.text) ?? [];
      if (side !== "intake" && side !== "exhaust") {
        const meant = side === "inlet" ? "intake" : side === "outlet" ? "exhaust" : nearest(side ?? "", ["intake", "exhaust"])[0];
        const text = meant && `${meant}${letter === undefined ? "" : ` ${letter}`}`;
        return [{ message: `\`${label.text}\` is no valve that is known here. Rows are called intake or exhaust, with a letter where a cylinder has several: intake a.`, at, fixes: text === undefined ? [] : [{ title: `Write ${text}`, safe: false, edits: [{ tree, span: label.span, text }] }] }];
      }
      const valves = quantityAt(build, `valve-gear.${side}.per-cylinder`)?.quantity.interval.nominal;
      const last = valves !== undefined && valves >= 1 && valves <= 26 ? String.fromCharCode(96 + valves) : undefined;
      if (letter !== undefined && (!/^[a-z]$/.test(letter) || (last !== undefined && letter > last))) return [{ message: `There is a row for ${label.text}, and a cylinder has ${valves ?? "no such"} ${side} valve${valves === 1 ? "" : "s"}. Letter the rows from a.`, at }];
      return [];
    }
    return rows && !rows.includes(label.text) ? [{ message: `\`${label.text}\` is none of the places where this is measured: ${allOf([...rows])}.`, at, fixes: nearest(label.text, rows).map((text) => ({ title: `Write ${text}`, safe: false, edits: [{ tree, span: label.span, text }] })) }] : [];
  });
}
