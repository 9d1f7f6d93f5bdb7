// Followers that have run before under lobes that have not.
import { type EffectiveBuild, type FittedPart, fitted, wordAt } from "../model/effective.ts";
import type { BuildRule } from "./rule.ts";
import { called } from "./wording.ts";
import { capital } from "../quantity/spoken.ts";
import { spanOfFit } from "./placed.ts";

export const RULE: BuildRule = {
  id: "used-follower-on-new-cam",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A new or reground shaft runs on followers or pads that have run before.",
    why: "Flat faces and pads wear to their own lobe. On another lobe an old face touches at its edge, and the lobe is gone within the first hour.",
    limit: "A shaft that the fit calls new or reconditioned, whose lobes a flat face or a pad rubs on, with followers, lifters or rockers that the fit calls used, or with none fitted at all. Rollers are not meant.",
    source: "common practice, no source; every maker of flat-faced shafts says so",
    remedy: "Fit new followers, or have pads ground afresh, and say so at the fit: condition: new.",
    cautions: ["timing-drive"],
    bad: `
engine drover-338 {
  source: "shop manual"
  cylinders: 8
}

part camshaft coldbeck-214 "Coldbeck 214" for drover-338 { source: "card in the tube"; follower: flat }
part lifter old-lifters "the old tappets" for drover-338 { source: "this engine"; type: hydraulic; follower: flat }

build gritstone-1 on drover-338 {
  interference: no
  fit coldbeck-214 { condition: new }
  fit old-lifters { condition: used }
}
`,
    good: `
engine drover-338 {
  source: "shop manual"
  cylinders: 8
}

part camshaft coldbeck-214 "Coldbeck 214" for drover-338 { source: "card in the tube"; follower: flat }
part lifter coldbeck-842 "Coldbeck lifter" for drover-338 { source: "box label"; type: hydraulic; follower: flat }

build gritstone-1 on drover-338 {
  interference: no
  fit coldbeck-214 { condition: new }
  fit coldbeck-842 { condition: new }
}
`,
  },
  check({ build, report }) {
    for (const shaft of fitted(build, "camshaft")) {
      const shaftIs = conditionOf(shaft);
      const rubs = followerOf(build, shaft);
      if (rubs === undefined || shaftIs === "used") continue;
      const theirs = ["follower", "lifter", "rocker"].flatMap((kind) => fitted(build, kind)).filter((p) => p.side === undefined || shaft.side === undefined || p.side === shaft.side);
      const old = theirs.find((p) => conditionOf(p) === "used");
      const span = (p: FittedPart) => spanOfFit(p.fit);
      const face = rubs === "flat" ? "flat faces" : "pads";
      if (old) {
        report({
          message: `${capital(called(old.declaration))} has run before and goes under ${called(shaft.declaration)}, whose lobes rub on ${face}. Fit new ones, or have them ground afresh.`,
          at: { tree: build.subject.tree, span: span(old) }, related: [{ message: "The shaft is fitted here.", at: { tree: build.subject.tree, span: span(shaft) } }],
        });
        return;
      }
      // Where the builder says what is new, and no follower is said to be: the engine's own are still in.
      if (theirs.length > 0 || shaftIs === undefined) continue;
      report({
        message: `${capital(called(shaft.declaration))} goes in ${shaftIs}, its lobes rub on ${face}, and no followers are fitted with it: the engine's own have run on other lobes. Fit new ones and say so.`,
        at: { tree: build.subject.tree, span: span(shaft) },
      });
      return;
    }
  },
};

function conditionOf(part: FittedPart): string | undefined {
  const value = part.fit.figures.find((f) => f.key.key === "condition")?.value;
  return value?.is === "word" ? value.word : undefined;
}

/** What rubs on the shaft's lobes; nothing for rollers, or where nobody says. */
function followerOf(build: EffectiveBuild, shaft: FittedPart): "flat" | "pad" | undefined {
  const own = shaft.declaration.figures.find((f) => f.key.key === "follower")?.value;
  const word = own?.is === "word" ? own.word : wordAt(build, "valve-gear.follower");
  return word === "flat" || word === "pad" ? word : undefined;
}
