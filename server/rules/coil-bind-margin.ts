// How near the valve springs come to going solid.
import { leastCoilBindMargin } from "../engineering/valve-spring.ts";
import { type EffectiveBuild, effective, fitted } from "../model/effective.ts";
import { compareWithLimit, formatAgainst, unitFor } from "../quantity/display.ts";
import { readValue } from "../quantity/value.ts";
import { type UnitId, spellingOfUnit } from "../../grammar/vocabulary.ts";
import { amount } from "./amount.ts";
import { type Judged, asMeasured, judged } from "./judged.ts";
import { type Limit, limitOf } from "./limit.ts";
import type { Location } from "../model/declaration.ts";
import type { Related } from "./finding.ts";
import type { BuildRule } from "./rule.ts";
import { SIDES } from "./lash.ts";
import { called, textAt } from "./wording.ts";
import { spanOfFit } from "./placed.ts";

/** Parts that change how far a spring is pressed or how far it can be. */
const MOVED_BY = ["camshaft", "valve-spring", "rocker", "retainer", "head", "valve"] as const;
/** Those of them after which the margin of a healthy engine may be gone. */
const CRITICAL = ["camshaft", "valve-spring", "rocker"] as const;

export const RULE: BuildRule = {
  id: "coil-bind-margin",
  scope: "build",
  on: ["engine", "build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "The valve springs go solid at full lift, or come nearer to it than the limit.",
    why: "A spring that goes solid stops the valve gear dead: the pushrod, the rocker, the cam or its drive gives way.",
    limit: "The margin is the spring's height with the valve shut, less the lift at zero lash, less its solid height; of a pair the worse of the two. No margin at all is an error. Else the limit is, in this order: what a fitted part asks for (`needs … where coil-bind-margin`, or its `limits`), the engine's, the shop's; and last 0.060 in (1.5 mm) in total, which is common practice and warns only. What was measured is judged, the worst place first. The maker's own springs under the maker's own shaft are reported where they are solid only, or where a limit is set.",
    source: "geometry; the last limit is common practice: 0.050 to 0.060 in in total, no source",
    remedy: "Fit springs that can be pressed further, or a shaft with less lift. Measure the heights before you trust the card's.",
    cautions: ["spring-energy"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear {
    intake { per-cylinder: 1; rocker-ratio: 1.50 }
    valve-spring { seat-height: 38.0 mm; solid-height: 27.4 mm }
  }
  camshaft { intake { lobe-lift: 7.10 mm } }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear {
    intake { per-cylinder: 1; rocker-ratio: 1.50 }
    valve-spring { seat-height: 38.0 mm; solid-height: 25.0 mm }
  }
  camshaft { intake { lobe-lift: 7.10 mm } }
}
`,
  },
  check({ build, sheet, report, unchecked }) {
    const changed = build.parts.some((p) => MOVED_BY.some((k) => k === p.kindId));
    // An engine's own margin is the engine's finding, not that of every build on it.
    if (build.subject.sort === "build" && !changed && !build.subject.figures.some((f) => f.path.startsWith("valve-gear.") || f.path.startsWith("camshaft."))) return;
    const found: Near[] = [];
    for (const side of SIDES) {
      const value = sheet.byId.get(`coil-bind-margin.${side}`);
      if (!value) continue;
      if (!value.interval && !judged(value, "least")) {
        if (build.parts.some((p) => CRITICAL.some((k) => k === p.kindId)) && value.missing.length > 0) unchecked(`coil-bind margin of the ${side} springs`, value.missing);
        continue;
      }
      const least = judged(value, "least") as Judged;
      const { interval } = least;
      // The maker's own springs under the maker's own shaft are his to answer for, unless they are solid.
      const stock = !least.measured && value.provided.every((p) => p.origin.sort === "engine");
      const limit = leastMargin(build, side);
      const coil = COILS.map((c) => ({ ...c, margin: judged(sheet.byId.get(`coil-bind-margin.${side}.${c.id}`), "least")?.interval, solid: sheet.byId.get(`spring.solid-height.${side}.${c.id}`)?.interval }))
        .filter((c) => c.margin && compareWithLimit(c.margin.nominal, interval.nominal) === 0)[0];
      const spring = `The ${coil?.words ?? ""}${side} spring${asMeasured(least)}`;
      const unit = writtenUnit(build, side) ?? unitFor("length", "metric", interval.nominal);
      const inUnit = unit ? ` ${spellingOfUnit(unit)}` : "";
      const at = placeFor(build, side);
      const path = `coil-bind-margin.${side}`;
      const related = [...(least.at ? [{ message: "It was measured here.", at: least.at }] : []), ...value.from.filter((l) => l.tree !== at.tree || l.span !== at.span).slice(0, 6).map((l) => ({ message: "A figure it rests on.", at: l })), ...(limit.at ? [{ message: "The limit stands here.", at: limit.at }] : [])];
      if (compareWithLimit(interval.nominal, 0) <= 0) {
        const solid = coil?.solid?.nominal;
        const heights = solid === undefined ? undefined : formatAgainst(solid + interval.nominal, solid, "length", unit);
        const how = heights ? `stands at ${heights.value}${inUnit} at full lift and is solid at ${heights.limit}${inUnit}` : "is solid before full lift";
        found.push({ message: `${spring} ${how}; ${limit.words} must be left.`, too: `The ${side} one ${how.replace(" at full lift", "")}.`, margin: interval.nominal, unit, at, path, related, severity: compareWithLimit(interval.high, 0) <= 0 ? "error" : "warning" });
        continue;
      }
      // Where a part asks for other springs and none are fitted, that is the cause; how thin the old ones are follows from it.
      if (compareWithLimit(interval.nominal, limit.value) >= 0 || (stock && !limit.owned) || (limit.ofNeed && fitted(build, "valve-spring").length === 0)) continue;
      const shown = formatAgainst(interval.nominal, limit.value, "length", unit);
      found.push({
        message: `${spring} has ${shown.value}${inUnit} left at full lift before it is solid, less than ${limit.words}.`, too: `The ${side} one has ${shown.value}${inUnit} left.`, margin: interval.nominal, unit,
        at, path, related, severity: limit.owned && compareWithLimit(interval.high, limit.value) < 0 ? "error" : "warning",
      });
    }
    // Springs and shaft are one cause, whichever sides they are too near on: told once, by the worse.
    const [worse, other] = found.sort((a, b) => a.margin - b.margin);
    const together = worse && other && worse.at.tree === other.at.tree && worse.at.span.start === other.at.span.start;
    for (const near of together ? [worse] : found) {
      const { message, at, path, related, severity } = near;
      report({ message: `${message}${together ? ` ${other.too}` : ""} Fit springs that can be pressed further, or a shaft with less lift.`, at, path: together ? "coil-bind-margin" : path, ...amount("less", near.margin, "length", near.unit), related, severity });
    }
  },
};

interface Near {
  readonly message: string;
  /** The same, said after the other side's. */
  readonly too: string;
  readonly margin: number;
  readonly unit: UnitId | undefined;
  readonly at: Location;
  readonly path: string;
  readonly related: readonly Related[];
  readonly severity: "error" | "warning";
}

const COILS = [{ id: "inner", words: "inner " }, { id: "outer", words: "outer " }, { id: "coil", words: "" }] as const;

/** The unit that the builder or the card gives the spring's heights in. */
function writtenUnit(build: EffectiveBuild, side: string): UnitId | undefined {
  for (const step of [`${side}.`, "", `${side}.outer.`, "outer.", `${side}.inner.`, "inner."])
    for (const key of ["solid-height", "seat-height"]) {
      const value = effective(build.slots.get(`valve-gear.valve-spring.${step}${key}`))?.fact.value;
      if (value?.is === "quantity" && value.quantity.unit) return value.quantity.unit;
    }
  return undefined;
}

/** What a fitted part asks of the margin, else a limit in the usual order. */
function leastMargin(build: EffectiveBuild, side: string): Limit & { readonly ofNeed?: true } {
  let worst: (Limit & { readonly ofNeed: true }) | undefined;
  for (const part of build.parts)
    for (const need of part.declaration.needs)
      for (const condition of need.where) {
        if ((condition.path.text !== "coil-bind-margin" && condition.path.text !== `coil-bind-margin.${side}`) || !condition.operand || (condition.op !== ">=" && condition.op !== ">")) continue;
        const { quantity } = readValue(condition.operand, "length");
        if (!quantity || (worst && worst.value >= quantity.interval.nominal)) continue;
        const at = { tree: part.declaration.tree, span: condition.span };
        worst = { value: quantity.interval.nominal, words: `the ${textAt(at).replace(/^\S+\s*>=?\s*/, "")} that ${called(part.declaration)} asks for`, owned: true, quantity, at, ofNeed: true };
      }
  return worst ?? (limitOf(build, "coil-bind-margin", "least", "length", leastCoilBindMargin, writtenUnit(build, side)) as Limit);
}

/** The fit that brought it about, else the spring's figures. */
function placeFor(build: EffectiveBuild, side: string): { tree: typeof build.subject.tree; span: typeof build.subject.span } {
  const { subject } = build;
  for (const kind of ["valve-spring", "camshaft", "rocker"]) {
    const part = fitted(build, kind).find((p) => p.side === undefined || p.side === side);
    if (part) return { tree: subject.tree, span: spanOfFit(part.fit) };
  }
  for (const path of [`valve-gear.valve-spring.${side}.solid-height`, "valve-gear.valve-spring.solid-height"]) {
    const given = effective(build.slots.get(path));
    if (given && given.location.tree === subject.tree) return given.location;
  }
  return { tree: subject.tree, span: subject.name?.span ?? subject.wordSpan };
}
