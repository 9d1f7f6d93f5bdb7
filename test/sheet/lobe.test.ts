/** Lobes measured point by point, from the text to what follows from them. */
import { describe, expect, it } from "vitest";
import checks from "../reference/checks.json" with { type: "json" };
import { DUNLIN } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

/** Rows of a cosine lobe, told in the unit of `peak`, every `step` degrees of its own count from `from` degrees off. */
function rows(peak: number, duration: number, step: number, { per = 1, from = 0, noise = (_: number): number => 0, digits = 6 } = {}): string {
  const lines: string[] = [];
  for (let deg = -duration / 2 - 2 * step; deg <= duration / 2 + 2 * step + 1e-9; deg += step) {
    const lift = Math.abs(deg) >= duration / 2 ? 0 : (peak / 2) * (1 + Math.cos((2 * Math.PI * deg) / duration));
    lines.push(`| ${((deg + from) / per).toFixed(3)} | ${(lift + noise(lines.length)).toFixed(digits)} |`);
  }
  return lines.join("\n");
}

const expected = (id: string) => {
  const check = checks.find((c) => c.id === id);
  if (!check || typeof check.expected.value !== "number") throw new Error(`no check ${id}`);
  return check.expected.value;
};

/** The published case of a valve that follows its piston, as a file: a gap of 0.180 in with the piston at the top and the valve shut. */
const published = (lobe = `lobe {\n| angle (deg crank) | lift (in at valve) |\n${rows(0.46, 270, 2.5)}\n}`, centreline = "centreline: 106 deg crank", more = "") => sheetOf(`engine e "Check" {
  source: "a published check"; cylinders: 8
  stroke: 3.48 in; rod-length: 5.7 in; redline: 6000 rpm
  combustion { deck: .020 in below; gasket-thickness: .040 in crushed }
  valve-gear { lash-at: valve; intake { rocker-ratio: 1.5; valve-recess: .120 in; valve-angle: 0 deg; pocket-depth: 0 mm; lash: .010 in cold; ${more} } }
  camshaft { intake { ${centreline}; ${lobe} } }
}`);

/** The same rows as a file: cells parted by `by`, decimals by `mark`. */
function fileOf(head: string, table: string, by: string, mark = "."): string {
  return [head, ...table.split("\n").map((row) => row.split("|").slice(1, 3).map((cell) => cell.trim().replace(".", mark)).join(by))].join("\r\n");
}

describe("a lobe in a file of its own", () => {
  const inFile = (text: string, more = "") => sheetOf(`engine e "Check" {
  source: "a published check"; cylinders: 8
  stroke: 3.48 in; rod-length: 5.7 in; redline: 6000 rpm
  combustion { deck: .020 in below; gasket-thickness: .040 in crushed }
  valve-gear { lash-at: valve; intake { rocker-ratio: 1.5; valve-recess: .120 in; valve-angle: 0 deg; pocket-depth: 0 mm; lash: .010 in cold } }
  camshaft { intake { centreline: 106 deg crank; lobe { file: "lobes/intake.csv"; ${more} } } }
}`, undefined, false, { "lobes/intake.csv": text });
  // Written far finer than any dial, so that only the units differ.
  const fine = (peak: number, more = {}) => rows(peak, 270, 2.5, { ...more, digits: 12 });
  const written = published(`lobe {\n| angle (deg crank) | lift (in at valve) |\n${fine(0.46)}\n}`);
  const IDS = ["lobe.intake.lift", "duration.intake.at-lash", "lift.intake.at-tdc", "piston-valve.intake.clearance", "piston-valve.intake.at-degree", "valve-acceleration.intake.nose"];

  it.each([
    ["commas", fileOf("angle (deg crank),lift (in at valve)", fine(0.46), ","), ""],
    ["semicolons and decimal commas", fileOf("Angle [deg crank];Lift [mm at valve]", fine(0.46 * 25.4), ";", ","), ""],
    ["tabs, thousandths and cam degrees", fileOf("cam angle deg\tvalve lift thou", fine(460, { per: 2 }), "\t"), ""],
    ["a heading that leaves whose degrees and where to the block", fileOf("angle (deg),lift (in)", fine(0.46), ","), "degrees: crank; read-at: valve"],
    ["a line of remarks above the headings, and a column more", `# measured on the wheel\n\nShaft 272,second reading,\nrow,${fileOf("angle (deg crank),lift (in at valve)", fine(0.46), ",").replaceAll("\r\n", "\n1,")}`, ""],
  ])("gives what the same table gives in the text: %s", (_, text, more) => {
    const file = inFile(text, more);
    for (const id of IDS) expect(file.nominal(id) / written.nominal(id), id).toBeCloseTo(1, 6);
  });

  it("says where the figures stand, and that it was assumed whose degrees they are", () => {
    const file = inFile(fileOf("angle (deg),lift (in)", fine(0.46), ","));
    expect(file.value("lift.intake.at-tdc").assumptions).toEqual(["the lobe's table does not say whose degrees it counts: taken as crank; the lobe's table does not say where lift was read: taken at the lobe"]);
    const at = file.value("lift.intake.at-tdc").inputs.find((input) => input.thing)?.thing?.location;
    expect(at?.tree.text.slice(at.span.start, at.span.end)).toBe('"lobes/intake.csv"');
  });

  it("gives nothing where it is not there, or is no table", () => {
    for (const text of ["", "Dear builder,\nas you asked\n", "angle (deg crank),lift (in at valve)\n-10,x\n", "angle (deg crank),lift\n-10,1\n", `angle (deg crank),lift (mm)\n${"1,1\n".repeat(10_001)}`]) {
      const file = inFile(text);
      expect(file.value("piston-valve.intake.clearance").interval).toBeUndefined();
    }
  });
});

describe("piston and valve by a measured lobe", () => {
  it("come as near as the published sweep says, at its degree", () => {
    const w = published();
    expect(w.nominal("piston-valve.intake.clearance") / 0.0254).toBeCloseTo(expected("v-ptv-min"), 4);
    expect(Math.abs(w.nominal("piston-valve.intake.at-degree") - expected("v-ptv-angle"))).toBeLessThan(0.3);
  });

  it("are the same whether the lobe is counted in cam degrees, from top dead centre, or read at the lobe", () => {
    const usual = published().nominal("piston-valve.intake.clearance");
    const cam = published(`lobe {\n| angle (deg cam) | lift (in at valve) |\n${rows(0.46, 270, 2.5, { per: 2 })}\n}`);
    expect(cam.nominal("piston-valve.intake.clearance")).toBeCloseTo(usual, 6);
    const atLobe = published(`lobe {\n| angle (deg crank) | lift (in at lobe) |\n${rows(0.46 / 1.5, 270, 2.5)}\n}`);
    expect(atLobe.nominal("piston-valve.intake.clearance")).toBeCloseTo(usual, 6);
    const fromTop = published(`lobe {\ncounted-from: tdc\n| angle (deg crank) | lift (in at valve) |\n${rows(0.46, 270, 2.5, { from: 106 })}\n}`, "measured-at: 1.00 mm at valve");
    expect(fromTop.nominal("centreline.intake.installed")).toBeCloseTo(106, 6);
    expect(fromTop.nominal("piston-valve.intake.clearance")).toBeCloseTo(usual, 6);
  });

  it("come nearer on the intake when the gear is advanced, and on the exhaust when it is retarded", () => {
    const lobe = `lobe {\n| angle (deg crank) | lift (mm at lobe) |\n${rows(7.1, 290, 5)}\n}`;
    const build = (set: string) => sheetOf(`${DUNLIN.replace("intake  { per", "intake  { valve-recess: 3.2 mm; valve-angle: 18 deg; per").replace("exhaust { per", "exhaust { valve-recess: 3.2 mm; valve-angle: 18 deg; per")}
part camshaft shaft for dunlin-18 { source: "card"\n intake { centreline: 109 deg crank\n ${lobe} }\n exhaust { centreline: 113 deg crank\n ${lobe} }\n }
part cam-gear gear for dunlin-18 { source: "leaflet"; adjustable: yes; mark-spacing: 1 deg crank }
build b on dunlin-18 { fit shaft; fit gear { set: ${set} } }`);
    const [advanced, zero, retarded] = ["4 deg crank advanced", "0 deg crank retarded", "4 deg crank retarded"].map(build);
    const gap = (w: typeof zero, side: string) => w?.nominal(`piston-valve.${side}.clearance`) ?? NaN;
    expect(gap(advanced, "intake")).toBeLessThan(gap(zero, "intake"));
    expect(gap(zero, "intake")).toBeLessThan(gap(retarded, "intake"));
    expect(gap(retarded, "exhaust")).toBeLessThan(gap(zero, "exhaust"));
    expect(gap(zero, "exhaust")).toBeLessThan(gap(advanced, "exhaust"));
    expect(zero?.nominal("piston-valve.intake.at-degree")).toBeGreaterThan(0);
    expect(zero?.nominal("piston-valve.exhaust.at-degree")).toBeLessThan(0);
  });

  it("have no gap where no lobe was measured, and the sheet names what would give it", () => {
    const w = published("measured-at: 1.00 mm at valve; duration: 236 deg crank");
    expect(w.value("piston-valve.intake.clearance").interval).toBeUndefined();
    expect(w.value("piston-valve.intake.clearance").missing.map((m) => m.path)).toEqual(["camshaft.intake.lobe"]);
  });

  it("say that a crown is taken as flat where no pocket is given", () => {
    const w = sheetOf(`engine e "Check" {\n source: "test"; cylinders: 1; stroke: 3.48 in; rod-length: 5.7 in\n combustion { deck: .020 in below; gasket-thickness: .040 in crushed }
      valve-gear { intake { rocker-ratio: 1.5; valve-recess: .120 in; valve-angle: 0 deg } }\n camshaft { intake { centreline: 106 deg crank\n lobe {\n| angle (deg crank) | lift (in at valve) |\n${rows(0.46, 270, 2.5)}\n} } } }`);
    expect(w.value("piston-valve.intake.clearance").assumptions.join()).toMatch(/flat crown/);
  });
});

describe("what else a lobe says", () => {
  const w = published();

  it("is how long the valve is off its seat at the set lash", () => {
    // 0.46/2 · (1 + cos(2πx/270)) = 0.010 at half of it either side of the nose.
    const half = (270 / (2 * Math.PI)) * Math.acos((2 * 0.01) / 0.46 - 1);
    expect(w.nominal("duration.intake.at-lash")).toBeCloseTo(2 * half, 0);
  });

  it("is how far the valve stands open at the top", () => {
    expect(w.nominal("lift.intake.at-tdc") / 0.0254).toBeCloseTo((0.46 / 2) * (1 + Math.cos((2 * Math.PI * 106) / 270)), 4);
  });

  it("is how hard the spring must pull over the nose, also where the dial was read to a hundredth", () => {
    const exact = (0.46 / 2) * 0.0254 * ((2 * Math.PI) / 270) ** 2 * (6 * 6000) ** 2;
    expect(w.nominal("valve-acceleration.intake.nose") / exact).toBeCloseTo(1, 1);
    const noisy = published(`lobe {\n| angle (deg crank) | lift (in at valve) |\n${rows(0.46, 270, 2.5, { noise: (i) => (i % 2 === 0 ? 0.0002 : 0) })}\n}`);
    expect(noisy.nominal("valve-acceleration.intake.nose") / exact).toBeGreaterThan(0.9);
    expect(noisy.nominal("valve-acceleration.intake.nose") / exact).toBeLessThan(1.15);
  });

  it("is its own lift, where the card prints none", () => {
    expect(w.nominal("lift.intake.gross") / 0.0254).toBeCloseTo(0.46, 6);
  });
});

describe("rows that cannot be read in order", () => {
  it("give nothing, and no number that is none", () => {
    const w = published("lobe {\n| angle (deg crank) | lift (in at valve) |\n| 0 | .4 |\n| -5 | .39 |\n| 5 | .39 |\n}");
    const value = w.value("piston-valve.intake.clearance");
    expect(value.interval).toBeUndefined();
    expect(value.impossible).toMatch(/lobe/);
    for (const v of w.sheet.values) if (v.interval) for (const x of Object.values(v.interval)) expect(Number.isFinite(x), v.id).toBe(true);
  });
});

describe("two valves that face each other", () => {
  const twin = (intake: number, exhaust: number) => {
    const lobe = `lobe {\n| angle (deg crank) | lift (mm at lobe) |\n${rows(9.8, 280, 5)}\n}`;
    return sheetOf(`engine e "Twin" {\n source: "test"; cylinders: 4; stroke: 88 mm; rod-length: 145 mm
      valve-gear { layout: dohc; actuation: bucket; valve-centres: 40 mm\n intake { valve-diameter: 33.5 mm; valve-angle: 22 deg }\n exhaust { valve-diameter: 29 mm; valve-angle: 22 deg } }
      camshaft { intake { centreline: ${intake} deg crank\n ${lobe} }\n exhaust { centreline: ${exhaust} deg crank\n ${lobe} } } }`);
  };

  it("come nearer the nearer their lobes stand to each other", () => {
    const gaps = [twin(96, 96), twin(101, 101), twin(106, 106)].map((w) => w.nominal("valve-to-valve.clearance"));
    expect(gaps[0]).toBeLessThan(gaps[1] as number);
    expect(gaps[1]).toBeLessThan(gaps[2] as number);
    // Shut, the inner edges of 33.5 and 29 mm heads leaning 22° stand 40 − (16.75 + 14.5)·cos 22° apart across; open ones only come nearer.
    expect(gaps[2]).toBeLessThan((40 - (16.75 + 14.5) * Math.cos((22 * Math.PI) / 180)) / 1000);
  });
});
