// How near an intake and an exhaust valve come that face each other.
import { effective, fitted, wordAt } from "../model/effective.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { amount } from "./amount.ts";
import { judged } from "./judged.ts";
import { SIDES } from "./lash.ts";
import { limitOf } from "./limit.ts";
import { broughtNearer } from "./piston-valve.ts";
import { fitPlace } from "./placed.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf } from "./wording.ts";

export const RULE: BuildRule = {
  id: "valve-to-valve",
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "An intake and an exhaust valve that face each other touch, or come nearer than the limit.",
    why: "Two shafts moved toward each other open both valves into the same room. They meet long before either meets the piston.",
    limit: "What a part, the engine or the shop sets as `limits { valve-to-valve }`. Without one only valves that touch are reported. The measured gap is judged; where none was measured, the computed one, which is an estimate. Two shafts with more lift or moved gears and no gap known are listed as not checked.",
    source: "the source's own figure; no limit of common practice is known",
    remedy: "Move the gears apart, sink the valves, or fit smaller ones. Measure again with checking springs.",
    cautions: ["timing-drive"],
    bad: `
engine whimbrel-20 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { layout: dohc }
  limits { valve-to-valve: 1.5 mm }
}

build long-reach-1 on whimbrel-20 {
  measured valve-to-valve on 2027-02-21 { reading: 1.1 mm; method: checking-springs }
}
`,
    good: `
engine whimbrel-20 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { layout: dohc }
  limits { valve-to-valve: 1.5 mm }
}

build long-reach-1 on whimbrel-20 {
  measured valve-to-valve on 2027-02-21 { reading: 2.1 mm; method: checking-springs }
}
`,
  },
  check({ build, sheet, report, unchecked }) {
    const value = sheet.byId.get("valve-to-valve.clearance");
    const found = judged(value, "least");
    if (!found) {
      const shafts = fitted(build, "camshaft").length > 0 || (["cam-gear.intake.set", "cam-gear.exhaust.set"].some((path) => (quantityOf(effective(build.slots.get(path)))?.quantity.interval.nominal ?? 0) !== 0));
      if (wordAt(build, "valve-gear.layout") === "dohc" && shafts && SIDES.some((side) => broughtNearer(build, side))) unchecked("gap between intake and exhaust valves", [{ path: "measured valve-to-valve", words: "measured valve-to-valve" }]);
      return;
    }
    const limit = limitOf(build, "valve-to-valve", "least", "length");
    const touch = compareWithLimit(found.interval.nominal, 0) <= 0;
    if (!touch && (!limit || compareWithLimit(found.interval.nominal, limit.value) >= 0)) return;
    const unit = limit?.quantity?.unit ?? "millimetre";
    const shown = formatAgainst(found.interval.nominal, limit?.value ?? 0, "length", unit);
    report({
      message: `Intake and exhaust valve ${touch ? "touch" : `come within ${shown.value} ${spellingOfUnit(unit)} of each other`}${found.measured ? ", as measured" : " by the figures"}${limit ? `, and ${limit.words} must be left` : ""}. Move the gears apart before the engine is turned.`,
      at: found.at ?? fitPlace(build, ["cam-gear", "camshaft"]), path: "valve-to-valve.clearance", ...amount("less", found.interval.nominal, "length", unit),
      severity: found.measured && (touch || (limit?.owned && compareWithLimit(found.interval.high, limit.value) < 0)) ? "error" : "warning", ...(limit?.at && { related: [{ message: "The limit stands here.", at: limit.at }] }),
    });
  },
};
