// Part kind: charge cooler.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { kilopascals, percent, shareOf } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "cooler",
  words: "A cooler for the charge.",
  keys: [
    choice("type", { "air-to-air": "Cooled by the wind.", "air-to-water": "Cooled by water." }, "air-to-air", "What carries the heat away.", { importance: "useful" }),
    figure("effectiveness", "fraction", "70 %", "Share of the heat over the cooling air's temperature that it takes out.", { usual: percent(20, 98), importance: "essential", tune: true }),
    figure("pressure-drop", "pressure", "5 kPa", "Pressure lost through it.", { usual: kilopascals(0, 50), usualPer: [shareOf("boost.target", "the boost", 0, 0.9, "no cooler eats the boost that is pressed through it")], lands: "boost.cooler-drop", importance: "useful" }),
  ],
  clears: ["cooler.*", "boost.cooler-drop"],
});
