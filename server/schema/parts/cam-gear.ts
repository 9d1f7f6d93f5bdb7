// Part kind: camshaft gear, sprocket or pulley, plain or adjustable; one, or one a side on a twin cam.
import { figure, yesNo } from "../row.ts";
import { partKind } from "../part.ts";
import { degrees, millimetres, plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "cam-gear",
  words: "The gear that turns the camshaft.",
  sided: true,
  keys: [
    yesNo("adjustable", "Whether the gear can be turned on its hub and clamped again.", { importance: "essential" }),
    figure("mark-spacing", "angle", "1 deg crank", "Angle from one mark to the next. Makers mark some gears in cam and some in crank degrees: ask, or measure along the rim.", { qualifiers: ["degrees-of"], usual: degrees(0.25, 20), importance: "essential" }),
    figure("range", "angle", "± 8 deg crank", "How far the gear can be turned from its zero.", { qualifiers: ["degrees-of"], usual: degrees(-40, 40), importance: "useful" }),
    figure("teeth", "count", "38", "Teeth on the gear.", { usual: plain(12, 90), lands: "valve-gear.gear-teeth", importance: "useful" }),
    figure("pitch-diameter", "length", "121.0 mm", "Pitch diameter of the gear.", { usual: millimetres(30, 250), lands: "valve-gear.gear-pitch-diameter", importance: "useful" }),
  ],
  fitKeys: [
    figure("set", "angle", "3 deg crank retarded", "Where the gear is set, from its zero.", { qualifiers: ["degrees-of", "gear-direction"], usual: degrees(0, 20), importance: "essential" }),
    figure("marks", "count", "3", "Marks that the gear was moved by, as counted.", { usual: plain(0, 40), importance: "rare" }),
  ],
  clears: ["cam-gear.*"],
  cautions: ["timing-drive"],
});
