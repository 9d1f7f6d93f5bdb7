// Every kind of part, one file each. Written by `node server/schema/write-index.ts`; do not edit.
import type { PartKind } from "../types.ts";
import { KIND as camGearKind } from "./cam-gear.ts";
import { KIND as camshaftKind } from "./camshaft.ts";
import { KIND as retainerKind } from "./retainer.ts";
import { KIND as rockerKind } from "./rocker.ts";
import { KIND as valveSpringKind } from "./valve-spring.ts";

export const PART_KINDS: readonly PartKind[] = [
  camGearKind,
  camshaftKind,
  retainerKind,
  rockerKind,
  valveSpringKind,
];
