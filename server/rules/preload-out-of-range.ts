// Hydraulic lifters pushed down too little or too far.
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, type Provided, asked, chosen, quantityAt } from "../model/effective.ts";
import { compareWithLimit, formatAgainst, formatBand, unitFor } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { bandOf, standing } from "./band.ts";
import { type Judged, asMeasured, judged } from "./judged.ts";
import { SIDES } from "./lash.ts";
import type { BuildRule } from "./rule.ts";
import { giver, quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "preload-out-of-range",
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "The preload of a hydraulic lifter, set or measured, is outside what its maker asks for, or past its whole travel.",
    why: "Too little and the lifter clatters; too much and it holds the valve off its seat as soon as oil pumps it up.",
    limit: "The range that the lifter's maker, or else the engine's, asks for, in length or in turns past zero. Turns of a stud rocker's nut push the lifter down by turns · pitch · (1 + 1/ratio). More than the lifter's whole travel is an error.",
    source: "the maker's own figure; lever geometry of a rocker on a stud",
    remedy: "Set it again from zero lash on the heel of the lobe; where nothing can be set, choose the pushrod for it.",
    bad: `
engine drover-338 {
  source: "shop manual"
  cylinders: 8
  valve-gear { adjuster: stud-nut; adjuster-thread: 3/8-24; intake { rocker-ratio: 1.50 } }
  lifter { type: hydraulic; preload: .020 .. .060 in; travel: .150 in }
}

build gritstone-1 on drover-338 {
  valve-gear { intake { preload-turns: 2 turn past zero } }
}
`,
    good: `
engine drover-338 {
  source: "shop manual"
  cylinders: 8
  valve-gear { adjuster: stud-nut; adjuster-thread: 3/8-24; intake { rocker-ratio: 1.50 } }
  lifter { type: hydraulic; preload: .020 .. .060 in; travel: .150 in }
}

build gritstone-1 on drover-338 {
  valve-gear { intake { preload-turns: 3/4 turn past zero } }
}
`,
  },
  check({ build, sheet, report }) {
    let told: Location | undefined;
    for (const side of SIDES) {
      const value = sheet.byId.get(`lifter.${side}.preload-after-changes`) ?? sheet.byId.get(`lifter.${side}.preload`);
      const own = setBy(build, side);
      const turns = turnsOut(build, side);
      if (turns) {
        report({ message: `The ${side} preload is set by ${written(turns.chosen)}, and ${giver(turns.asked)} asks for ${written(turns.asked)}. Set it again from zero lash.`, at: turns.chosen.location, path: `lifter.${side}.preload`, related: [{ message: "It is asked for here.", at: turns.asked.location }] });
        continue;
      }
      const source = askedFor(build, side);
      const quantity = quantityOf(source)?.quantity;
      const travel = quantityAt(build, `valve-gear.${side}.lifter-travel`)?.quantity ?? quantityAt(build, "lifter.travel")?.quantity;
      // What the maker asks for, untouched by anything, is not held against itself.
      const results = [judged(value, "least"), judged(value, "greatest")].filter((j): j is Judged => j !== undefined && (j.measured || own !== undefined || value?.id.endsWith("-changes") === true));
      const deep = results.find((j) => travel && compareWithLimit(j.interval.nominal, travel.interval.high) > 0);
      const out = deep ?? results.find((j) => quantity && quantity.shape !== "single" && outside(j.interval.nominal, quantity) !== 0);
      if (!out || (!deep && !quantity)) continue;
      const limit = (deep ? travel : quantity) as Quantity;
      const far = outside(out.interval.nominal, limit);
      const unit = limit.unit ?? unitFor("length", "metric", limit.interval.nominal);
      const end = deep || far > 0 ? limit.interval.high : limit.interval.low;
      const shown = formatAgainst(out.interval.nominal, end, "length", unit);
      const suffix = unit ? ` ${spellingOfUnit(unit)}` : "";
      const at = out.at ?? own?.location ?? { tree: build.subject.tree, span: build.subject.name?.span ?? build.subject.wordSpan };
      // One figure for both sides is one finding.
      if (told && told.tree === at.tree && told.span.start === at.span.start) continue;
      told = at;
      const turned = quantityOf(own)?.quantity.kind === "angle" ? quantityOf(own)?.quantity.interval.nominal : undefined;
      const perDegree = turned && !out.measured ? out.interval.nominal / turned : undefined;
      const inTurns = perDegree && !deep ? `, which is ${formatBand({ low: limit.interval.low / perDegree, nominal: limit.interval.high / perDegree, high: limit.interval.high / perDegree }, "angle", "turn", { decimals: 2 })} of this thread` : "";
      report({
        message: `The ${side} lifters${asMeasured(out)} are pushed down ${shown.value}${suffix}, ${deep ? `more than their whole travel of ${shown.limit}${suffix}` : `${far > 0 ? "more" : "less"} than the ${source ? written(source) : ""} that ${source ? giver(source) : "their maker"} asks for${inTurns}`}. Set them again from zero lash${value?.id.endsWith("-changes") ? ", or choose pushrods of another length" : ""}.`,
        at, path: `lifter.${side}.preload`, ...(deep && { severity: "error" as const }),
        ...(source && { related: [{ message: "It is asked for here.", at: source.location }] }),
      });
    }
  },
};

/** -1 below, 1 above, 0 within. */
function outside(x: number, { interval }: Quantity): -1 | 0 | 1 {
  return compareWithLimit(x, interval.low) < 0 ? -1 : compareWithLimit(x, interval.high) > 0 ? 1 : 0;
}

function paths(side: string, key: string): readonly string[] {
  return [`valve-gear.${side}.${key}`, `valve-gear.${key}`];
}

function askedFor(build: EffectiveBuild, side: string): Provided | undefined {
  return [...paths(side, "preload"), "lifter.preload"].map((p) => asked(build.slots.get(p))).find((p) => p !== undefined);
}

function setBy(build: EffectiveBuild, side: string): Provided | undefined {
  return [...paths(side, "preload"), ...paths(side, "preload-turns")].map((p) => chosen(build.slots.get(p))).find((p) => p !== undefined);
}

/** Turns chosen outside a range of turns that is asked for. */
function turnsOut(build: EffectiveBuild, side: string): { readonly asked: Provided; readonly chosen: Provided } | undefined {
  for (const path of paths(side, "preload-turns")) {
    const slot = build.slots.get(path);
    const [source, own] = [asked(slot), chosen(slot)];
    const [wanted, set] = [quantityOf(source)?.quantity, quantityOf(own)?.quantity];
    if (source && own && wanted && set && wanted.shape !== "single" && standing(set, bandOf(wanted)) !== 0) return { asked: source, chosen: own };
  }
  return undefined;
}
