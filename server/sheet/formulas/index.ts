// Every formula in the order it is read on the sheet. Knows no build.
import type { Formula } from "../formula.ts";
import { AIR, FUEL } from "./air-fuel.ts";
import { BOOST } from "./boost.ts";
import { BOTTOM_END } from "./bottom-end.ts";
import { BREATHING } from "./breathing.ts";
import { CLEARANCES } from "./clearances.ts";
import { CUTS } from "./cuts.ts";
import { FASTENERS } from "./fasteners.ts";
import { GEARING } from "./gearing.ts";
import { LASH } from "./lash.ts";
import { LASH_SETTING } from "./lash-setting.ts";
import { LOBES } from "./lobe.ts";
import { PULLS } from "./pulls.ts";
import { RECORDINGS } from "./recordings.ts";
import { RUNNING } from "./running.ts";
import { VALVE_GEAR } from "./valve-gear.ts";

export const FORMULAS: readonly Formula[] = [...BOTTOM_END, ...CUTS, ...CLEARANCES, ...BREATHING, ...LOBES, ...VALVE_GEAR, ...LASH, ...LASH_SETTING, ...FASTENERS, ...AIR, ...BOOST, ...FUEL, ...PULLS, ...RECORDINGS, ...RUNNING, ...GEARING];
