// Part kind: flywheel.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { kilograms, millimetres, plain, rpm } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "flywheel",
  words: "The flywheel.",
  keys: [
    figure("mass", "mass", "5.4 kg", "Weight.", { usual: kilograms(0.3, 40), importance: "useful" }),
    figure("inertia", "inertia", "0.09 kg·m²", "Moment of inertia.", { usual: plain(0.0003, 3) }),
    figure("diameter", "length", "270 mm", "Outside diameter.", { usual: millimetres(80, 450) }),
    choice("material", { "cast-iron": "Cast iron.", steel: "Steel.", aluminium: "Aluminium with a steel face." }, "steel", "What it is made of.", { importance: "useful" }),
    figure("max-speed", "rotation", "8000 rpm", "Speed that its maker allows.", { usual: rpm(1500, 20000), importance: "essential" }),
  ],
  clears: ["flywheel.*"],
  cautions: ["burst-speed", "rotating"],
});
