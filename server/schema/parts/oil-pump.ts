// Part kind: oil pump.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { bars, millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "oil-pump",
  words: "The oil pump.",
  keys: [
    figure("tip-clearance", "length", "0.05 .. 0.15 mm", "Clearance asked for between the rotors' tips.", { usual: millimetres(0.01, 0.5), importance: "useful" }),
    figure("outer-clearance", "length", "0.10 .. 0.20 mm", "Clearance asked for between outer rotor or gear and body.", { usual: millimetres(0.01, 0.6), importance: "useful" }),
    figure("side-clearance", "length", "0.03 .. 0.08 mm", "Clearance asked for between rotors and cover.", { usual: millimetres(0.005, 0.4), importance: "useful" }),
    figure("relief", "pressure", "4.5 bar", "Pressure at which its relief valve opens, as the gauge reads.", { usual: bars(0.5, 12), importance: "useful" }),
  ],
  clears: ["oil-pump.*"],
});
