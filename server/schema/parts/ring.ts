// Part kind: set of piston rings.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { RING_GAPS } from "../engine/bottom-end.ts";
import { millimetres, plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

const LANDING = "bottom-end.rings.";

export const KIND: PartKind = partKind({
  id: "ring",
  words: "The piston rings.",
  keys: [
    ...RING_GAPS.map((row) => ({ ...row, lands: LANDING + row.key })),
    figure("top-gap-factor", "ratio", "0.0045", "Top gap for one unit of bore, as its maker's table gives it for this use.", { usual: plain(0.002, 0.012), importance: "useful" }),
    figure("second-gap-factor", "ratio", "0.0050", "Second gap for one unit of bore.", { usual: plain(0.002, 0.014), importance: "useful" }),
    figure("for-bore", "length", "83.50 mm", "The bore it is made for.", { usual: millimetres(30, 150) }),
    figure("top-width", "length", "1.2 mm", "Height of the top ring.", { usual: millimetres(0.5, 5), importance: "rare" }),
    choice("facing", { plain: "Plain cast iron.", chrome: "Chrome faced.", moly: "Molybdenum faced.", steel: "Steel, nitrided or plain." }, "moly", "Face of the top ring.", { importance: "rare" }),
    choice("break-in", { "load-early": "Its maker asks for load soon after the first start.", gentle: "Its maker asks for gentle running at first." }, "load-early", "How its maker wants it bedded: this can clash with a flat-tappet camshaft's first twenty minutes.", { importance: "useful" }),
  ],
  clears: ["ring.*", "bottom-end.rings.*"],
});
