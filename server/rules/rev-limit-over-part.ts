// A redline or rev limit past what the maker of a fitted part allows.
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { compareWithLimit } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { amountOf } from "./amount.ts";
import { recordsOf } from "./record.ts";
import { TURNS_WITH_THE_CRANK } from "./rotating-parts-over-limit.ts";
import type { BuildRule } from "./rule.ts";
import { called, quantityOf, textAt } from "./wording.ts";

/** Their own speed is not the engine's. */
const SPIN_BY_THEMSELVES: ReadonlySet<string> = new Set(["blower", "turbo"]);

export const RULE: BuildRule = {
  id: "rev-limit-over-part",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The redline or the tune's rev limit lies past the speed that a fitted part's maker allows.",
    why: "The maker knows where the part lets go. A limit set past it is none.",
    limit: "The part's own `max-speed` (a flywheel's, a clutch's and a pulley's is judged by `rotating-parts-over-limit`), or its `limits { speed }`, against the build's redline and every tune's `rev-limit`.",
    source: "the part maker's own figure",
    remedy: "Lower the limit, or fit a part that bears the speed.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

part piston holmrook "Holmrook cast piston" for dunlin-18 {
  source: "box"
  limits { speed: 7000 rpm }
}

build wren-hill-2 on dunlin-18 {
  interference: no
  redline: 7300 rpm
  fit holmrook
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

part piston holmrook "Holmrook cast piston" for dunlin-18 {
  source: "box"
  limits { speed: 7500 rpm }
}

build wren-hill-2 on dunlin-18 {
  interference: no
  redline: 7300 rpm
  fit holmrook
}
`,
  },
  check({ build, report }) {
    const limits = limitsOf(build);
    for (const part of build.parts) {
      // What turns with the crank and bursts has a rule of its own.
      if (SPIN_BY_THEMSELVES.has(part.kindId) || TURNS_WITH_THE_CRANK.has(part.kindId)) continue;
      const allowed = part.declaration.figures.flatMap((f) => ((f.key.key === "max-speed" || f.path === "limits.speed") && f.value.is === "quantity" ? [{ fact: f, quantity: f.value.quantity }] : [])).sort((a, b) => a.quantity.interval.high - b.quantity.interval.high)[0];
      if (!allowed) continue;
      const over = limits.find((l) => compareWithLimit(l.quantity.interval.nominal, allowed.quantity.interval.high) > 0);
      if (!over) continue;
      const at = { tree: part.declaration.tree, span: allowed.fact.span };
      report({
        message: `${over.words} is ${textAt(over.at)}, and ${called(part.declaration)} is allowed ${textAt(at)} by its maker. Lower it, or fit a part that bears the speed.`,
        at: over.at, path: "redline", ...amountOf("more", over.quantity), related: [{ message: "Its maker's figure stands here.", at }],
      });
    }
  },
};

function limitsOf(build: EffectiveBuild): readonly { readonly words: string; readonly quantity: Quantity; readonly at: Location }[] {
  const redline = effective(build.slots.get("redline"));
  const quantity = quantityOf(redline)?.quantity;
  const tunes = recordsOf(build, "tune").flatMap((tune) => tune.figures.flatMap((f) => (f.key.key === "rev-limit" && f.value.is === "quantity" ? [{ words: "The tune's rev limit", quantity: f.value.quantity, at: { tree: build.subject.tree, span: f.span } }] : [])));
  return [...(redline && quantity ? [{ words: "The redline", quantity, at: redline.location }] : []), ...tunes];
}
