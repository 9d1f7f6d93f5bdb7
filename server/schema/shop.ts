// The workshop: its wrenches, blades, shims, air, and how severely rules are taken. Knows what a shop owns, not what an engine needs.
import { choice, date, figure, figures, REMARK, text } from "./row.ts";
import { celsius, degrees, millimetres, newtonMetres, percent } from "./spans.ts";
import { AIR, AIR_ALTITUDE } from "./engine/running.ts";
import { LIMITS } from "./engine/limits.ts";
import type { BlockSchema } from "./types.ts";

export const WRENCH: BlockSchema = {
  id: "wrench",
  words: "A torque wrench and what it can be trusted with.",
  keys: [
    figure("range", "torque", "40 .. 200 N·m", "Torques it can be set to.", { usual: newtonMetres(0.05, 2000), importance: "essential" }),
    figure("accuracy", "fraction", "4 %", "Error its certificate allows it.", { usual: percent(0.5, 15, "ISO 6789 asks 4 or 6 % of setting tools; worn tools do worse"), importance: "useful" }),
    figure("step", "torque", "1 N·m", "Smallest step of its scale.", { usual: newtonMetres(0.01, 20), importance: "rare" }),
    figure("length", "length", "480 mm", "From the middle of the square to the middle of the grip.", { usual: millimetres(50, 1500), importance: "rare" }),
    figure("angle-step", "angle", "1 deg", "Smallest step of its angle scale.", { usual: degrees(0.1, 30), importance: "rare" }),
    date("calibrated", "The day it was last calibrated.", { importance: "useful" }),
    REMARK,
  ],
};

export const SEVERITIES: BlockSchema = { id: "severities", words: "How severely this shop takes a rule: `rule-id: error`, `warning`, `advice` or `off`. What breaks engines cannot be turned off here.", open: true, keys: [] };

export const SHOP: BlockSchema = {
  id: "shop",
  base: "shop",
  words: "The workshop: tools, shims, air, preferred units. It feeds checks and the sheet and never changes what a build says.",
  keys: [
    choice("units", { metric: "Metric first.", inch: "Inch first.", "as-written": "Each figure in the units it was written in." }, "metric", "Which units computed values are shown in first.", { importance: "useful" }),
    figure("altitude", "length", "250 m", "Height of the workshop above sea level.", { usual: AIR_ALTITUDE, lands: "air.altitude", importance: "useful" }),
    figure("cold", "temperature", "18 °C", "Temperature of the workshop: what cold means here.", { usual: celsius(-20, 45), lands: "thermal.cold" }),
    text("name", '"Combe Lane"', "What the workshop is called.", { importance: "rare" }),
    REMARK,
  ],
  blocks: {
    air: { ...AIR, base: "air" },
    limits: LIMITS,
    blades: {
      id: "blades",
      words: "Feeler blades in the drawer, so that the sheet can name the pair to reach for.",
      keys: [
        figures("metric", "length", "0.05, 0.10, 0.15, 0.20, 0.25 mm", "Blades marked in millimetres.", { usual: millimetres(0.01, 5), importance: "essential" }),
        figures("inch", "length", ".004, .006, .008, .010 in", "Blades marked in inches.", { usual: millimetres(0.01, 5), importance: "useful" }),
      ],
    },
    shims: {
      id: "shims",
      words: "Shims in the kit.",
      keys: [
        figures("sizes", "length", "2.40, 2.45, 2.50, 2.55, 2.60 mm", "Thicknesses in the kit.", { usual: millimetres(0.5, 10), importance: "essential" }),
        figure("range", "length", "2.00 .. 3.20 mm", "Thinnest and thickest, where the kit goes in even steps.", { usual: millimetres(0.5, 10) }),
        figure("step", "length", "0.05 mm", "Step of the kit.", { usual: millimetres(0.01, 0.5) }),
        figure("diameter", "length", "29.0 mm", "Diameter of the shims.", { usual: millimetres(5, 40), importance: "rare" }),
      ],
    },
    severities: SEVERITIES,
  },
  statements: ["wrench", "note", "photo"],
};
