/**
 * Three hard stories, each as it went wrong and as it was put right: what is found in them, the whole of it, and their figures worked out by hand.
 * "By hand" is plain arithmetic on the figures that stand in the files, written out here; nothing of the product's reckons on this side.
 */
import { describe, expect, it } from "vitest";
import { compareStates } from "../../server/workspace/compare.ts";
import { AS_OF, ROOT, type SheetJson, findingsIn, sheetIn, shelf, told } from "./shelf.ts";

const SHELF = shelf();

/** Two reckonings of one formula in double precision, put out with twelve digits: no closer than this, and no further. */
const SAME = 1e-9;

type Row = readonly [id: string, figure: number | readonly [low: number, nominal: number, high: number], working: string, tolerance?: number];

type MeasuredRow = readonly [id: string, place: string, figure: number, working: string, tolerance?: number];

function valueOf(sheet: SheetJson, id: string) {
  const value = sheet.values.find((v) => v.id === id);
  if (!value) throw new Error(`there is no ${id} on the sheet`);
  return value;
}

/** Figures as specified, each in the unit of the JSON sheet. A tolerance, where one stands, is in that unit too. */
function worksOut(name: string, rows: readonly Row[]): void {
  const sheet = sheetIn(SHELF, name);
  it.each(rows.map(([id, figure, working, tolerance]) => ({ id, figure, working, tolerance })))("$id is $figure: $working", ({ id, figure, tolerance }) => {
    const { low, nominal, high } = valueOf(sheet, id);
    const wanted = typeof figure === "number" ? [figure, figure, figure] : figure;
    [low, nominal, high].forEach((got, i) => expect(Math.abs((got as number) - (wanted[i] as number))).toBeLessThanOrEqual(tolerance ?? SAME * Math.max(1, Math.abs(wanted[i] as number))));
  });
}

/** Figures as measured: at the one place of the engine, or at one of several. */
function worksOutAsMeasured(name: string, rows: readonly MeasuredRow[]): void {
  const sheet = sheetIn(SHELF, name);
  it.each(rows.map(([id, place, figure, working, tolerance]) => ({ id, place, figure, working, tolerance })))("$id at '$place' is $figure as measured: $working", ({ id, place, figure, tolerance }) => {
    const found = valueOf(sheet, id).measured.find((m) => m.place === place);
    expect(found, `${id} at ${place}`).toBeDefined();
    expect(Math.abs((found?.nominal as number) - figure)).toBeLessThanOrEqual(tolerance ?? SAME * Math.max(1, Math.abs(figure)));
  });
}

function isFound(name: string, findings: readonly { readonly finding: string; readonly says: readonly string[] }[]): void {
  it("this is found, and nothing else", () => {
    const found = findingsIn(SHELF, name);
    expect(found.map((f) => told(SHELF, f).slice(name.length + 1))).toEqual(findings.map((f) => f.finding));
    found.forEach((f, i) => {
      for (const words of findings[i]?.says ?? []) expect(f.message).toContain(words);
    });
  });
}

function isClean(name: string): void {
  it("nothing is found, not even advice", () => {
    expect(findingsIn(SHELF, name).map((f) => `${told(SHELF, f)}: ${f.message}`)).toEqual([]);
  });
}

/** What a comparison of the first try with the one put right tells: every finding gone, none come. */
function putsAllRight(wrong: string, right: string, findings: number): void {
  it("between the two everything that was found is gone, and nothing new is found", () => {
    const state = (name: string) => ({ label: name, projects: [{ project: { files: SHELF.files, unreadable: new Map() }, given: [ROOT + name] }], nameOf: (uri: string) => uri, keyOf: () => "the build" });
    const { counts } = compareStates(state(wrong), state(right), { asOf: AS_OF });
    expect(counts.findings).toEqual({ new: 0, gone: findings, worse: 0, better: 0, changed: 0, waived: 0, unwaived: 0 });
    expect([counts.changed, counts.newErrors]).toEqual([1, 0]);
  });
}

const { PI } = Math;
const IN = 25.4;
const FT_LB = 1.3558179483314004;
const KGF_M = 9.80665;
const RAD = 180 / PI;
const deg = (x: number) => x / RAD;

/** Metric thread: stress area of ISO 898-1, mm². */
const metricArea = (d: number, pitch: number) => (PI / 4) * (d - 0.9382 * pitch) ** 2;
/** Inch thread: stress area of ASME B1.1, in mm². */
const inchArea = (d: number, perInch: number) => (PI / 4) * (d - 0.9743 / perInch) ** 2 * IN ** 2;

/** ISO 16047, long form with its 0.577: N for N·m on a thread of d and pitch (mm), friction mu alike in the thread and under a head that bears on a ring of this mean diameter. */
function clamp(torque: number, d: number, pitch: number, ring: number, mu: number): number {
  return (1000 * torque) / (pitch / (2 * PI) + 0.577 * (d - 0.6495 * pitch) * mu + (ring / 2) * mu);
}

describe("the skimmed head: sixteen valves, two shafts, gears set apart", () => {
  const wrong = "stories/skimmed-head/first-try.tappet";
  const right = "stories/skimmed-head/put-right.tappet";

  // One tooth of 46 at the cam is 720 / 46 crank degrees.
  const tooth = 720 / 46;
  // What comes off a head shortens the belt's driving run by as much; at 66.5 mm radius that is an angle of the cam, and twice that of the crank.
  const skim = 2 * (0.60 / 66.5) * RAD;
  const gasket = 2 * ((1.10 - 0.80) / 66.5) * RAD;
  const intake = 107 - 4 + skim + gasket;
  const exhaust = 109 - 2 - skim - gasket;

  describe("as first put together", () => {
    isFound(wrong, [
      // 120.2 − 104.55 = 15.65: to the hundredth what one tooth is.
      { finding: "38 error looks-a-tooth-off", says: ["120.2 deg", "15.6 deg later", "104.6 deg", "One tooth of 46", "a tooth late"] },
    ]);
    worksOutAsMeasured(wrong, [
      ["centreline.intake.installed", "", 120.2, "as the wheel said"],
      ["lobe-separation", "", (120.2 + 105.5) / 2, "half the sum, in cam degrees"],
      ["event.intake.opens", "", 230 / 2 - 120.2, "after top"],
      ["overlap", "", 230 / 2 - 120.2 + 224 / 2 - 105.5, "next to none"],
    ]);
    it("is a whole tooth out, within what a wheel reads to", () => {
      expect(Math.abs(120.2 - intake - tooth)).toBeLessThan(0.05);
    });
  });

  describe("put right", () => {
    isClean(right);

    const swept = (PI / 4) * 7.9 ** 2 * 8.05;
    const clearance = 31.2 + 2.9 + (PI / 4) * 8.05 ** 2 * 0.08 + (PI / 4) * 7.9 ** 2 * 0.02;
    // A spring of 3.6 mm wire, 21.4 mm across and 4.6 coils, steel of 77.2 GPa.
    const rate = (77200 * 3.6 ** 4) / (8 * 21.4 ** 3 * 4.6);
    const index = 21.4 / 3.6;
    const wahl = (4 * index - 1) / (4 * index - 4) + 0.615 / index;
    const stress = (load: number) => (wahl * 8 * load * 21.4) / (PI * 3.6 ** 3);

    worksOut(right, [
      ["displacement.total", 4 * swept, "π/4 · 7.9² · 8.05, four times"],
      ["compression.static", (swept + clearance) / clearance, "31.2 + 2.9 + π/4 · 8.05² · 0.08 + π/4 · 7.9² · 0.02 above the piston"],
      ["squish-clearance", 0.20 + 0.80, "deck and thin gasket"],
      ["piston-speed.mean", (2 * 0.0805 * 7300) / 60, "twice the stroke a turn"],
      ["cam-gear.tooth", tooth, "720 / 46"],
      ["cam-gear.skim-retard", skim, "2 · 0.60 / 66.5 of a radian"],
      ["cam-gear.gasket-retard", gasket, "2 · 0.30 / 66.5"],
      ["cam-gear.intake.shift", -4, "advanced"],
      ["cam-gear.exhaust.shift", 2, "retarded"],
      ["cam-gear.intake.marks", -2, "two degrees a mark"],
      ["cam-gear.exhaust.marks", 1, "likewise"],
      ["centreline.intake.installed", intake, "107 − 4, and later by skim and gasket"],
      ["centreline.exhaust.installed", exhaust, "109 − 2, and nearer to top by skim and gasket"],
      ["lobe-separation", 105, "(107 − 4 + 109 − 2) / 2: what skim and gasket take from one side they give to the other"],
      ["event.intake.opens", 115 - intake, "half the duration before the nose, before top"],
      ["event.intake.closes", 115 + intake - 180, "after bottom"],
      ["event.exhaust.opens", 112 + exhaust - 180, "before bottom"],
      ["event.exhaust.closes", 112 - exhaust, "after top"],
      ["overlap", 17, "115 + 112 − 2 · 105"],
      ["lift.intake.net", 9.60 - 0.20, "buckets: ratio 1"],
      ["lift.exhaust.net", 9.30 - 0.25, "likewise"],
      ["spring.rate", rate, "G · d⁴ / (8 · D³ · n), a machine-design textbook"],
      ["spring.open-load.intake", 250 + rate * 9.60, "seat load and rate times lift"],
      ["spring.open-load.exhaust", 250 + rate * 9.30, "likewise"],
      ["spring.stress.intake", stress(250 + rate * 9.60), "K · 8 · F · D / (π · d³), K after Wahl with c = 5.944"],
      ["coil-bind-margin.intake", 35.0 - 9.60 - 23.2, "height, less lift, less solid height; the shaft asks for 1.2"],
      ["coil-bind-margin.exhaust", 35.0 - 9.30 - 23.2, "likewise"],
      ["retainer-guide-margin.intake", 12.2 - 9.60, "likewise to the guide"],
      ["lash.intake.blades.go", 0.20, "a blade of the set"],
      ["lash.intake.blades.no-go", 0.22, "the next one"],
      ["rod-bolt.proof-load", metricArea(8, 1) * 830, "π/4 · (8 − 0.9382)² at 830 MPa, class 10.9"],
    ]);

    // The lobes as they stand in the file, every ten degrees from the nose on; both flanks alike.
    const LOBES = {
      intake: [9.60, 9.51, 9.23, 8.77, 8.14, 7.34, 6.40, 5.36, 4.26, 3.18, 2.19, 1.35, 0.71, 0.29, 0.08],
      exhaust: [9.30, 9.21, 8.93, 8.46, 7.82, 7.01, 6.07, 5.02, 3.94, 2.88, 1.92, 1.13, 0.56, 0.20, 0.04],
    } as const;
    /** Between readings by the cubic through the four nearest (Lagrange): good to a hundredth on a curve as smooth as this. */
    const lift = (side: keyof typeof LOBES, fromNose: number): number => {
      const x = Math.abs(fromNose) / 10;
      const at = (i: number) => LOBES[side][Math.abs(i)] ?? 0;
      const first = Math.floor(x) - 1;
      return [0, 1, 2, 3].reduce((sum, i) => sum + at(first + i) * [0, 1, 2, 3].reduce((p, j) => (i === j ? p : (p * (x - first - j)) / (i - j)), 1), 0);
    };
    const HUNDREDTH = 0.01;
    const travel = (atdc: number) => {
      const [crank, rod] = [40.25, 134];
      return crank * (1 - Math.cos(deg(atdc))) + rod - Math.sqrt(rod ** 2 - (crank * Math.sin(deg(atdc))) ** 2);
    };
    const sweep = Array.from({ length: 1201 }, (_, i) => i / 10 - 60);
    const nose = { intake, exhaust: -exhaust };
    // Recess 1.8 mm as new, of which the skim left 1.2; pockets 2.2 and 2.6 mm; stems 22 degrees off the cylinder.
    const room = (side: keyof typeof LOBES, pocket: number, atdc: number) => (0.20 + 0.80 + 1.8 - 0.60 + travel(atdc)) * Math.cos(deg(22)) + pocket - lift(side, atdc - nose[side]);
    // Two heads seen edge on, 31 mm apart: each leans 22 degrees and comes down along its stem towards the middle.
    const edge = (from: 1 | -1, diameter: number, lifted: number, along: number): readonly [number, number] => {
      const [s, c] = [Math.sin(deg(22)), Math.cos(deg(22))];
      return [from * (15.5 - lifted * s - along * (diameter / 2) * c), -lifted * c + along * (diameter / 2) * s];
    };
    const apart = (atdc: number): number => {
      const [li, le] = [lift("intake", atdc - nose.intake), lift("exhaust", atdc - nose.exhaust)];
      let least = Infinity;
      for (const [p, d, lp, q, e, lq] of [[-1, 31.5, li, 1, 27.0, le], [1, 27.0, le, -1, 31.5, li]] as const) {
        const corner = edge(p, d, lp, 1);
        for (let i = -100; i <= 100; i++) {
          const other = edge(q, e, lq, i / 100);
          least = Math.min(least, Math.hypot(corner[0] - other[0], corner[1] - other[1]));
        }
      }
      return least;
    };

    worksOut(right, [
      ["lift.intake.at-tdc", lift("intake", intake), "the lobe 104.55 degrees off its nose", HUNDREDTH],
      ["lift.exhaust.at-tdc", lift("exhaust", exhaust), "the lobe 105.45 degrees off its nose", HUNDREDTH],
      ["piston-valve.intake.clearance", Math.min(...sweep.map((a) => room("intake", 2.2, a))), "(deck + gasket + what is left of the recess + travel) · cos 22° + pocket − lift, the least of it", HUNDREDTH],
      ["piston-valve.exhaust.clearance", Math.min(...sweep.map((a) => room("exhaust", 2.6, a))), "likewise", HUNDREDTH],
      ["valve-to-valve.clearance", Math.min(...sweep.map(apart)), "the least distance of two discs seen edge on", 0.02],
      ["valve-recess.intake.after-skim", 1.8 - 0.60, "the face came up to the valves"],
    ]);
    worksOutAsMeasured(right, [
      ["compression.static", "cylinder 4", (swept + clearance - 0.1) / (clearance - 0.1), "the chamber of 31.1 cc"],
      ["piston-valve.intake.clearance", "", 2.2, "checking springs"],
      ["shim.intake.new", "intake a, cylinder 1", 2.55, "lash right: the shim stays"],
      ["lobe-separation", "", (104.5 + 105.5) / 2, "as degreed"],
    ]);
  });

  putsAllRight(wrong, right, 1);

  describe("everything moves the right way", () => {
    const altered = (from: string, to: string) => {
      const changed = shelf((name, text) => (name === right ? text.replace(from, to) : text));
      expect([...changed.files.get(`file:///samples/${right}`)?.source.text ?? ""].length).not.toBe([...SHELF.files.get(`file:///samples/${right}`)?.source.text ?? ""].length);
      return sheetIn(changed, right);
    };
    const by = (id: string, without: SheetJson) => (valueOf(sheetIn(SHELF, right), id).nominal as number) - (valueOf(without, id).nominal as number);

    it("advancing the intake brings it nearer to piston, exhaust valve and exhaust lobe", () => {
      const without = altered("fit saltgate-v46 for intake  { set: 4 deg crank advanced; marks: 2 }", "fit saltgate-v46 for intake { set: 0 deg crank advanced }");
      expect(by("centreline.intake.installed", without)).toBeCloseTo(-4, 9);
      expect(by("lobe-separation", without)).toBeCloseTo(-2, 9);
      expect(by("piston-valve.intake.clearance", without)).toBeLessThan(-0.2);
      expect(by("piston-valve.exhaust.clearance", without)).toBeCloseTo(0, 9);
      expect(by("valve-to-valve.clearance", without)).toBeLessThan(-0.1);
    });
    it("retarding the exhaust does the same on its side", () => {
      const without = altered("fit saltgate-v46 for exhaust { set: 2 deg crank retarded; marks: 1 }", "fit saltgate-v46 for exhaust { set: 0 deg crank retarded }");
      expect(by("centreline.exhaust.installed", without)).toBeCloseTo(-2, 9);
      expect(by("lobe-separation", without)).toBeCloseTo(-1, 9);
      expect(by("piston-valve.exhaust.clearance", without)).toBeLessThan(-0.1);
      expect(by("piston-valve.intake.clearance", without)).toBeCloseTo(0, 9);
      expect(by("valve-to-valve.clearance", without)).toBeLessThan(-0.05);
    });
    it("skimming runs both late, moves no lobe from the other, and brings both valves nearer to the piston", () => {
      const without = altered("combustion { skim: 0.60 mm; chamber: 31.2 cc }", "");
      expect(by("centreline.intake.installed", without)).toBeCloseTo(skim, 9);
      expect(by("centreline.exhaust.installed", without)).toBeCloseTo(-skim, 9);
      expect(by("lobe-separation", without)).toBeCloseTo(0, 9);
      // The intake opens later and so keeps a little of what the face took; the exhaust shuts later and loses more.
      expect(by("piston-valve.intake.clearance", without)).toBeGreaterThan(-0.60 * Math.cos(deg(22)));
      expect(by("piston-valve.intake.clearance", without)).toBeLessThan(-0.3);
      expect(by("piston-valve.exhaust.clearance", without)).toBeLessThan(-0.60 * Math.cos(deg(22)));
      expect(by("compression.static", without)).toBeGreaterThan(0.4);
    });
    it("a skim without a chamber measured since takes its share of the chamber off", () => {
      const sheet = altered("skim: 0.60 mm; chamber: 31.2 cc", "skim: 0.60 mm");
      // 38 cm² at the face, 0.060 cm of it.
      expect(valueOf(sheet, "chamber.after-skim").nominal).toBeCloseTo(33.5 - 38 * 0.06, 9);
    });
  });
});

describe("the decked block: a van's V8, put together with what would still do", () => {
  const wrong = "stories/decked-block/first-try.tappet";
  const right = "stories/decked-block/put-right.tappet";

  putsAllRight(wrong, right, 6);

  // One turn of a nut on 24 threads an inch lets the rocker's middle down by 1/24 in, and its other arm, at 1 to 1.5, by two thirds of that more.
  const preload = (turns: number) => (turns / 24) * (1 + 1 / 1.5) * IN;
  // Grade 8 of SAE J429: 120 ksi, in MPa.
  const grade8 = 120000 * 0.45359237 * 9.80665 / 645.16;
  const proof = inchArea(0.4375, 14) * grade8;

  describe("as first put together", () => {
    isFound(wrong, [
      { finding: "21 advice pushrod-geometry", says: ["7.620 in", "7.608 in"] },
      { finding: "24 warning used-follower-on-new-cam", says: ["Flat hydraulic tappet", "Pennard 208/216", "flat faces"] },
      // 1.650 − .300 · 1.50 = 1.200; the intake, 1.650 − .292 · 1.50 = 1.212.
      { finding: "25 error coil-bind-margin", says: ["inner exhaust spring", "1.200 in", "1.215 in", ".060 in", "intake one stands at 1.212 in"] },
      // .75 / 24 · (1 + 1 / 1.5) = .0521; .020 and .045 of that are 0.288 and 0.648 of a turn.
      { finding: "30 warning preload-out-of-range", says: ["0.0521 in", ".020 .. .045 in", "0.29 … 0.65 turn"] },
      { finding: "31 warning preload-out-of-range", says: ["0.0521 in", ".020 .. .045 in"] },
      // Friction 0.18 dry against 0.12 oiled: 65 ft-lb dry is as much as 46 ft-lb oiled.
      { finding: "35 warning lubricant-changes-load", says: ["65 ft-lb oiled", "65 ft-lb dry", "about 40 % more", "124 % of its proof load", "about 46 ft-lb"] },
    ]);
    worksOut(wrong, [
      ["lifter.intake.preload", preload(3 / 4), "three quarters of a turn"],
      ["lifter.exhaust.preload", preload(3 / 4), "likewise"],
      ["coil-bind-margin.intake.outer", (1.700 - 0.292 * 1.5 - 1.110) * IN, "the outer has room"],
      ["coil-bind-margin.exhaust.outer", (1.700 - 0.300 * 1.5 - 1.110) * IN, "likewise"],
      ["coil-bind-margin.intake.inner", (1.650 - 0.292 * 1.5 - 1.215) * IN, "the inner is solid .003 in too soon"],
      ["coil-bind-margin.exhaust.inner", (1.650 - 0.300 * 1.5 - 1.215) * IN, ".015 in too soon"],
      ["pushrod-length.intake.same-angle", (7.620 - 0.012) * IN, "what came off the block"],
      ["head-bolt.torque", 65 * FT_LB, "65 ft-lb"],
      ["head-bolt.proof-load", proof, "π/4 · (.4375 − .9743 / 14)² at 120 ksi, SAE J429 grade 8"],
    ]);
  });

  describe("put right", () => {
    isClean(right);

    const swept = (PI / 4) * 3.780 ** 2 * 3.310 * 16.387064;
    const clearance = 60.5 + 7.0 + (PI / 4) * (3.880 ** 2 * 0.038 + 3.780 ** 2 * 0.010) * 16.387064;
    // Steel of 77.2 GPa; inches to millimetres.
    const rate = (wire: number, across: number, coils: number) => (77200 * (wire * IN) ** 4) / (8 * (across * IN) ** 3 * coils);
    const pair = rate(0.172, 1.060, 4.6) + rate(0.112, 0.720, 7.4);
    const LBF = 4.4482216152605;

    worksOut(right, [
      ["displacement.total", 8 * swept, "π/4 · 3.780² · 3.310 cu-in, eight times"],
      ["compression.static", (swept + clearance) / clearance, "60.5 + 7.0 cc, gasket 3.880 by .038, deck .010 in"],
      ["squish-clearance", 0.048 * IN, ".010 + .038 in"],
      ["piston-speed.mean", (2 * 0.0254 * 3.310 * 5200) / 60, "twice the stroke a turn"],
      ["lobe-separation", 111, "(107 + 115) / 2"],
      ["event.intake.opens", 104 - 107, "half of 208 before the nose: 3 after top"],
      ["event.exhaust.closes", 108 - 115, "7 before top"],
      ["overlap", -10, "at .050 in both are shut for a while"],
      ["lift.intake.gross", 0.292 * 1.5 * IN, "lobe lift times 1.50"],
      ["lift.exhaust.gross", 0.300 * 1.5 * IN, "likewise"],
      ["lifter.intake.preload", preload(1 / 2), "half a turn: .0347 in"],
      ["lifter.exhaust.preload", preload(1 / 2), "likewise"],
      ["spring.rate", pair, "G · d⁴ / (8 · D³ · n) of each, added"],
      ["spring.seat-load", (88 + 34) * LBF, "added"],
      ["spring.open-load.exhaust", (88 + 34) * LBF + pair * 0.450 * IN, "and rate times lift"],
      ["coil-bind-margin.exhaust.outer", (1.700 - 0.450 - 1.110) * IN, ".140 in"],
      ["coil-bind-margin.exhaust.inner", (1.650 - 0.450 - 1.060) * IN, ".140 in"],
      ["coil-bind-margin.intake", (1.650 - 0.438 - 1.060) * IN, ".152 in; the card asks for .060"],
      ["retainer-guide-margin.exhaust", (0.555 - 0.450) * IN, ".105 in"],
      ["head-bolt.proof-load", proof, "as before"],
    ]);

    it("a head bolt pulled dry to the manual's figure clamps about what 46 ft-lb does oiled", () => {
      const pitch = IN / 14;
      // No head is stated: a washer face of 1.25 diameters, a machine-design textbook.
      const ring = 1.25 * 0.4375 * IN;
      const nominal = valueOf(sheetIn(SHELF, right), "head-bolt.clamp-load").nominal as number;
      expect(nominal).toBeCloseTo(clamp(65 * FT_LB, 0.4375 * IN, pitch, ring, 0.18), 0);
      expect(clamp(46 * FT_LB, 0.4375 * IN, pitch, ring, 0.12) / nominal).toBeCloseTo(1, 1);
    });
  });
});

describe("the finger's shims: one cylinder, lash at the cam, a book in kilogram-metres", () => {
  const wrong = "stories/finger-shims/first-try.tappet";
  const right = "stories/finger-shims/put-right.tappet";

  putsAllRight(wrong, right, 3);

  // The shim lies on the valve and the feeler at the cam: what the lash lacks there is 1.40 times as much at the valve.
  const wanted = 2.60 + (0.05 - 0.08) * 1.40;
  const lashWith = (shim: number) => 0.05 + (2.60 - shim) / 1.40;

  describe("as first put together", () => {
    isFound(wrong, [
      { finding: "14 error unit-mixed", says: ["6.5 N·m", "6.5 kg-m", "63.7 N·m"] },
      { finding: "24 error lash-tight", says: ["0.05 mm", "0.08 ± 0.02 mm cold"] },
      // 2.558 mm: 2.60 is nearest of the whole tenths and tight; 2.50 leaves 0.05 + 0.10 / 1.40 = 0.121.
      { finding: "24 warning shim-unavailable", says: ["2.558 mm", "2.60 mm, leaves it tight", "2.50 mm, leaves 0.12 mm"] },
    ]);
    worksOut(wrong, [["head-nut.torque", 6.5, "as typed"]]);
    worksOutAsMeasured(wrong, [
      ["shim.intake.wanted", "", wanted, "2.60 − 0.03 · 1.40"],
      ["shim.intake.new", "", 2.50, "of whole tenths the thickest that is not tight"],
      ["shim.intake.new-lash", "", lashWith(2.50), "0.05 + 0.10 / 1.40"],
      ["shim.exhaust.new", "", 2.70, "its lash is right: it stays"],
    ]);
    it("a firing order is not asked of one cylinder, nor is 4 bar past a decompressor a finding", () => {
      const said = findingsIn(SHELF, wrong).map((f) => f.message).join("\n");
      expect(said).not.toMatch(/firing|cranking|4\.0 bar|compression/);
      expect(sheetIn(SHELF, wrong).values.map((v) => v.id)).not.toContain("valve-setting.1.crank");
    });
  });

  describe("put right", () => {
    isClean(right);

    const swept = (PI / 4) * 7.9 ** 2 * 7.1;
    const clearance = 44.6 - 4.2 + (PI / 4) * 8.0 ** 2 * 0.1 + (PI / 4) * 7.9 ** 2 * 0.02;
    const rate = (77200 * 3.8 ** 4) / (8 * 24.0 ** 3 * 5.0);
    const proof = metricArea(10, 1.25) * 830;

    worksOut(right, [
      ["displacement.total", swept, "π/4 · 7.9² · 7.1, one cylinder"],
      ["compression.static", (swept + clearance) / clearance, "the dome takes away: 44.6 − 4.2 + π/4 · 8.0² · 0.10 + π/4 · 7.9² · 0.02"],
      ["squish-clearance", 0.20 + 1.00, "deck and gasket"],
      ["piston-speed.mean", (2 * 0.071 * 7200) / 60, "twice the stroke a turn"],
      ["lift.intake.gross", 5.80 * 1.40, "lobe lift times 1.40"],
      ["lift.intake.net", (5.80 - 0.08) * 1.40, "lash at the cam is lost before the finger multiplies"],
      ["lift.exhaust.net", (5.60 - 0.12) * 1.40, "likewise"],
      ["lobe-separation", (105 + 109) / 2, "one shaft"],
      ["overlap", 0, "108 − 105 + 106 − 109"],
      ["spring.rate", rate, "G · d⁴ / (8 · D³ · n)"],
      ["spring.open-load.intake", 210 + rate * 5.80 * 1.40, "seat load and rate times lift"],
      ["coil-bind-margin.intake", 37.0 - 5.80 * 1.40 - 26.6, "height, less lift, less solid height"],
      ["retainer-guide-margin.intake", 11.4 - 5.80 * 1.40, "likewise to the guide"],
      ["head-nut.torque", 6.5 * KGF_M, "6.5 kilogram-force metres, NIST SP 811"],
      ["head-nut.torque-other-units", (6.5 * KGF_M) / FT_LB, "in foot-pounds"],
      ["head-nut.proof-load", proof, "π/4 · (10 − 0.9382 · 1.25)² at 830 MPa, class 10.9"],
    ]);
    worksOutAsMeasured(right, [
      ["coil-bind-margin.intake", "", 37.1 - 5.80 * 1.40 - 26.6, "at 37.1 mm, as measured"],
      ["lift.intake.net", "", (5.80 - 0.09) * 1.40, "with the lash that the feeler found"],
      ["shim.intake.new", "", 2.55, "in, and right"],
      ["shim.intake.new-lash", "", 0.09, "so it stays"],
    ]);
    it("the half size leaves what the feeler then found", () => {
      expect(lashWith(2.55)).toBeCloseTo(0.0857, 4);
      expect(lashWith(2.55).toFixed(2)).toBe("0.09");
    });
    it("head nuts clamp a band, from oiled threads at their stickiest to their slickest", () => {
      const sheet = sheetIn(SHELF, right);
      // A nut of M10 bears from its hole of 11 mm (ISO 273) to its face of 14.63 (ISO 4014).
      const ring = (14.63 + 11) / 2;
      const { low, nominal, high } = valueOf(sheet, "head-nut.clamp-load");
      const [t, d, p] = [6.5 * KGF_M, 10, 1.25];
      // The wrench is good to 4 %; oiled is 0.08 to 0.16.
      expect(low).toBeCloseTo(clamp(0.96 * t, d, p, ring, 0.16), 0);
      expect(nominal).toBeCloseTo(clamp(t, d, p, ring, 0.12), 0);
      expect(high).toBeCloseTo(clamp(1.04 * t, d, p, ring, 0.08), 0);
    });
  });
});
