// How near the flat of a piston comes to the head.
import { usualSquishClearance } from "../engineering/fits.ts";
import { type EffectiveBuild, effective, fitted } from "../model/effective.ts";
import type { Location } from "../model/declaration.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { amount } from "./amount.ts";
import { asMeasured, judged } from "./judged.ts";
import { limitOf } from "./limit.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf } from "./wording.ts";
import { spanOfFit } from "./placed.ts";

const HEIGHTS = ["combustion.deck", "combustion.gasket-thickness"] as const;

export const RULE: BuildRule = {
  id: "squish-tight",
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "The flat of the piston comes nearer to the head at top dead centre than it may.",
    why: "Rods stretch and pistons rock: parts that just clear on the bench knock together at speed.",
    limit: "What the piston's maker, the engine or the shop sets as `limits { squish }`; else 0.035 in (0.89 mm) with steel rods, which is common practice and warns only. Deck and crushed gasket as measured where they were, the worst cylinder first. No room at all is an error. The maker's own heights are his to answer for.",
    source: "sum of the parts; common practice, no source, where nobody sets a limit",
    remedy: "Fit a thicker gasket, or have the crowns or the block put right.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  combustion { gasket-thickness: 0.80 mm crushed; deck: 0.15 mm below }
}

build wren-hill-2 on dunlin-18 {
  combustion { deck: 0.10 mm above }
  measured piston-valve on 2027-03-15 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  combustion { gasket-thickness: 0.80 mm crushed; deck: 0.15 mm below }
}

build wren-hill-2 on dunlin-18 {
  measured deck below on 2027-03-14 { reading: 0.14 mm }
}
`,
  },
  check({ build, sheet, report }) {
    const value = sheet.byId.get("squish-clearance");
    const found = judged(value, "least");
    if (!value || !found) return;
    const stock = !found.measured && value.provided.every((p) => p.origin.sort === "engine");
    const written = HEIGHTS.map((path) => quantityOf(effective(build.slots.get(path)))?.quantity.unit).find((u) => u !== undefined);
    const limit = limitOf(build, "squish", "least", "length", { value: usualSquishClearance.low, provenance: usualSquishClearance.provenance, source: usualSquishClearance.source }, written);
    const touch = compareWithLimit(found.interval.nominal, 0) <= 0;
    if (!limit || (!touch && compareWithLimit(found.interval.nominal, limit.value) >= 0) || (stock && !limit.owned)) return;
    // A stock engine as it is measured may be what its maker meant; what was never changed is told against a limit that somebody set.
    if (!limit.owned && !touch && !changed(build)) return;
    const unit = written ?? "millimetre";
    const shown = formatAgainst(found.interval.nominal, limit.value, "length", unit);
    report({
      message: `Piston and head${asMeasured(found)} ${touch ? "meet at top dead centre" : `come within ${shown.value} ${spellingOfUnit(unit)} of each other`}, and ${limit.words} must be left. Fit a thicker gasket, or have the heights put right.`,
      at: found.at ?? placeFor(build), path: "squish-clearance", ...amount("less", found.interval.nominal, "length", unit),
      severity: (touch && compareWithLimit(found.interval.high, 0) <= 0) || (limit.owned && compareWithLimit(found.interval.high, limit.value) < 0) ? "error" : "warning",
      ...(limit.at && { related: [{ message: "The limit stands here.", at: limit.at }] }),
    });
  },
};

const CHANGES = ["piston", "gasket", "rod", "crankshaft", "block", "head"] as const;

function changed(build: EffectiveBuild): boolean {
  return CHANGES.some((kind) => fitted(build, kind).length > 0) || [...HEIGHTS, "combustion.block-skim", "stroke", "rod-length"].some((path) => {
    const given = effective(build.slots.get(path));
    return given !== undefined && given.origin.sort !== "engine";
  });
}

function placeFor(build: EffectiveBuild): Location {
  const { subject } = build;
  const own = HEIGHTS.map((path) => effective(build.slots.get(path))).find((p) => p?.location.tree === subject.tree);
  if (own) return own.location;
  const part = CHANGES.flatMap((kind) => fitted(build, kind))[0];
  return { tree: subject.tree, span: (part && spanOfFit(part.fit)) ?? subject.name?.span ?? subject.wordSpan };
}
