// Part kind: oil, grease or paste.
import { choice, figure, mark, yesNo } from "../row.ts";
import { partKind } from "../part.ts";
import { plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "lubricant",
  words: "An oil, grease or paste.",
  several: true,
  keys: [
    mark("grade", "10W-40", "Its grade.", { importance: "useful" }),
    choice("for", { engine: "Engine oil.", "break-in": "Oil for running in.", assembly: "Paste for lobes and followers.", thread: "For threads and under heads.", gearbox: "Gear oil." }, "assembly", "What it is for.", { importance: "useful" }),
    yesNo("anti-wear", "Whether its maker states enough anti-wear additive for flat followers.", { importance: "useful" }),
    figure("friction", "ratio", "0.12", "Coefficient of friction that its maker states for threads.", { usual: plain(0.03, 0.35), importance: "rare" }),
  ],
});
