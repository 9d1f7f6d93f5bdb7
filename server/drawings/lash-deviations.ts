// Each valve's lash as it was last measured, against the band that is asked for. Judges nothing.
import type { Side } from "../model/declaration.ts";
import { compareWithLimit, formatNumber, formatQuantity, formatValue } from "../quantity/display.ts";
import type { Interval } from "../quantity/interval.ts";
import { fromKindBase } from "../quantity/kinds.ts";
import { type LashOfSide, type LashReading, lashOf } from "../rules/lash.ts";
import { unitWord } from "./axis.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { type Mark, type Svg, box, frame, label, line, mark } from "./svg.ts";

const PANEL_HEIGHT = 6.4;
const TOP = 1.8;

/** The deviations of one side; nothing where no lash is asked for or none was measured. */
export function lashDeviations({ build }: DrawingSource, side: Side): Drawing | undefined {
  const lash = lashOf(build).find((l) => l.side === side);
  return lash?.measured ? draw(lash, lash.measured) : undefined;
}

type Standing = "tight" | "in" | "loose";
const MARKS: Readonly<Record<Standing, Mark>> = { tight: "down", in: "dot", loose: "up" };

function draw({ side, asked, askedQuantity, askedState, chosen }: LashOfSide, measured: NonNullable<LashOfSide["measured"]>): Drawing {
  const id = `lash-deviations-${side}`;
  const unit = askedQuantity.unit;
  const shown = (x: number) => formatValue(x, "length", unit);
  const band = closed(askedQuantity.interval);
  const readings = measured.readings.map((r) => ({ ...r, lash: r.quantity.interval.nominal, stands: standing(r, band) }));
  const target = chosen?.quantity.interval.nominal;
  const all = [band.low, band.high, ...readings.map((r) => r.lash), ...(target !== undefined ? [target] : [])];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const room = (high - low || band.nominal || 1e-4) * 0.18;
  const bottom = TOP + PANEL_HEIGHT;
  const y = (lash: number) => bottom - ((lash - (low - room)) / (high - low + 2 * room)) * PANEL_HEIGHT;
  // Kept for the figures at the band's ends.
  const left = 15;
  const number = (lash: number) => formatNumber(fromKindBase(lash, unit, "length"), unit !== undefined ? { unit } : {});
  const slot = (100 - left) / readings.length;
  const x = (i: number) => left + (i + 0.5) * slot;
  const byCylinder = readings.some((r) => r.place.includes(", cylinder "));
  const few = readings.length <= 8;
  const state = askedState !== undefined ? ` ${askedState}` : "";
  const when = measured.date !== undefined ? `, measured ${measured.date}` : "";
  const title = `${side === "intake" ? "Intake" : "Exhaust"} lash of each valve against ${formatQuantity(askedQuantity)}${state} asked for by ${asked.origin.words}${when}`;
  const out = readings.filter((r) => r.stands !== "in");
  const alternative = `${readings.map((r) => `${r.place}: ${shown(r.lash)}${r.stands === "in" ? "" : `, ${r.stands}`}`).join("; ")}. Asked for: ${shown(band.low)} to ${shown(band.high)}${state}. ${out.length === 0 ? "All lie within it." : `${out.length} of ${readings.length} lie outside it.`}`;
  const body: Svg[] = [
    box({ left, right: 100, top: y(band.high), bottom: y(band.low) }, { class: "wash", "data-part": "band" }),
    ...[band.high, band.low].flatMap((end, i) => [line([left, y(end)], [100, y(end)], "thin"), ...(i === 0 || band.low !== band.high ? [label(number(end), [0, y(end)], { dy: "0.35em" })] : [])]),
    ...(band.low !== band.high ? [line([left, y(band.nominal)], [100, y(band.nominal)], "faint")] : []),
    label(`asked for, ${unitWord(unit)}`, [0, TOP - 0.5], { class: "note" }),
    label("loose", [100, TOP - 0.5], { class: "note", "text-anchor": "end" }),
    label("tight", [100, bottom + 0.4], { class: "note", "text-anchor": "end" }),
    ...(target !== undefined && target !== band.nominal ? [line([left, y(target)], [100, y(target)], "thin", { "stroke-dasharray": "4 3" }), label(`chosen ${shown(target)}`, [100, y(target)], { class: "note plate", "text-anchor": "end", dx: "-0.25em", dy: "-0.3em" })] : []),
    ...readings.flatMap((r, i) => [
      line([x(i), y(band.nominal)], [x(i), y(r.lash)], "thin"),
      mark(MARKS[r.stands], [x(i), y(r.lash)], { "data-part": r.place }),
      ...(few || r.stands !== "in" ? [label(number(r.lash), [x(i), y(r.lash)], { "text-anchor": "middle", class: "plate", dy: r.lash >= band.nominal ? "-0.7em" : "1.4em" })] : []),
      label(valveWords(r.place), [x(i), bottom + 1.6], { "text-anchor": "middle", class: "note" }),
    ]),
    ...(byCylinder ? [label("cylinder, and which of its valves", [(100 + left) / 2, bottom + 2.9], { "text-anchor": "middle", class: "note" })] : []),
  ];
  return { id, section: "lash", title, alternative, svg: frame({ id, title, alternative, height: bottom + (byCylinder ? 3.3 : 2) }, body) };
}

function standing({ quantity }: LashReading, band: Interval): Standing {
  const lash = quantity.interval.nominal;
  return compareWithLimit(lash, band.low) < 0 ? "tight" : compareWithLimit(lash, band.high) > 0 ? "loose" : "in";
}

/** A bound alone is both ends of its band. */
function closed({ low, nominal, high }: Interval): Interval {
  return { low: Number.isFinite(low) ? low : nominal, nominal, high: Number.isFinite(high) ? high : nominal };
}

/** "intake a, cylinder 3" under its mark: "3a". */
function valveWords(place: string): string {
  const [, valve = "", cylinder = ""] = /^\S+(?: (\S+))?, cylinder (.*)$/.exec(place) ?? [];
  return cylinder === "" ? place : `${cylinder}${valve}`;
}
