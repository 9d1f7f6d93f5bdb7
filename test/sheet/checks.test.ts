/** The published checks of test/reference that a file can state, each written as a text and read off the sheet. */
import { describe, expect, it } from "vitest";
import checks from "../reference/checks.json" with { type: "json" };
import { listedPairs, pairsOf } from "../reference/formula-checks.ts";
import { toSi } from "../reference/reference-units.ts";
import { sheetOf } from "./sheet-of.ts";

type Check = (typeof checks)[number];

/** How a check is written as a file, and which value answers it. */
interface Case {
  readonly text: (given: Given) => string;
  readonly value: string;
  /** What the value is to be multiplied by before it is compared. */
  readonly times?: (given: Given) => number;
  /** The figure expected, in SI, where the check prints another thing than the value is. */
  readonly expected?: (given: Given, printed: number) => number;
}

interface Given {
  readonly id: string;
  /** An input as it would be written: `86 mm`. */
  (name: string): string;
  readonly number: (name: string) => number;
}

const UNITS: Readonly<Record<string, string>> = {
  "cm^3": "cc", "cm^3, dish +, dome -": "cc", "mm, + below deck, - above": "mm", "deg crank": "deg", "deg cam": "deg", "deg crank ATDC": "deg", "deg ABDC": "deg", "deg BTDC": "deg", "deg ATDC": "deg", "psi": "psi", "1": "",
  "lbf/in": "lbf/in", "1/in": "",
};

function givenOf(check: Check): Given {
  const inputs = check.inputs as Record<string, { value: number | string; unit: string } | undefined>;
  const input = (name: string) => {
    const found = inputs[name];
    if (!found) throw new Error(`${check.id} has no input ${name}`);
    return found;
  };
  const read = (name: string) => {
    const { value, unit } = input(name);
    return `${plain(Number(value))} ${UNITS[unit] ?? unit}`.trim();
  };
  return Object.assign(read, { id: check.id, number: (name: string) => Number(input(name).value) });
}

/** No exponent is ever written in a file. */
function plain(x: number): string {
  return String(x).includes("e") ? x.toFixed(12) : String(x);
}

const engine = (body: string) => `engine check-engine "Check" {\n  source: "a published check"\n  cylinders: 4\n${body}\n}`;
const camshaft = (intake: string, exhaust = "", more = "") => engine(`camshaft {\n ${more}\n intake { measured-at: 1.00 mm at valve; ${intake} }\n exhaust { measured-at: 1.00 mm at valve; ${exhaust} }\n}`);
const volumes = (g: Given, deck: string, piston: string, stroke = true) => `bore: ${g("B")}\n ${stroke ? `stroke: ${g("S")}` : ""}\n combustion { chamber: ${g("Vch")}; gasket-bore: ${g("Bg")}; gasket-thickness: ${g("tg")} crushed; deck: ${deck}; ${piston} }`;
const bolt = (body: string) => engine(`fastener one { ${body} }`);

const metricThread = (g: Given) => `M${g.number("d")}x${g.number("P")}`;
const INCH_SIZES: Readonly<Record<string, string>> = { "0.25": "1/4", "0.3125": "5/16", "0.375": "3/8", "0.4375": "7/16", "0.5": "1/2", "0.5625": "9/16", "0.625": "5/8", "0.875": "7/8", "1.125": "9/8" };
const COARSE: Readonly<Record<string, number>> = { "6": 1, "8": 1.25, "10": 1.5, "12": 1.75, "14": 2 };

const CASES: readonly (readonly [RegExp, Case])[] = [
  [/^g-disp-86$/, { text: (g) => engine(`bore: ${g("B")}\n stroke: ${g("S")}`), value: "displacement.total" }],
  [/^g-disp-4030$/, { text: (g) => engine(`bore: ${g("B")}\n stroke: ${g("S")}`).replace("cylinders: 4", "cylinders: 8"), value: "displacement.total" }],
  [/^g-swept/, { text: (g) => engine(`bore: ${g("B")}\n stroke: ${g("S")}`), value: "displacement.cylinder" }],
  [/^g-velmax$/, { text: (g) => engine(`stroke: ${g("S")}\n rod-length: ${g("L")}\n redline: ${g("rpm")}`), value: "piston-speed.peak" }],
  [/^g-mps(-348)?$/, { text: (g) => engine(`stroke: ${g("S")}\n redline: ${g("rpm")}`), value: "piston-speed.mean" }],
  [/^g-acc-g$/, { text: (g) => engine(`stroke: ${g("S")}\n rod-length: ${g("L")}\n redline: ${g("rpm")}`), value: "piston-acceleration.peak", expected: (_, printed) => printed * 9.80665 }],
  [/^g-inertia$/, { text: (g) => engine(`stroke: ${g("S")}\n rod-length: ${g("L")}\n redline: ${g("rpm")}\n bottom-end { reciprocating-mass: ${g("m")} }`), value: "rod-tension.peak" }],
  [/^g-rodratio$/, { text: (g) => engine(`stroke: ${g("S")}\n rod-length: ${g("L")}`), value: "rod-ratio" }],
  [/^g-gasket$/, { text: (g) => engine(`combustion { gasket-bore: ${g("Bg")}; gasket-thickness: ${g("tg")} crushed }`), value: "gasket-volume" }],
  [/^g-vc$/, { text: (g) => engine(volumes(g, `${g("dc")} below`, `piston-dish: ${g("Vp")}`, false)), value: "clearance-volume" }],
  [/^g-scr$|^g-scr-inch$/, { text: (g) => engine(volumes(g, `${g("dc")} below`, `piston-dish: ${g("Vp")}`)), value: "compression.static" }],
  [/^g-scr-dome$/, { text: (g) => engine(volumes(g, `${g("dc")} below`, `piston-dome: ${Math.abs(g.number("Vp"))} cc`)), value: "compression.static" }],
  [/^g-scr-proud$/, { text: (g) => engine(volumes(g, `${Math.abs(g.number("dc"))} mm above`, `piston-dish: ${g("Vp")}`)), value: "compression.static" }],
  [/^g-quench$/, { text: (g) => engine(`combustion { deck: ${g("dc")} below; gasket-thickness: ${g("tg")} crushed }`), value: "squish-clearance" }],
  // The clearance volume of the checks is that of the metric case: written with its parts, it is one chamber with no gasket and a piston level with the deck.
  [/^g-dcr-\d+$/, {
    text: (g) => engine(`bore: ${g("B")}\n stroke: ${g("S")}\n rod-length: ${g("L")}\n combustion { chamber: ${g.number("Vc") - 0.5} cc; gasket-volume: 0.5 cc; deck: 0 mm below; piston-dish: 0 cc }
      camshaft { intake { opens: 20 deg btdc; closes: ${g("ivc")} abdc; measured-at: 1.00 mm at valve } }`),
    value: "compression.dynamic",
  }],
  [/^v-ivo$|^v-050-ivo$/, { text: (g) => camshaft(`duration: ${g("Di")} crank; centreline: ${g("ICL")} crank`), value: "event.intake.opens" }],
  [/^v-ivc$/, { text: (g) => camshaft(`duration: ${g("Di")} crank; centreline: ${g("ICL")} crank`), value: "event.intake.closes" }],
  [/^v-ecl$/, { text: (g) => camshaft(`centreline: ${g("ICL")} crank`, "", `lobe-separation: ${g("LSA")} cam`), value: "centreline.exhaust.installed" }],
  [/^v-050-evc$/, { text: (g) => camshaft(`centreline: ${g("ICL")} crank`, `duration: ${g("De")} crank`, `lobe-separation: ${g("LSA")} cam`), value: "event.exhaust.closes" }],
  [/^v-overlap$/, { text: (g) => camshaft(`opens: ${g("IVO")} btdc; closes: 61 deg abdc`, `opens: 69 deg bbdc; closes: ${g("EVC")} atdc`), value: "overlap" }],
  [/^v-dur$/, { text: (g) => camshaft(`opens: ${g("IVO")} btdc; closes: ${g("IVC")} abdc`), value: "duration.intake" }],
  [/^v-lsa-cl$/, { text: (g) => camshaft(`centreline: ${g("ICL")} crank`, `centreline: ${g("ECL")} crank`), value: "lobe-separation" }],
  [/^v-twin-lsa$/, {
    text: (g) => `${camshaft(`centreline: ${g("ICL")} crank`, `centreline: ${g("ECL")} crank`)}

part cam-gear one for check-engine { source: "leaflet"; adjustable: yes; mark-spacing: 1 deg crank }
build twin on check-engine { fit one for intake { set: ${g("ai")} crank advanced }; fit one for exhaust { set: ${g("re")} crank retarded } }`,
    value: "lobe-separation",
  }],
  [/^v-cam2crank$/, {
    text: (g) => `${engine("")}\npart cam-gear one for check-engine { source: "leaflet"; adjustable: yes; mark-spacing: 1 deg crank }\nbuild b on check-engine { fit one { set: ${g("x")} cam retarded } }`,
    value: "cam-gear.shift",
  }],
  [/^v-tooth$/, { text: (g) => engine(`valve-gear { gear-teeth: ${g.number("z")} }`), value: "cam-gear.tooth" }],
  [/^v-gross$/, { text: (g) => `${camshaft(`lobe-lift: ${g("lobe")}`)}`.replace("camshaft {", `valve-gear { intake { rocker-ratio: ${g("ratio")} } }\n camshaft {`), value: "lift.intake.gross" }],
  [/^v-net$/, { text: (g) => camshaft(`lobe-lift: ${g("lobe")}`).replace("camshaft {", `valve-gear { lash-at: valve; intake { rocker-ratio: ${g("ratio")}; lash: ${g("lash")} cold } }\n camshaft {`), value: "lift.intake.net" }],
  [/^v-net-camside$/, { text: (g) => camshaft(`lobe-lift: ${g("lobe")}`).replace("camshaft {", `valve-gear { lash-at: cam; intake { rocker-ratio: ${g("ratio")}; lash: ${g("lash")} cold } }\n camshaft {`), value: "lift.intake.net" }],
  [/^v-sh101-k$/, { text: (g) => engine(`valve-gear { valve-spring { wire: ${g("d")}; mean-diameter: ${g("D")}; active-coils: ${g.number("N")}; shear-modulus: ${plain(g.number("G"))} psi } }`), value: "spring.rate" }],
  [/^v-rate-metric$/, { text: (g) => engine(`valve-gear { valve-spring { wire: ${g("d")}; mean-diameter: ${g("D")}; active-coils: ${g.number("N")}; shear-modulus: ${g("G")} } }`), value: "spring.rate" }],
  [/^v-rate-2pt$/, { text: (g) => engine(`valve-gear { valve-spring { seat-height: ${g("h1")}; seat-load: ${g("F1")}; open-height: ${g("h2")}; open-load: ${g("F2")} } }`), value: "spring.rate" }],
  [/^v-load-open$/, {
    text: (g) => camshaft(`valve-lift: ${g("lift")}`, `valve-lift: ${g("lift")}`).replace("camshaft {", `valve-gear { valve-spring { rate: ${g("k")}; free-length: ${g("h0")}; seat-height: ${g("h")} } }\n camshaft {`),
    value: "spring.open-load",
  }],
  [/^v-coilbind$/, {
    text: (g) => camshaft(`valve-lift: ${g("lift")}`, `valve-lift: ${g("lift")}`).replace("camshaft {", `valve-gear { valve-spring { seat-height: ${g("hi")}; solid-height: ${g("hs")} } }\n camshaft {`),
    value: "coil-bind-margin",
  }],
  [/^v-surge$/, { text: (g) => engine(`valve-gear { valve-spring { wire: ${g("d")}; mean-diameter: ${g("D")}; active-coils: ${g.number("N")}; shear-modulus: 77.2 GPa } }`), value: "spring.surge-frequency" }],
  [/^v-sh101-ls$/, { text: (g) => engine(`valve-gear { valve-spring { total-coils: ${g.number("Nt") + 1}; wire: ${g("d")} } }`), value: "spring.solid-height.intake.coil" }],
  [/^f-as-m/, { text: (g) => bolt(`thread: ${metricThread(g)}`), value: "one.stress-area" }],
  [/^f-at-/, { text: (g) => bolt(`thread: ${INCH_SIZES[String(g.number("d"))]}-${g.number("n")}`), value: "one.stress-area" }],
  [/^f-proof-m\d+-[\d.]+$/, {
    text: (g) => { const [, d = "", grade = ""] = /m(\d+)-([\d.]+)$/.exec(g.id) ?? []; return bolt(`thread: M${d}x${COARSE[d]}; class: ${grade}`); },
    value: "one.proof-load", times: (g) => ofPrintedArea(g),
  }],
  [/^f-proof-m\d+x[\d.]+-[\d.]+$/, {
    text: (g) => { const [, size = "", grade = ""] = /m(\d+x[\d.]+)-([\d.]+)$/.exec(g.id) ?? []; return bolt(`thread: M${size}; class: ${grade}`); },
    value: "one.proof-load", times: (g) => ofPrintedArea(g),
  }],
  [/^f-vdi-m\d+x.*-M$/, {
    // The load that the guideline's printed torque gives on its own friction is the load it was printed for.
    text: (g) => bolt(`thread: ${metricThread(g)}; torque: ${plain(expectedOf(g.id))} N·m oiled; head-diameter: ${g("d_w")}; hole-diameter: ${g("d_h")}`),
    value: "one.clamp-load",
  }],
  // The guideline tightens to nine tenths of what pull and twist together bring to yield.
  [/^f-vdi-m.*-F$/, {
    text: (g) => bolt(`thread: ${metricThread(g)}; class: ${/(\d+\.9|8\.8)-F$/.exec(g.id)?.[1]}; torque: 10 N·m oiled`), value: "one.yield-load", times: () => 0.9,
  }],
  [/^f-proof-[\d_]+-[\d]+-g[58]$/, {
    text: (g) => { const [, d = "", n = "", grade = ""] = /proof-(\d+_\d+)-(\d+)-g(\d)$/.exec(g.id) ?? []; return bolt(`thread: ${d.replace("_", "/")}-${n}; grade: grade ${grade}`); },
    value: "one.proof-load",
    times: (g) => { const [, a, b, n] = (/proof-(\d+)_(\d+)-(\d+)-/.exec(g.id) ?? []).map(Number) as [number, number, number, number]; return g.number("A_t") / ((Math.PI / 4) * (a / b - 0.9743 / n) ** 2); },
  }],
  [/^f-class-.*-proof$/, {
    text: (g) => { const [, grade = "", d = ""] = /class-([\d.]+)-d(\d+)-/.exec(g.id) ?? []; return bolt(`thread: M${d}x1.5; class: ${grade}; torque: 10 N·m oiled`); },
    value: "one.proof-load",
    times: (g) => { const d = Number(/-d(\d+)-/.exec(g.id)?.[1]); const area = (Math.PI / 4) * ((d - 0.9382 * 1.5) / 1000) ** 2; return 1 / area; },
  }],
  [/^f-engage-/, {
    text: (g) => bolt(`thread: M10x1.5; tapped-into: ${g.id.slice("f-engage-".length)}`),
    value: "one.engagement.required",
  }],
];

/** The printed proof loads were worked out from the printed, rounded stress areas: brings a load on the exact area to the rounded one. */
function ofPrintedArea(g: Given): number {
  const size = /m(\d+)(?:x([\d.]+))?-/.exec(g.id);
  const [diameter, pitch] = [Number(size?.[1]), Number(size?.[2] ?? COARSE[size?.[1] ?? ""])];
  return g.number("A_s") / ((Math.PI / 4) * (diameter - 0.9382 * pitch) ** 2);
}

function expectedOf(id: string): number {
  return Number(checks.find((c) => c.id === id)?.expected.value);
}

function caseOf(id: string): Case | undefined {
  return CASES.find(([pattern]) => pattern.test(id))?.[1];
}

const covered = checks.filter((check) => caseOf(check.id));

describe("a published check written as a file", () => {
  it("covers every kind of value that the sheet has a check for", () => {
    // Fewer means that a pattern above stopped matching.
    expect(covered.length).toBeGreaterThanOrEqual(90);
    for (const [pattern] of CASES) expect(checks.some((c) => pattern.test(c.id)), String(pattern)).toBe(true);
  });

  it("stands beside its formula in the list that the page of formulas is written from", () => {
    // Those of fasteners are listed by the test that reads them off the JSON.
    const read = new Map(covered.filter((check) => !check.id.startsWith("f-")).map((check) => [check.id, [(caseOf(check.id) as Case).value]] as const));
    expect(listedPairs(new Set(read.keys()))).toEqual(pairsOf(read));
  });

  for (const check of covered) {
    it(`gives ${check.what} (${check.id})`, () => {
      const one = caseOf(check.id) as Case;
      const given = givenOf(check);
      const worked = sheetOf(one.text(given)).nominal(one.value) * (one.times?.(given) ?? 1);
      const isTorque = /-M$/.test(check.id);
      const printed = isTorque ? { value: given.number("F"), unit: "kN" } : { value: Number(check.expected.value), unit: check.expected.unit };
      const expected = one.expected?.(given, printed.value) ?? toSi(printed.value, printed.unit);
      const slack = check.tolerance.kind === "relative" ? Math.abs(expected) * Number(check.tolerance.value) : Number(check.tolerance.value) * Math.abs(toSi(1, printed.unit));
      expect(Math.abs(worked - expected), `${worked} against ${expected}`).toBeLessThanOrEqual(slack * (1 + 1e-9) + Math.abs(expected) * 1e-12);
    });
  }
});
