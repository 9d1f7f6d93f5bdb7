/** Blades, shims, pushrods and the order to go round in, worked by hand. */
import { describe, expect, it } from "vitest";
import { DUNLIN } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

const SHOP = `shop shed "Shed" {
  blades { metric: 0.05, 0.10, 0.13, 0.15, 0.18, 0.20, 0.22 mm; inch: .004, .006, .008, .010 in }
  shims { range: 2.00 .. 3.20 mm; step: 0.05 mm }
}\n`;
const um = (x: number) => Math.round(x * 1e6);

const single = (lash: string, shim: string, body: string) => sheetOf(`${SHOP}engine e "Single" { source: "book"; cylinders: 1
  valve-gear { actuation: finger; adjuster: shim; lash-at: cam\n intake { rocker-ratio: 1.35; lash: ${lash} cold }\n exhaust { rocker-ratio: 1.35; lash: 0.12 ± 0.02 mm cold } } }
build b on e { measured shim on 2027-04-25 { intake: ${shim} }\n measured lash cold on 2027-04-25 { ${body} } }`);

describe("a shim under a finger", () => {
  it("goes by the ratio where the lash is taken at the cam", () => {
    // 2.60 + (0.05 − 0.08) · 1.35 = 2.5595; 2.55 gives 0.05 + 0.05/1.35 = 0.087.
    const w = single("0.08 ± 0.02 mm", "2.60 mm", "intake: 0.05 mm");
    const wanted = w.value("shim.intake.wanted").measured[0]?.value.interval?.nominal ?? NaN;
    expect(wanted * 1e3).toBeCloseTo(2.5595, 9);
    expect(um(w.value("shim.intake.new").measured[0]?.value.interval?.nominal ?? NaN)).toBe(2550);
    expect((w.value("shim.intake.new-lash").measured[0]?.value.interval?.nominal ?? NaN) * 1e3).toBeCloseTo(0.05 + 0.05 / 1.35, 9);
  });

  it("is never one that leaves the valve tight, though it be nearer", () => {
    // With ±0.005 allowed: wanted 2.5595; 2.55 leaves 0.087, out of the band but loose; 2.60 would leave 0.05.
    const w = single("0.08 ± 0.005 mm", "2.60 mm", "intake: 0.05 mm");
    expect(um(w.value("shim.intake.new").measured[0]?.value.interval?.nominal ?? NaN)).toBe(2550);
    // Wanted 2.60 + (0.068 − 0.08) · 1.35 = 2.5838: 2.60 is nearer and tight, 2.55 is further and loose.
    const nearer = single("0.08 ± 0.005 mm", "2.60 mm", "intake: 0.068 mm");
    expect(um(nearer.value("shim.intake.new").measured[0]?.value.interval?.nominal ?? NaN)).toBe(2550);
  });

  it("stays where the lash is right", () => {
    const w = single("0.08 ± 0.02 mm", "2.60 mm", "intake: 0.09 mm");
    expect(um(w.value("shim.intake.new").measured[0]?.value.interval?.nominal ?? NaN)).toBe(2600);
  });

  it("is not reckoned from a hot reading against a cold figure", () => {
    const hot = sheetOf(`${SHOP}engine e "Single" { source: "book"; cylinders: 1\n valve-gear { actuation: bucket; adjuster: shim; lash-at: cam\n intake { lash: 0.20 ± 0.02 mm cold } } }
build b on e { measured shim on 2027-04-25 { intake: 2.60 mm }\n measured lash hot on 2027-04-25 { intake: 0.10 mm } }`);
    expect(hot.sheet.byId.has("shim.intake.new")).toBe(false);
  });
});

describe("the blades to reach for", () => {
  it("bracket the lash, from the set in its own units", () => {
    const w = sheetOf(`${SHOP}${DUNLIN}build b on dunlin-18 { lash { intake: 0.17 mm cold; exhaust: .007 in cold } }`);
    expect(um(w.nominal("lash.intake.blades.go"))).toBe(150);
    expect(um(w.nominal("lash.intake.blades.no-go"))).toBe(180);
    expect(w.nominal("lash.exhaust.blades.go") / 0.0254).toBeCloseTo(0.006, 9);
    expect(w.nominal("lash.exhaust.blades.no-go") / 0.0254).toBeCloseTo(0.008, 9);
  });
});

describe("going round", () => {
  it("sets each cylinder while its companion rocks", () => {
    const w = sheetOf(DUNLIN);
    // 1-3-4-2: 1 fires while 4 rocks, then half a turn on 3 while 2 rocks.
    expect(["1", "3", "4", "2"].map((n) => [w.nominal(`valve-setting.${n}.crank`), w.nominal(`valve-setting.${n}.rocking`)])).toEqual([[0, 4], [180, 2], [360, 1], [540, 3]]);
  });

  it("says nothing where the order is not the engine's", () => {
    expect(sheetOf(DUNLIN.replace("1-3-4-2", "1-3-4")).sheet.values.some((v) => v.id.startsWith("valve-setting"))).toBe(false);
  });
});

describe("a pushrod for a head that came down", () => {
  it("is shorter by as much", () => {
    const w = sheetOf(`engine e "Vee" { source: "book"; cylinders: 8
      valve-gear { actuation: pushrod; adjuster: hydraulic\n intake { rocker-ratio: 1.5; preload: 0.80 ± 0.30 mm; pushrod-length: 192.5 mm } } }
build b on e { combustion { block-skim: 0.30 mm } }`);
    expect(w.nominal("pushrod-length.intake") * 1e3).toBeCloseTo(192.2, 9);
  });
});
