/** Cam timing and lift of written builds: gear settings, skims, printed events, ratios and lash, worked by hand. */
import { describe, expect, it } from "vitest";
import { formattedValue } from "../../server/sheet/trace.ts";
import { DUNLIN, RIDGEWAY, WREN } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

const build = (body: string) => sheetOf(`${DUNLIN}${RIDGEWAY}build b on dunlin-18 {\n${body}\n}`);
const mm = (x: number) => x * 1e3;

describe("the gear three degrees retarded", () => {
  const wren = sheetOf(DUNLIN + RIDGEWAY + WREN);

  it("is three marks", () => {
    expect(wren.nominal("cam-gear.marks")).toBeCloseTo(3, 12);
    expect(formattedValue(wren.value("cam-gear.shift"))).toBe("3 deg retarded");
  });

  it("moves the intake centreline from 109 to 112 and the exhaust from 113 to 110", () => {
    expect(wren.nominal("centreline.intake.installed")).toBeCloseTo(112, 12);
    expect(wren.nominal("centreline.exhaust.installed")).toBeCloseTo(110, 12);
  });

  it("leaves the separation of the one shaft alone", () => {
    expect(wren.nominal("lobe-separation")).toBeCloseTo(111, 12);
  });

  it("opens and closes every valve three degrees later", () => {
    // Card: intake 236/2 − 109 = 9 before top, 236/2 + 109 − 180 = 47 after bottom; exhaust 49 before bottom, 3 after top.
    expect(["intake.opens", "intake.closes", "exhaust.opens", "exhaust.closes"].map((e) => wren.nominal(`event.${e}`))).toEqual([6, 50, 46, 6]);
    // 6 + 6; the card's own overlap is 9 + 3 = 12 as well, because one shaft carries both lobes.
    expect(wren.nominal("overlap")).toBe(12);
  });
});

describe("a gear's setting", () => {
  it("counts cam degrees twice", () => {
    expect(build("fit ridgeway-272\n fit vernier-18 { set: 2 deg cam advanced }").nominal("cam-gear.shift")).toBe(-4);
    expect(formattedValue(build("fit ridgeway-272\n fit vernier-18 { set: 2 deg cam advanced }").value("cam-gear.shift"))).toBe("4 deg advanced");
  });

  it("counts marks that stand in cam degrees by what they are at the crank", () => {
    const text = `${DUNLIN}${RIDGEWAY.replace("mark-spacing: 1 deg crank", "mark-spacing: 1 deg cam")}build b on dunlin-18 {\n fit vernier-18 { set: 4 deg crank retarded }\n}`;
    expect(sheetOf(text).nominal("cam-gear.marks")).toBe(2);
  });

  it("of an adjustable gear that nobody states is taken at zero, and says so", () => {
    const unset = build("fit ridgeway-272\n fit vernier-18");
    expect(unset.nominal("centreline.intake.installed")).toBe(109);
    expect(unset.value("centreline.intake.installed").assumptions).toContain("the adjustable cam gear's setting is not stated: taken at its zero");
  });

  it("left unstated as to direction spans both", () => {
    const both = build("fit ridgeway-272\n fit vernier-18 { set: 3 deg crank unstated }").value("cam-gear.shift");
    expect(both.interval).toEqual({ low: -3, nominal: 0, high: 3 });
    expect(both.assumptions).toHaveLength(1);
  });
});

describe("a twin-cam with its head skimmed", () => {
  const twin = `
engine twin "Ashdown Dunlin 1.6, 16-valve" {
  source: "manual"
  cylinders: 4
  combustion { gasket-thickness: 1.20 mm crushed }
  valve-gear { layout: dohc; drive: belt; actuation: bucket; adjuster: shim; gear-teeth: 46; gear-pitch-diameter: 133 mm }
  camshaft {
    intake  { duration: 240 deg crank; measured-at: 1.00 mm at valve; centreline: 110 deg crank; lobe-lift: 9.0 mm }
    exhaust { duration: 240 deg crank; measured-at: 1.00 mm at valve; centreline: 110 deg crank; lobe-lift: 8.5 mm }
  }
}
part cam-gear wide for twin { source: "leaflet"; adjustable: yes; mark-spacing: 1 deg crank }
`;
  const on = (body: string) => sheetOf(`${twin}build b on twin {\n${body}\n}`);

  it("has each cam moved by its own gear, and the separation by the mean of both", () => {
    const moved = on("fit wide for intake { set: 4 deg crank advanced }\n fit wide for exhaust { set: 2 deg crank retarded }");
    expect(moved.nominal("cam-gear.intake.shift")).toBe(-4);
    expect(moved.nominal("cam-gear.exhaust.shift")).toBe(2);
    // Intake 110 − 4 = 106; exhaust 110 − 2 = 108 before top; (106 + 108)/2 = 107.
    expect(moved.nominal("centreline.intake.installed")).toBe(106);
    expect(moved.nominal("centreline.exhaust.installed")).toBe(108);
    expect(moved.nominal("lobe-separation")).toBe(107);
    expect(moved.sheet.byId.has("cam-gear.shift")).toBe(false);
  });

  it("retards both cams by about one crank degree for 0.60 mm over a 133 mm gear", () => {
    const cut = on("combustion { skim: 0.60 mm }");
    // 0.60/66.5 rad = 0.51696° at the gear, twice that at the crank.
    expect(cut.nominal("cam-gear.skim-retard")).toBeCloseTo((2 * 0.6 * 180) / 66.5 / Math.PI, 10);
    expect(cut.nominal("centreline.intake.installed")).toBeCloseTo(111.0339, 4);
    expect(cut.nominal("centreline.exhaust.installed")).toBeCloseTo(108.9661, 4);
    expect(cut.nominal("lobe-separation")).toBeCloseTo(110, 12);
  });

  it("is retarded further by a thinner gasket, and only by the difference", () => {
    const thin = on("combustion { skim: 0.60 mm; gasket-thickness: 0.70 mm crushed }");
    expect(thin.nominal("cam-gear.gasket-retard")).toBeCloseTo((2 * 0.5 * 180) / 66.5 / Math.PI, 10);
    expect(thin.nominal("cam-timing.intake.retard")).toBeCloseTo((2 * 1.1 * 180) / 66.5 / Math.PI, 10);
    expect(on("redline: 7000 rpm").sheet.byId.has("cam-gear.gasket-retard")).toBe(false);
  });

  it("says what it leaves out when the gear's size is not known", () => {
    const unknown = sheetOf(`${twin.replace("; gear-pitch-diameter: 133 mm", "")}build b on twin {\n combustion { skim: 0.60 mm }\n}`);
    expect(unknown.value("cam-gear.skim-retard").missing.map((m) => m.path)).toEqual(["valve-gear.gear-pitch-diameter"]);
    expect(unknown.value("centreline.intake.installed").assumptions.join()).toMatch(/left out/);
  });

  it("has 720/46 crank degrees to a tooth", () => {
    expect(on("").nominal("cam-gear.tooth")).toBeCloseTo(15.652, 3);
  });

  it("lifts its valves as far as its lobes, for a bucket multiplies nothing", () => {
    expect(mm(on("").nominal("lift.intake.gross"))).toBeCloseTo(9, 12);
  });
});

describe("a card that prints opening and closing", () => {
  const card = (events: string) => sheetOf(`engine e "Test" {\n source: "card"\n cylinders: 4\n camshaft { intake { measured-at: 0.50 mm at lobe; ${events} } exhaust { measured-at: 0.50 mm at lobe; opens: 60 deg bbdc; closes: 20 deg atdc } }\n}`);

  it("gives duration and the centreline halfway between", () => {
    // 22 + 180 + 58 = 260; 260/2 − 22 = 108. Exhaust 60 + 180 + 20 = 260; 260/2 − 20 = 110.
    const one = card("opens: 22 deg btdc; closes: 58 deg abdc");
    expect(one.nominal("duration.intake")).toBe(260);
    expect(one.nominal("centreline.intake.installed")).toBe(108);
    expect(one.nominal("centreline.exhaust.installed")).toBe(110);
    expect(one.nominal("overlap")).toBe(42);
  });

  it("keeps the sign of an opening after top dead centre", () => {
    const late = card("opens: 5 deg atdc; closes: 31 deg abdc");
    expect(late.nominal("event.intake.opens")).toBe(-5);
    expect(late.nominal("duration.intake")).toBe(206);
    expect(formattedValue(late.value("event.intake.opens"))).toBe("5 deg after top dead centre");
  });

  it("is read the same from either dead centre", () => {
    // 238 after top is 58 after bottom.
    expect(card("opens: 22 deg btdc; closes: 238 deg atdc").nominal("event.intake.closes")).toBe(58);
  });

  it("says when no lift is stated at which the angles hold", () => {
    const silent = sheetOf(`engine e "Test" {\n source: "card"\n cylinders: 4\n camshaft { intake { duration: 260 deg crank; centreline: 108 deg crank } }\n}`);
    expect(silent.value("event.intake.opens").assumptions).toContain("the card states no lift at which its angles hold");
  });
});

describe("valve lift", () => {
  it("is lobe lift by rocker ratio, and lash comes off at the valve", () => {
    const wren = sheetOf(DUNLIN + RIDGEWAY + WREN);
    // 7.10 · 1.50 = 10.65, less 0.20; 7.00 · 1.45 = 10.15, less 0.35.
    expect(mm(wren.nominal("lift.intake.gross"))).toBeCloseTo(10.65, 10);
    expect(mm(wren.nominal("lift.intake.net"))).toBeCloseTo(10.45, 10);
    expect(mm(wren.nominal("lift.exhaust.net"))).toBeCloseTo(9.8, 10);
  });

  it("loses lash taken at the cam multiplied by the ratio", () => {
    const atCam = sheetOf(`${DUNLIN.replace("lash-at: valve", "lash-at: cam")}${RIDGEWAY}${WREN}`);
    // (7.10 − 0.20) · 1.50.
    expect(mm(atCam.nominal("lift.intake.net"))).toBeCloseTo(10.35, 10);
  });

  it("keeps all of it with hydraulic adjusters", () => {
    const hydraulic = sheetOf(`${DUNLIN.replace("adjuster: screw", "adjuster: hydraulic")}${RIDGEWAY}${WREN}`);
    expect(mm(hydraulic.nominal("lift.intake.net"))).toBeCloseTo(10.65, 10);
  });

  it("carries the band of an asked-for lash until one is chosen", () => {
    const asked = build("fit ridgeway-272");
    const { low, high } = asked.value("lift.intake.net").interval ?? { low: 0, high: 0 };
    expect(mm(low)).toBeCloseTo(10.43, 10);
    expect(mm(high)).toBeCloseTo(10.47, 10);
  });

  it("is brought from a card's rocker ratio to the engine's", () => {
    const printed = sheetOf(`${DUNLIN}part camshaft c for dunlin-18 {\n source: "card"\n intake { valve-lift: 10.00 mm; valve-lift-ratio: 1.60 }\n}\nbuild b on dunlin-18 { fit c }`);
    expect(mm(printed.nominal("lift.intake.gross"))).toBeCloseTo((10 * 1.5) / 1.6, 10);
  });

  it("takes a fitted rocker's ratio over the engine's", () => {
    const rockers = sheetOf(`${DUNLIN}${RIDGEWAY}part rocker long for dunlin-18 { source: "box"; ratio: 1.65 }\nbuild b on dunlin-18 { fit ridgeway-272; fit long }`);
    expect(mm(rockers.nominal("lift.intake.gross"))).toBeCloseTo(7.1 * 1.65, 10);
  });

  it("says so when the file does not say where lash is taken", () => {
    const silent = sheetOf(`${DUNLIN.replace("lash-at: valve", "")}${RIDGEWAY}${WREN}`);
    expect(silent.value("lift.intake.net").assumptions.join()).toMatch(/does not say where lash is taken/);
  });
});
