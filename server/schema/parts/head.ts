// Part kind: cylinder head, bare or complete.
import { choice, eachSide, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { MATERIALS } from "../engine/combustion.ts";
import { cubicCentimetres, degrees, kilopascals, millimetres, plain, squareCentimetres } from "../spans.ts";
import type { BlockSchema, PartKind } from "../types.ts";

const FLOW: BlockSchema = {
  id: "flow",
  words: "Air through the ports on the flow bench.",
  keys: [figure("depression", "pressure", "28 inHg", "Pressure difference it was flowed at; benches that read inches of water need converting.", { usual: kilopascals(0.5, 100) })],
  table: {
    words: "Valve lift and the air that passes.",
    form: "columns",
    columns: [
      figure("lift", "length", "10.0 mm", "Valve lift.", { usual: millimetres(0, 25), required: true }),
      figure("intake", "volume-flow", "142 cfm", "Flow through the intake port.", { usual: plain(0, 0.5) }),
      figure("exhaust", "volume-flow", "108 cfm", "Flow through the exhaust port.", { usual: plain(0, 0.5) }),
    ],
    example: "| lift (mm) | intake (cfm) | exhaust (cfm) |",
  },
};

export const KIND: PartKind = partKind({
  id: "head",
  words: "The cylinder head.",
  keys: [
    figure("chamber", "volume", "42.8 cc", "Volume of one chamber, plug and valves in place.", { usual: cubicCentimetres(2, 200), lands: "combustion.chamber", importance: "essential" }),
    figure("skim", "length", "0.60 mm", "How much has been cut off its face since new.", { usual: millimetres(0, 4), lands: "combustion.skim", importance: "useful" }),
    figure("chamber-area", "area", "48 cm²", "Area of the chamber at the face.", { usual: squareCentimetres(5, 200), lands: "combustion.chamber-area" }),
    figure("height", "length", "131.0 mm", "From face to cam cover joint.", { usual: millimetres(30, 400) }),
    figure("spring-seat-height", "length", "38.0 mm", "Height of the valve springs with the valves shut, as this head is cut.", { usual: millimetres(10, 80), lands: "valve-gear.valve-spring.seat-height", importance: "useful" }),
    choice("material", MATERIALS, "aluminium", "What it is cast of.", { lands: "combustion.head-material", importance: "useful" }),
  ],
  blocks: {
    flow: FLOW,
    ...eachSide((side) => ({
      id: side,
      words: `The ${side} side of this head.`,
      base: `valve-gear.${side}`,
      keys: [
        figure("per-cylinder", "count", "2", "Valves of this side in one cylinder.", { usual: plain(1, 4), importance: "useful" }),
        figure("valve-diameter", "length", "34.5 mm", "Diameter of the valve head.", { usual: millimetres(10, 70), importance: "useful" }),
        figure("valve-angle", "angle", "18 deg", "Angle between stem and cylinder axis.", { usual: degrees(0, 50) }),
        figure("valve-recess", "length", "1.2 mm", "How far the shut valve sits up from the face.", { usual: millimetres(-5, 20) }),
        figure("retainer-to-guide", "length", "12.6 mm", "Gap between retainer and guide or seal, valve shut.", { usual: millimetres(3, 35) }),
        figure("stem-height", "length", "42.5 mm", "From spring seat to stem tip, valve shut.", { usual: millimetres(20, 90), importance: "rare" }),
      ],
    })),
  },
  clears: ["head.*", "combustion.chamber", "combustion.skim", "combustion.chamber-area"],
  cautions: ["tightening"],
});
