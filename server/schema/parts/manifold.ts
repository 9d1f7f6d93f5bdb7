// Part kind: intake manifold.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { cubicCentimetres, millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "manifold",
  words: "The intake manifold.",
  keys: [
    figure("runner-length", "length", "280 mm", "Length from plenum or carburettor to valve.", { usual: millimetres(20, 1200), tune: true }),
    figure("runner-diameter", "length", "38 mm", "Inside diameter of a runner.", { usual: millimetres(8, 100), tune: true }),
    figure("plenum", "volume", "2.0 L", "Volume of the plenum.", { usual: cubicCentimetres(50, 20000), importance: "rare", tune: true }),
    figure("throttle", "length", "60 mm", "Bore of the throttle.", { usual: millimetres(10, 150), tune: true }),
  ],
});
