// The clamp load of each fastener as the band that a torque really gives, against the load it is tested to hold. Judges nothing.
import { shortened } from "../../grammar/visible.ts";
import { type EffectiveBuild, wordAt } from "../model/effective.ts";
import { formatBand, formatNumber } from "../quantity/display.ts";
import { exactly } from "../quantity/interval.ts";
import type { Interval } from "../quantity/interval.ts";
import { anchorAt, figuresAlong, scaleOf } from "./axis.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { type Svg, box, frame, hatch, label, line } from "./svg.ts";

const ID = "clamp-bands";
const TOP = 1.6;
const ROW = 2.9;

interface Row {
  readonly name: string;
  /** Share of the proof load. */
  readonly share: Interval;
  readonly load: string;
  readonly proof: string;
  readonly toYield: boolean;
}

/** One row a fastener whose clamp and proof loads are both worked out, on one scale of per cent of proof load; nothing where there is none. */
export function clampBands({ build, sheet, system }: DrawingSource): Drawing | undefined {
  const rows = build.fasteners.flatMap((name): Row[] => {
    const [share, load, proof] = ["proof-fraction", "clamp-load", "proof-load"].map((what) => sheet.byId.get(`${name}.${what}`)?.interval);
    return share && load && proof ? [{ name, share, load: force(load, system), proof: force(exactly(proof.nominal), system), toYield: isToYield(build, name) }] : [];
  });
  if (rows.length === 0) return undefined;

  const bottom = TOP + rows.length * ROW;
  const most = Math.max(1, ...rows.map((r) => r.share.high));
  const scale = scaleOf({ kind: "fraction", unit: "percent", low: 0, high: most * 1.02, range: [0, 100], count: 6 });
  const at = (share: number) => scale(share);
  const title = "Clamp load of each fastener against its proof load";
  const alternative = `${rows.map(sentence).join(" ")} The band is what friction and wrench leave open; the tick in it is the middle.`;
  const body: Svg[] = [
    hatch(ID),
    ...scale.ticks.map(({ value }) => line([at(value), TOP], [at(value), bottom], "faint")),
    line([at(1), TOP - 0.4], [at(1), bottom], "ink", { "data-part": "proof" }),
    ...rows.flatMap((row, i) => drawRow(row, TOP + i * ROW, at)),
    label("proof load", [at(1), TOP - 0.7], { "text-anchor": anchorAt(at(1), 10) }),
    line([0, bottom], [100, bottom], "thin"),
    ...figuresAlong(scale, bottom + 1.2),
    label("clamp load, % of proof load", [0, bottom + 2.5], { class: "note" }),
  ];
  return { id: ID, section: "fasteners", title, alternative, svg: frame({ id: ID, title, alternative, height: bottom + 2.9 }, body) };
}

function drawRow({ name, share, load, proof, toYield }: Row, top: number, at: (share: number) => number): readonly Svg[] {
  const [bandTop, bandBottom] = [top + 1.5, top + 2.4];
  const over = share.high > 1;
  const end = over ? Math.max(1, share.low) : share.high;
  const band = { top: bandTop, bottom: bandBottom };
  return [
    label(`${shortened(name, 22)}${toYield ? " (to yield)" : ""}`, [0, top + 1.15], { class: "strong plate", dx: "0.25em" }),
    label(`${load} of ${proof}`, [100, top + 1.15], { "text-anchor": "end", class: "plate", dx: "-0.25em" }),
    ...(share.low < end ? [box({ ...band, left: at(share.low), right: at(end) }, { class: "wash" })] : []),
    // What lies past proof is hatched, so that it is seen without colour.
    ...(over ? [box({ ...band, left: at(end), right: at(share.high) }, { fill: `url(#${ID}-hatch)`, "data-part": `over ${name}` })] : []),
    box({ ...band, left: at(share.low), right: at(share.high) }, { class: "ink", fill: "none", stroke: "currentColor", "data-part": `band ${name}` }),
    line([at(share.nominal), bandTop - 0.2], [at(share.nominal), bandBottom + 0.2], "ink", { "data-part": `middle ${name}` }),
  ];
}

function sentence({ name, share, load, proof, toYield }: Row): string {
  const percent = (x: number) => formatNumber(100 * x, { decimals: 0 });
  const from = `${percent(share.low)} to ${percent(share.high)} % of it`;
  const over = share.low > 1 ? "all above it" : share.high > 1 ? "its top end above it" : "";
  return `${name}: ${load} of a proof load of ${proof}, ${[from, ...(over ? [over] : []), ...(toYield ? ["turned to yield on purpose"] : [])].join(", ")}.`;
}

function force(load: Interval, system: "metric" | "inch"): string {
  return formatBand(load, "force", system === "inch" ? "pound-force" : "kilonewton");
}

function isToYield(build: EffectiveBuild, name: string): boolean {
  return wordAt(build, `fastener.${name}.method`) === "to-yield";
}
