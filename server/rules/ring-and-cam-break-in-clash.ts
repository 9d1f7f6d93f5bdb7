// Rings that want load soon after the first start, beside a camshaft that must have none for its first minutes.
import { type EffectiveBuild, type FittedPart, fitted, wordAt } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import { recordsOf } from "./record.ts";
import { heldFor, stagesOf } from "../sheet/running-in.ts";
import type { BuildRule } from "./rule.ts";
import { called } from "./wording.ts";
import { spanOfFit } from "./placed.ts";

export const RULE: BuildRule = {
  id: "ring-and-cam-break-in-clash",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "New rings ask for load early, and a new camshaft for its first minutes without any: both at the same first start.",
    why: "Flat lobes and followers bed in at a steady speed with no load, and are gone if they idle or are loaded first. Rings that are run long without load glaze their bores and never seal. One first start cannot begin with both.",
    limit: "A camshaft whose `break-in` names a time, on flat faces or pads, and rings with `break-in: load-early`, both fitted and neither called used, before the engine has run.",
    source: "common practice, no source; the makers of either say so of their own part only",
    remedy: "The shaft goes first: a wiped lobe fills the engine with iron. Run its minutes in one go at the speed it asks for, never idling; change the oil, and load the rings at once after that, pull and overrun in turn. Lighter springs, or outer springs alone, ease the shaft's minutes. Or bed the shaft on the old rings before the engine is opened for new ones.",
    cautions: ["first-start", "exhaust-gas"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { follower: flat }
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  break-in: 1800 .. 2400 rpm for 20 min
}

part ring holmrook-83 "Holmrook 83 mm rings" for dunlin-18 {
  source: "leaflet in the box"
  break-in: load-early
}

build wren-hill-2 on dunlin-18 {
  interference: no
  fit ridgeway-272
  fit holmrook-83
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { follower: roller }
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  break-in: 1800 .. 2400 rpm for 20 min
}

part ring holmrook-83 "Holmrook 83 mm rings" for dunlin-18 {
  source: "leaflet in the box"
  break-in: load-early
}

build wren-hill-2 on dunlin-18 {
  interference: no
  fit ridgeway-272
  fit holmrook-83
}
`,
  },
  check({ build, report }) {
    if (recordsOf(build, "run").length > 0) return;
    const shaft = fitted(build, "camshaft").find((part) => !isUsed(part) && minutesOf(part) !== undefined && rubs(build, part));
    const ring = fitted(build, "ring").find((part) => !isUsed(part) && wordOf(part, "break-in") === "load-early");
    if (!shaft || !ring) return;
    const spanOf = (part: FittedPart) => ({ tree: build.subject.tree, span: spanOfFit(part.fit) });
    report({
      message: `${called(ring.declaration)} asks for load early, and ${called(shaft.declaration)} for ${formatValue(minutesOf(shaft) ?? 0, "time", "minute")} without load first. Give the shaft its time in one go, then load the rings at once.`,
      at: spanOf(ring), path: "ring.break-in", related: [{ message: "The shaft is fitted here.", at: spanOf(shaft) }],
    });
  },
};

function isUsed(part: FittedPart): boolean {
  const value = part.fit.figures.find((f) => f.key.key === "condition")?.value;
  return value?.is === "word" && value.word === "used";
}

/** The time that a shaft's break-in names, s. */
function minutesOf(part: FittedPart): number | undefined {
  const value = part.declaration.figures.find((f) => f.key.key === "break-in")?.value;
  const times = stagesOf(value).flatMap((stage) => heldFor(stage) ?? []);
  return times.length > 0 ? times.reduce((sum, time) => sum + time, 0) : undefined;
}

function wordOf(part: FittedPart, key: string): string | undefined {
  const value = part.declaration.figures.find((f) => f.key.key === key)?.value;
  return value?.is === "word" ? value.word : undefined;
}

/** True where flat faces or pads run on the shaft: rollers need no such minutes. */
function rubs(build: EffectiveBuild, shaft: FittedPart): boolean {
  const follower = wordOf(shaft, "follower") ?? wordAt(build, "valve-gear.follower");
  return follower === "flat" || follower === "pad";
}
