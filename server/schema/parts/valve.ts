// Part kind: intake or exhaust valve.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { degrees, grams, millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "valve",
  words: "The valves.",
  sided: true,
  keys: [
    figure("diameter", "length", "34.5 mm", "Diameter of the valve head.", { usual: millimetres(10, 70), lands: "valve-gear.{side}.valve-diameter", importance: "useful" }),
    figure("stem-diameter", "length", "6.96 mm", "Diameter of the stem.", { usual: millimetres(3, 15), lands: "valve-gear.{side}.stem-diameter" }),
    figure("mass", "mass", "48 g", "Weight of one valve.", { usual: grams(5, 300), lands: "valve-gear.{side}.valve-mass", importance: "useful" }),
    figure("length", "length", "104.2 mm", "Whole length, tip to face.", { usual: millimetres(50, 200) }),
    figure("seat-angle", "angle", "45 deg", "Angle of the seating face.", { usual: degrees(20, 60), lands: "valve-gear.{side}.seat-angle", importance: "rare" }),
    choice("material", { steel: "Valve steel.", stainless: "Stainless steel.", "sodium-filled": "Hollow, part filled with sodium: never cut one open.", titanium: "Titanium alloy.", nickel: "Nickel alloy." }, "stainless", "What the valve is made of.", { importance: "rare" }),
  ],
  clears: ["valve.*", "valve-gear.*.valve-diameter", "valve-gear.*.valve-mass"],
  cautions: ["spring-energy"],
});
