// Part kind: valve lash shim, or a kit of them.
import { figure, figures } from "../row.ts";
import { partKind } from "../part.ts";
import { millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "shim",
  words: "The shims that set the lash.",
  sided: true,
  keys: [
    figure("thickness", "length", "2.60 mm", "Thickness of the shims fitted, where they are all alike.", { usual: millimetres(0.5, 10), lands: "valve-gear.{side}.shim", importance: "useful" }),
    figure("diameter", "length", "29.0 mm", "Diameter.", { usual: millimetres(4, 45) }),
    figures("sizes", "length", "2.40, 2.45, 2.50, 2.55 mm", "Thicknesses that can be had.", { usual: millimetres(0.5, 10), importance: "useful" }),
    figure("step", "length", "0.05 mm", "Step from one thickness to the next.", { usual: millimetres(0.01, 0.5) }),
  ],
  clears: ["valve-gear.*.shim"],
});
