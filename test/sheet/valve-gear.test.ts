/** Springs, margins and float of written builds, worked by hand. */
import { describe, expect, it } from "vitest";
import { DUNLIN, RIDGEWAY, WREN } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

const mm = (x: number) => x * 1e3;
const springs = (block: string) => sheetOf(`${DUNLIN.replace(/valve-spring \{[^}]*\}/, block)}${RIDGEWAY}build b on dunlin-18 { fit ridgeway-272 }`);

describe("the stock spring under the bigger shaft", () => {
  const wren = sheetOf(DUNLIN + RIDGEWAY + WREN);

  it("is solid before the intake valve is open: 38.0 − 10.65 leaves 27.35 mm for 27.4 mm of coils", () => {
    expect(mm(wren.nominal("coil-bind-margin.intake"))).toBeCloseTo(-0.05, 10);
    expect(mm(wren.nominal("coil-bind-margin.exhaust"))).toBeCloseTo(0.45, 10);
    expect(mm(wren.nominal("coil-bind-margin"))).toBeCloseTo(-0.05, 10);
  });

  it("just clears with the lash as set, which is shown beside and judged by nobody", () => {
    expect(mm(wren.nominal("coil-bind-margin.intake.at-lash"))).toBeCloseTo(0.15, 10);
  });

  it("has the rate of its wire and coils, and says what wire is assumed", () => {
    // 77.2e9 · 3.8⁴ / (8 · 24³ · 5.2) in N and mm: 77200 · 208.5136 / 575 078.4 = 27.991 N/mm.
    expect(wren.nominal("spring.rate") / 1000).toBeCloseTo(27.9914, 4);
    expect(wren.value("spring.rate").estimate).toBe(true);
    expect(wren.value("spring.rate").assumptions.join()).toMatch(/77.2 GPa/);
  });

  it("presses with the seat load and the rate times the lift", () => {
    expect(wren.nominal("spring.seat-load")).toBeCloseTo(240, 10);
    expect(wren.nominal("spring.open-load.intake")).toBeCloseTo(240 + (77.2e9 * 0.0038 ** 4) / (8 * 0.024 ** 3 * 5.2) * 0.01065, 8);
    // The heavier side is the intake's, whose valve lifts further.
    expect(wren.nominal("spring.open-load")).toBe(wren.nominal("spring.open-load.intake"));
  });
});

describe("a stated wire", () => {
  it("takes the place of the assumption", () => {
    const music = springs("valve-spring { wire: 3.8 mm; mean-diameter: 24.0 mm; active-coils: 5.2; wire-material: music-wire; seat-height: 38.0 mm; seat-load: 240 N; solid-height: 27.4 mm }");
    expect(music.nominal("spring.rate") / 27991.4).toBeCloseTo(80 / 77.2, 4);
    expect(music.value("spring.rate").assumptions).toEqual([]);
  });

  it("gives the mean diameter from the outside one", () => {
    const outside = springs("valve-spring { wire: 3.8 mm; outer-diameter: 27.8 mm; active-coils: 5.2 }");
    expect(outside.nominal("spring.rate") / 1000).toBeCloseTo(27.9914, 4);
  });
});

describe("two measured loads", () => {
  it("decide the rate, whatever the coils say", () => {
    // (560 − 240) N over (38.0 − 28.0) mm.
    const both = springs("valve-spring { wire: 3.8 mm; mean-diameter: 24.0 mm; active-coils: 5.2; seat-height: 38.0 mm; seat-load: 240 N; open-height: 28.0 mm; open-load: 560 N }");
    expect(both.nominal("spring.rate")).toBeCloseTo(32000, 6);
  });

  it("are the only way for a beehive spring", () => {
    const beehive = springs("valve-spring { form: beehive; wire: 3.8 mm; mean-diameter: 24.0 mm; active-coils: 5.2; seat-height: 38.0 mm; seat-load: 240 N }");
    expect(beehive.value("spring.rate").interval).toBeUndefined();
    expect(beehive.value("spring.rate.intake").missing.map((m) => m.path)).not.toContain("valve-gear.valve-spring.intake.wire");
    expect(beehive.sheet.byId.has("spring.stress.intake.coil")).toBe(false);
  });
});

describe("a dual spring of which only the inner binds", () => {
  const dual = springs(`valve-spring {
      seat-height: 38.0 mm
      outer { rate: 30 N/mm; seat-load: 200 N; solid-height: 26.0 mm }
      inner { rate: 12 N/mm; seat-load: 80 N; seat-height: 36.0 mm; solid-height: 25.0 mm }
    }`);

  it("adds up its rates and loads", () => {
    expect(dual.nominal("spring.rate.intake")).toBeCloseTo(42000, 6);
    expect(dual.nominal("spring.seat-load.intake")).toBeCloseTo(280, 9);
    expect(dual.nominal("spring.open-load.intake")).toBeCloseTo(280 + 42 * 10.65, 9);
  });

  it("gives each coil its own margin, and the spring the worse of them", () => {
    // Outer 38.0 − 10.65 − 26.0 = 1.35; inner 36.0 − 10.65 − 25.0 = 0.35.
    expect(mm(dual.nominal("coil-bind-margin.intake.outer"))).toBeCloseTo(1.35, 10);
    expect(mm(dual.nominal("coil-bind-margin.intake.inner"))).toBeCloseTo(0.35, 10);
    expect(mm(dual.nominal("coil-bind-margin.intake"))).toBeCloseTo(0.35, 10);
  });

  it("is not judged by the coil that is known when the other is not", () => {
    const half = springs("valve-spring { seat-height: 38.0 mm; outer { solid-height: 26.0 mm } inner { rate: 12 N/mm } }");
    expect(half.value("coil-bind-margin.intake").interval).toBeUndefined();
    expect(half.value("coil-bind-margin.intake").missing.map((m) => m.path)).toEqual(["valve-gear.valve-spring.intake.inner.solid-height"]);
  });
});

describe("another spring", () => {
  it("is never judged by the solid height of the one it replaced", () => {
    const fitted = sheetOf(`${DUNLIN}${RIDGEWAY}part valve-spring bee for dunlin-18 { source: "box"; rate: 34 N/mm; seat-load: 260 N }\nbuild b on dunlin-18 { fit ridgeway-272; fit bee }`);
    expect(fitted.value("coil-bind-margin").interval).toBeUndefined();
    expect(fitted.value("coil-bind-margin.intake").missing.map((m) => m.path)).toEqual(["valve-gear.valve-spring.intake.solid-height"]);
    // The seat is cut in the head and stays.
    expect(fitted.nominal("spring.rate")).toBeCloseTo(34000, 6);
  });

  it("may differ from side to side", () => {
    const sides = springs("valve-spring { intake { seat-height: 38.0 mm; solid-height: 26.0 mm } exhaust { seat-height: 37.0 mm; solid-height: 26.0 mm } }");
    expect(mm(sides.nominal("coil-bind-margin.intake"))).toBeCloseTo(1.35, 10);
    expect(mm(sides.nominal("coil-bind-margin.exhaust"))).toBeCloseTo(0.85, 10);
    expect(mm(sides.nominal("coil-bind-margin"))).toBeCloseTo(0.85, 10);
  });
});

describe("valve float", () => {
  it("is what the spring can turn round, marked as an estimate", () => {
    const heavy = sheetOf(`${DUNLIN.replace("rocker-ratio: 1.50;", "rocker-ratio: 1.50; valve-mass: 52 g; retainer-mass: 14 g; retainer-to-guide: 12.6 mm;").replace("seat-load: 240 N;", "seat-load: 240 N; rate: 30 N/mm; mass: 60 g;")}${RIDGEWAY}build b on dunlin-18 { fit ridgeway-272 }`);
    // Mass 52 + 14 + 60/3 = 86 g; load 240 + 30 · 10.65 = 559.5 N; 236° = 4.1190 rad; (10.65 mm/2) · (2π/4.1190)² = 0.012391 m/rad².
    const perRad2 = (0.01065 / 2) * ((2 * Math.PI) / ((236 * Math.PI) / 180)) ** 2;
    expect(heavy.nominal("valve-float.speed.intake")).toBeCloseTo((30 / Math.PI) * Math.sqrt(559.5 / (0.086 * perRad2)), 6);
    expect(heavy.value("valve-float.speed.intake").estimate).toBe(true);
    // 12.6 − 10.65.
    expect(mm(heavy.nominal("retainer-guide-margin.intake"))).toBeCloseTo(1.95, 10);
    expect(heavy.value("valve-float.speed").missing.map((m) => m.path)).toContain("valve-gear.exhaust.valve-mass");
  });
});
