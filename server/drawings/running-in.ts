// Running-in as a strip of engine speed against time: what is asked for, and what was run. Judges nothing.
import { line as pathOf } from "d3-shape";
import { shortened } from "../../grammar/visible.ts";
import type { RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { type Interval, exactly } from "../quantity/interval.ts";
import { heldBy, heldFor, readingsOf, stagesOf } from "../sheet/running-in.ts";
import { figureIn, figuresAlong, gridAcross, scaleOf } from "./axis.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { PANEL, type Svg, box, frame, hatch, label, line, mark, panel, path } from "./svg.ts";

const ID = "running-in";
const TOP = 2.2;
const BOTTOM = 9.5;
/** Clear of the figures at the left. */
const BESIDE_FIGURES = 22;
/** Width of a letter on the narrowest page, per cent. */
const LETTER = 2.3;

/** Speeds held for a time. */
interface Stage {
  readonly words: string;
  /** The same without its date, for the picture. */
  readonly name: string;
  /** rpm */
  readonly speed: Interval;
  /** Start and length, s. */
  readonly start: number;
  readonly time: number;
  /** Speeds that were read as it went on: s from its start, rpm. */
  readonly read: readonly (readonly [number, number])[];
}

/** The strip; nothing where neither a part asks for running-in nor a run says how long it held which speed. */
export function runningIn({ build, system }: DrawingSource): Drawing | undefined {
  const asked = askedFor(build);
  const run = wasRun(build);
  const stages = [...asked, ...run];
  if (stages.length === 0) return undefined;
  const [low, high] = [Math.min(...stages.map((s) => s.speed.low)), Math.max(...stages.map((s) => s.speed.high), ...run.flatMap((s) => s.read.map(([, rpm]) => rpm)))];
  const x = scaleOf({ kind: "time", unit: "minute", low: 0, high: Math.max(...stages.map((s) => s.start + s.time)), range: [1, 99], count: 5, round: false });
  const y = scaleOf({ kind: "rotation", unit: "revolution-per-minute", low: Math.min(0, low), high: high * 1.12, range: [BOTTOM, TOP], count: 3, round: false });
  const title = asked.length > 0 ? (run.length > 0 ? "Running-in asked for, and as it was run" : "Running-in asked for") : "Running-in as it was run";
  const alternative = `${[...asked.map((s) => ({ ...s, who: `${s.words} asks for` })), ...run.map((s) => ({ ...s, who: `Run, ${s.words}:` }))].map((s) => sentence(s, system)).join(" ")}`;
  const area = (s: Stage) => ({ left: x(s.start), right: x(s.start + s.time), top: y(s.speed.high), bottom: y(s.speed.low) });
  const body: Svg[] = [
    hatch(ID),
    ...asked.map((s) => box(area(s), { class: "hatched", fill: `url(#${ID}-hatch)`, "data-part": "asked" })),
    ...gridAcross(y, "revolution-per-minute"),
    ...asked.slice(0, 1).map((s) => label(`asked for by ${s.name}`, [100, y(s.speed.low)], { class: "note plate", "text-anchor": "end", dx: "-0.25em", dy: "1.2em" })),
    ...run.flatMap((s, i) => {
      const at = area(s);
      const from = Math.max(at.left, BESIDE_FIGURES);
      // A run too short for its name has its number.
      const name = s.name.length * LETTER < at.right - from ? s.name : String(i + 1);
      return [
        box({ ...at, ...(s.speed.low === s.speed.high && { top: at.top - 0.05, bottom: at.bottom + 0.05 }) }, { class: "ink", fill: "none", stroke: "currentColor", "data-part": `run ${s.words}` }),
        label(name, [from, at.top], { class: "plate strong", dy: "-0.45em" }),
        ...readDrawn(s, x, y),
      ];
    }),
    line([0, BOTTOM], [100, BOTTOM], "thin"),
    ...figuresAlong(x, BOTTOM + 1.3),
    label("minutes running", [50, BOTTOM + 2.6], { class: "note", "text-anchor": "middle" }),
  ];
  return { id: ID, section: "running-in", title, alternative, svg: frame({ id: ID, title, alternative, height: BOTTOM + 3 }, body) };
}

function readDrawn(s: Stage, x: (t: number) => number, y: (rpm: number) => number): readonly Svg[] {
  if (s.read.length === 0) return [];
  const points = s.read.map(([t, rpm]) => [x(s.start + t), y(rpm)] as const);
  const d = pathOf().digits(1)(points.map(([px, py]) => [(px / 100) * PANEL, ((py - TOP) / (BOTTOM - TOP)) * PANEL])) ?? "";
  return [panel({ left: 0, right: 100, top: TOP, bottom: BOTTOM }, [path(d, "thin")]), ...points.map((p) => mark("dot", p))];
}

function askedFor(build: EffectiveBuild): readonly Stage[] {
  return [...build.slots.values()].filter((slot) => slot.key.key === "break-in").flatMap((slot): Stage[] => {
    const given = effective(slot);
    let start = 0;
    return stagesOf(given?.fact.value).flatMap((value): Stage[] => {
      const time = heldFor(value);
      if (!given || time === undefined) return [];
      const stage = { words: given.origin.words, name: shortened(given.origin.words, 24), speed: closed(value.quantity.interval), start, time, read: [] };
      start += time;
      return [stage];
    });
  });
}

/** Runs that say how long they held which speed, one after the other. */
function wasRun(build: EffectiveBuild): readonly Stage[] {
  const stages: Stage[] = [];
  let start = 0;
  for (const record of build.subject.records) {
    if (record.word !== "run") continue;
    for (const stage of stagesIn(record, start)) {
      stages.push(stage);
      start = stage.start + stage.time;
    }
  }
  return stages;
}

function stagesIn(record: RecordFact, from: number): readonly Stage[] {
  const head = record.head.find((p) => p.kind === "word" && p.text !== "on");
  const called = head?.kind === "word" ? head.text.replaceAll("-", " ") : "run";
  const words = [called, record.date?.text].filter((w) => w !== undefined).join(", ");
  const name = shortened(called, 24);
  const read = readingsOf(record);
  const value = record.figures.find((f) => f.key.key === "speed")?.value;
  const held = heldBy(record);
  if (stagesOf(value).length > 1) {
    let start = from;
    return held.flatMap(({ speed, time }): Stage[] => {
      if (!speed || time === undefined || !(time > 0)) return [];
      const stage = { words, name, speed: closed(speed), start, time, read: [] };
      start += time;
      return [stage];
    });
  }
  const [own] = stagesOf(value);
  const whole = record.figures.find((f) => f.key.key === "time")?.value;
  const time = (own && heldFor(own)) ?? (whole?.is === "quantity" ? whole.quantity.interval.nominal : undefined) ?? read.at(-1)?.[0];
  const speeds = read.map(([, rpm]) => rpm);
  const speed = own ? closed(own.quantity.interval) : speeds.length > 0 ? { low: Math.min(...speeds), nominal: speeds[0] ?? 0, high: Math.max(...speeds) } : undefined;
  return !speed || time === undefined || !(time > 0) ? [] : [{ words, name, speed, start: from, time, read }];
}

/** A bound alone is a speed of its own. */
function closed({ low, nominal, high }: Interval): Interval {
  return Number.isFinite(low) && Number.isFinite(high) ? { low, nominal, high } : exactly(nominal);
}

function sentence({ who, speed, time, read }: Stage & { readonly who: string }, system: "metric" | "inch"): string {
  const rpm = (x: number) => figureIn(system, "rotation", x);
  const held = speed.low === speed.high ? rpm(speed.low) : `${rpm(speed.low)} to ${rpm(speed.high)}`;
  const readings = read.length > 0 ? `; read ${read.map(([t, n]) => `${rpm(n)} at ${figureIn(system, "time", t)}`).join(", ")}` : "";
  return `${who} ${held} for ${figureIn(system, "time", time)}${readings}.`;
}
