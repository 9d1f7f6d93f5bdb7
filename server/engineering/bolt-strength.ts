// Proof, yield and tensile strength of bolts by class or grade; it refuses to know torque, friction or what is clamped.
//
// Sources: ISO 898-1 (property classes, minimum values) and SAE J429 (grades). Both step with diameter, and a figure is
// given only for diameters its row covers. The numbers in a class name are nominal and are NOT the strengths.

import { arePositive } from "./domain.ts";
import type { Provenance } from "./provenance.ts";

/** Strengths of one bolt material, Pa, and where they come from. */
export interface BoltStrength {
  readonly proof: number;
  readonly yield: number;
  readonly tensile: number;
  readonly provenance: Provenance;
  readonly source: string;
}

interface Row {
  readonly name: string;
  /** Diameters covered: above `over` up to and including `upTo`, in m. */
  readonly over: number;
  readonly upTo: number;
  readonly strengths: readonly [proof: number, yield_: number, tensile: number];
  readonly provenance: Provenance;
}

const mm = 0.001;
const mega = 1e6;

/** ISO 898-1, minimum values in MPa. The proof stresses of 4.8, 5.8 and 6.8 are calculation values in the standard. */
const propertyClasses: readonly Row[] = [
  { name: "4.6", over: 0, upTo: 39 * mm, strengths: [225, 240, 400], provenance: "from memory" },
  { name: "4.8", over: 0, upTo: 16 * mm, strengths: [310, 340, 420], provenance: "from memory" },
  { name: "5.6", over: 0, upTo: 39 * mm, strengths: [280, 300, 500], provenance: "from memory" },
  { name: "5.8", over: 0, upTo: 24 * mm, strengths: [380, 420, 520], provenance: "standard" },
  { name: "6.8", over: 0, upTo: 39 * mm, strengths: [440, 480, 600], provenance: "from memory" },
  { name: "8.8", over: 0, upTo: 16 * mm, strengths: [580, 640, 800], provenance: "standard" },
  { name: "8.8", over: 16 * mm, upTo: 39 * mm, strengths: [600, 660, 830], provenance: "standard" },
  { name: "9.8", over: 0, upTo: 16 * mm, strengths: [650, 720, 900], provenance: "standard" },
  { name: "10.9", over: 0, upTo: 39 * mm, strengths: [830, 940, 1040], provenance: "standard" },
  { name: "12.9", over: 0, upTo: 39 * mm, strengths: [970, 1100, 1220], provenance: "standard" },
];

const inch = 0.0254;
const kpsi = 6894757.293168361;

/** SAE J429, 1/4 in to 1-1/2 in, in kpsi. */
const grades: readonly Row[] = [
  { name: "2", over: 0.249 * inch, upTo: 0.75 * inch, strengths: [55, 57, 74], provenance: "standard" },
  { name: "2", over: 0.75 * inch, upTo: 1.5 * inch, strengths: [33, 36, 60], provenance: "standard" },
  { name: "5", over: 0.249 * inch, upTo: 1 * inch, strengths: [85, 92, 120], provenance: "standard" },
  { name: "5", over: 1 * inch, upTo: 1.5 * inch, strengths: [74, 81, 105], provenance: "standard" },
  { name: "8", over: 0.249 * inch, upTo: 1.5 * inch, strengths: [120, 130, 150], provenance: "standard" },
];

export const propertyClassNames: readonly string[] = [...new Set(propertyClasses.map((row) => row.name))];
export const gradeNames: readonly string[] = [...new Set(grades.map((row) => row.name))];

function find(rows: readonly Row[], name: string, diameter: number, scale: number, source: string): BoltStrength | undefined {
  // A nominal size that a conversion left a hair above its step still belongs to that step.
  const slack = 1e-9;
  const row = rows.find((one) => one.name === name && diameter > one.over + slack && diameter <= one.upTo + slack);
  if (row === undefined) return undefined;
  const [proof, yield_, tensile] = row.strengths;
  return { proof: proof * scale, yield: yield_ * scale, tensile: tensile * scale, provenance: row.provenance, source };
}

/** Strengths, Pa, of a metric property class ("8.8") at a nominal diameter (m); undefined when the standard has no such row. */
export function propertyClassStrength(
  { propertyClass, diameter }: { readonly propertyClass: string; readonly diameter: number },
): BoltStrength | undefined {
  return find(propertyClasses, propertyClass, diameter, mega, "ISO 898-1, minimum values");
}

/** Strengths, Pa, of an inch grade ("5") at a nominal diameter (m); undefined when the standard has no such row. */
export function gradeStrength({ grade, diameter }: { readonly grade: string; readonly diameter: number }): BoltStrength | undefined {
  return find(grades, grade, diameter, kpsi, "SAE J429");
}

/** Load, N, on an area (m²) at a stress (Pa): proof load from proof stress, yield load from yield. */
export function loadAtStress({ area, stress }: { readonly area: number; readonly stress: number }): number {
  return arePositive(area, stress) ? area * stress : NaN;
}

/** Stress, Pa, of a load (N) on an area (m²). */
export function stressOfLoad({ load, area }: { readonly load: number; readonly area: number }): number {
  return Number.isFinite(load) && arePositive(area) ? load / area : NaN;
}

/**
 * The area, m², that carries the bolt's tension: the thread's stress area, or the shank where that is thinner (waisted
 * and rod bolts).
 */
export function loadedArea({ stressArea, shankDiameter }: { readonly stressArea: number; readonly shankDiameter?: number | undefined }): number {
  if (!arePositive(stressArea)) return NaN;
  if (shankDiameter === undefined) return stressArea;
  return arePositive(shankDiameter) ? Math.min(stressArea, (Math.PI / 4) * shankDiameter ** 2) : NaN;
}
