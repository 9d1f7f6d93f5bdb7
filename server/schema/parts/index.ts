// Every kind of part, one file each. Written by `node server/schema/write-index.ts`; do not edit.
import type { PartKind } from "../types.ts";
import { KIND as bearingKind } from "./bearing.ts";
import { KIND as beltKind } from "./belt.ts";
import { KIND as blockKind } from "./block.ts";
import { KIND as blowerKind } from "./blower.ts";
import { KIND as blowerPulleyKind } from "./blower-pulley.ts";
import { KIND as camGearKind } from "./cam-gear.ts";
import { KIND as camshaftKind } from "./camshaft.ts";
import { KIND as carburettorKind } from "./carburettor.ts";
import { KIND as clutchKind } from "./clutch.ts";
import { KIND as controllerKind } from "./controller.ts";
import { KIND as coolerKind } from "./cooler.ts";
import { KIND as crankPulleyKind } from "./crank-pulley.ts";
import { KIND as crankshaftKind } from "./crankshaft.ts";
import { KIND as distributorKind } from "./distributor.ts";
import { KIND as exhaustKind } from "./exhaust.ts";
import { KIND as fastenerSetKind } from "./fastener-set.ts";
import { KIND as finalDriveKind } from "./final-drive.ts";
import { KIND as flywheelKind } from "./flywheel.ts";
import { KIND as followerKind } from "./follower.ts";
import { KIND as fuelPumpKind } from "./fuel-pump.ts";
import { KIND as gasketKind } from "./gasket.ts";
import { KIND as gearboxKind } from "./gearbox.ts";
import { KIND as headKind } from "./head.ts";
import { KIND as injectorKind } from "./injector.ts";
import { KIND as lifterKind } from "./lifter.ts";
import { KIND as lubricantKind } from "./lubricant.ts";
import { KIND as manifoldKind } from "./manifold.ts";
import { KIND as oilPumpKind } from "./oil-pump.ts";
import { KIND as pistonKind } from "./piston.ts";
import { KIND as pushrodKind } from "./pushrod.ts";
import { KIND as regulatorKind } from "./regulator.ts";
import { KIND as retainerKind } from "./retainer.ts";
import { KIND as ringKind } from "./ring.ts";
import { KIND as rockerKind } from "./rocker.ts";
import { KIND as rodKind } from "./rod.ts";
import { KIND as sealKind } from "./seal.ts";
import { KIND as shimKind } from "./shim.ts";
import { KIND as sparkPlugKind } from "./spark-plug.ts";
import { KIND as turboKind } from "./turbo.ts";
import { KIND as tyreKind } from "./tyre.ts";
import { KIND as valveKind } from "./valve.ts";
import { KIND as valveSpringKind } from "./valve-spring.ts";

export const PART_KINDS: readonly PartKind[] = [
  bearingKind,
  beltKind,
  blockKind,
  blowerKind,
  blowerPulleyKind,
  camGearKind,
  camshaftKind,
  carburettorKind,
  clutchKind,
  controllerKind,
  coolerKind,
  crankPulleyKind,
  crankshaftKind,
  distributorKind,
  exhaustKind,
  fastenerSetKind,
  finalDriveKind,
  flywheelKind,
  followerKind,
  fuelPumpKind,
  gasketKind,
  gearboxKind,
  headKind,
  injectorKind,
  lifterKind,
  lubricantKind,
  manifoldKind,
  oilPumpKind,
  pistonKind,
  pushrodKind,
  regulatorKind,
  retainerKind,
  ringKind,
  rockerKind,
  rodKind,
  sealKind,
  shimKind,
  sparkPlugKind,
  turboKind,
  tyreKind,
  valveKind,
  valveSpringKind,
];
