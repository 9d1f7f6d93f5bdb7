// Part kind: gearbox.
import { figure, figures } from "../row.ts";
import { partKind } from "../part.ts";
import { newtonMetres, plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "gearbox",
  words: "The gearbox.",
  keys: [
    figures("ratios", "ratio", "3.58, 2.02, 1.35, 1.00, 0.81", "Ratios of its gears, first gear first.", { usual: plain(0.3, 8), importance: "essential" }),
    figure("reverse", "ratio", "3.42", "Ratio of reverse.", { usual: plain(0.5, 8), importance: "rare" }),
    figure("primary", "ratio", "1.0", "Reduction between crank and gearbox, as on most motorcycles.", { usual: plain(0.5, 5), importance: "rare" }),
    figure("max-torque", "torque", "180 N·m", "Torque that its maker allows.", { usual: newtonMetres(3, 2000) }),
  ],
  clears: ["gearbox.*"],
});
