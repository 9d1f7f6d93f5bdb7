// Stress in the wire of the valve springs at full lift, where the wire's grade or strength is stated.
import { type WireGrade, wireTensileStrength } from "../engineering/valve-spring.ts";
import { type EffectiveBuild, effective, wordAt } from "../model/effective.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { at as placed } from "../sheet/formula.ts";
import { amount } from "./amount.ts";
import { SIDES } from "./lash.ts";
import { limitOf } from "./limit.ts";
import { fitPlace } from "./placed.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf } from "./wording.ts";

/** Share of the tensile strength that the coil of a spring pressed solid once may be worked to. From memory: 60 to 70 % for music and hard-drawn wire, 65 to 75 % for hardened and tempered steels. */
const SHARE = { "music-wire": 0.6, "hard-drawn": 0.6, "oil-tempered": 0.65, "chrome-vanadium": 0.65, "chrome-silicon": 0.65 } as const;

const GRADES: Readonly<Record<keyof typeof SHARE, WireGrade>> = { "music-wire": "music wire", "hard-drawn": "hard-drawn", "oil-tempered": "oil-tempered", "chrome-vanadium": "chrome-vanadium", "chrome-silicon": "chrome-silicon" };

export const RULE: BuildRule = {
  id: "spring-stress-high",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The wire of a valve spring is stressed higher at full lift than its grade bears.",
    why: "A spring worked past what its wire bears takes a set, loses its load, and one day breaks; the valve then meets the piston.",
    limit: "What a part, the engine or the shop sets as `limits`; else 60 per cent of the wire's tensile strength for music and hard-drawn wire, 65 per cent for hardened and tempered steels, the shares for springs that were pressed solid once. The strength is the one stated, else that of the grade at the wire's size. Where neither grade nor strength is stated nothing is judged.",
    source: "a machine-design textbook, chapter on mechanical springs: Wahl's factor and the strength of wire by size; the constants and shares from memory",
    remedy: "Fit a spring with thicker wire, more coils or less load, or a shaft with less lift.",
    cautions: ["spring-energy"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { rocker-ratio: 1.50 } }
  camshaft { intake { lobe-lift: 7.10 mm } }
}

build wren-hill-2 on dunlin-18 {
  fit valve-spring { source: "box"; wire: 3.0 mm; mean-diameter: 24.0 mm; rate: 45 N/mm; seat-load: 260 N; wire-material: music-wire }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { rocker-ratio: 1.50 } }
  camshaft { intake { lobe-lift: 7.10 mm } }
}

build wren-hill-2 on dunlin-18 {
  fit valve-spring { source: "box"; wire: 4.0 mm; mean-diameter: 24.0 mm; rate: 32 N/mm; seat-load: 260 N; wire-material: chrome-silicon }
}
`,
  },
  check({ build, sheet, report }) {
    for (const side of SIDES)
      for (const coil of ["coil", "outer", "inner"] as const) {
        const value = sheet.byId.get(`spring.stress.${side}.${coil}`);
        const interval = value?.interval;
        // What the engine's maker put together from figures of his own is his to answer for.
        if (!value || !interval || value.provided.every((p) => p.origin.sort === "engine")) continue;
        const own = limitOf(build, "spring-stress", "greatest", "stress");
        const bears = own ? undefined : bearing(build, side, coil);
        const limit = own?.value ?? bears?.value;
        if (limit === undefined || compareWithLimit(interval.nominal, limit) <= 0) continue;
        const shown = formatAgainst(interval.nominal, limit, "stress", "megapascal");
        const name = coil === "coil" ? `${side} spring` : `${coil} ${side} spring`;
        report({
          message: `The wire of the ${name} is stressed to ${shown.value} MPa at full lift, and ${own ? `no more than ${own.words} is allowed` : `${bears?.words ?? "its wire"} bears about ${shown.limit} MPa`}. Fit another spring, or a shaft with less lift.`,
          at: fitPlace(build, ["valve-spring", "camshaft", "rocker"], side), path: `spring.stress.${side}`, ...amount("more", interval.nominal, "stress", "megapascal"),
          severity: own && compareWithLimit(interval.low, limit) > 0 ? "error" : "warning", ...(own?.at && { related: [{ message: "The limit stands here.", at: own.at }] }),
        });
      }
  },
};

function coilPaths(side: string, coil: string, key: string): readonly string[] {
  const base = "valve-gear.valve-spring";
  return (coil === "coil" ? [`${base}.${side}.${key}`, `${base}.${key}`] : [`${base}.${side}.${coil}.${key}`, `${base}.${coil}.${key}`]).map((p) => placed(p, side));
}

function bearing(build: EffectiveBuild, side: string, coil: string): { readonly value: number; readonly words: string } | undefined {
  const first = <T>(key: string, read: (path: string) => T | undefined) => coilPaths(side, coil, key).map(read).find((x) => x !== undefined);
  const number = (key: string) => first(key, (path) => quantityOf(effective(build.slots.get(path)))?.quantity.interval.nominal);
  const word = first("wire-material", (path) => wordAt(build, path));
  const grade = word !== undefined && Object.hasOwn(SHARE, word) ? (word as keyof typeof SHARE) : undefined;
  const strength = number("wire-strength");
  const wire = number("wire");
  if (strength !== undefined) return { value: strength * (grade ? SHARE[grade] : SHARE["music-wire"]), words: "wire of the strength stated" };
  if (!grade || wire === undefined) return undefined;
  const tensile = wireTensileStrength({ grade: GRADES[grade], wire });
  return Number.isFinite(tensile) ? { value: tensile * SHARE[grade], words: `${grade.replace("-", " ")} of this size` } : undefined;
}
