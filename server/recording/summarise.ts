// A recording read once from end to end: text in pieces in, one bounded summary out, the same wherever the pieces are cut. Refuses to know
// files, builds and whose limits it is given.
import type { UnitId } from "../../grammar/vocabulary.ts";
import { powerFromTorque, torqueFromPower } from "../engineering/power.ts";
import { type KindId, toKindBase } from "../quantity/kinds.ts";
import { markOf, numberIn, pastMidnight, timeIn } from "./cell.ts";
import type { FoundColumn } from "./columns.ts";
import { type CurveKeeper, keepCurve } from "./curves.ts";
import { keepLoad } from "./load.ts";
import { type Layout, OPENING, isBlank, layoutOf } from "./opening.ts";
import { keepPulls } from "./pulls.ts";
import { type DecimalMark, JUDGED, type Judged, type PressureCurve, type Question } from "./question.ts";
import { LONGEST_ROW, type RowCutter, rowCutter } from "./rows.ts";
import { type StretchKeeper, keepStretches } from "./stretches.ts";
import type { Doubt, DoubtSort, Moment, Outcome, Peak, Stretches, Summary, Unsummed } from "./summary.ts";

export interface Summariser {
  /** The next piece of the text. False: no more is needed, the answer is known. */
  push(text: string): boolean;
  end(): Outcome;
}

/** Boost from which an engine without a throttle reading counts as loaded, Pa gauge. Common practice, no source. */
const LOADED_BOOST = 5000;
/** A reading that is not in every row stands for this long, s. */
const HELD = 1;
/** Rows further apart than this many usual steps, and this many seconds, have a gap between them. */
const GAP_STEPS = 5;
const GAP_TIME = 1.5;
/** An engine that has just fired has no oil pressure yet. s and rpm; common practice, no source. */
const PRESSURE_BUILDS = 10;
const RUNNING = 400;
/** Oil from this temperature up counts as hot in the curve by speed. K; common practice, no source. */
const HOT_OIL = 273.15 + 70;
/** Over-speed counts from this long, s: it is short by nature, and one row alone is a spike of the pick-up. Common practice, no source. */
const OVER_SPEED_DWELL = 0.1;
/** Nearer to the rev limit than this fuel or spark is cut. rpm; common practice, no source. */
const CUT_BAND = 100;
const MOST_HEADINGS = 40;
const LONGEST_QUOTED = 40;

/** The readings a pull is compared by, in its curves. */
const PULL_KEYS = ["torque", "power", "mixture", "boost", "oil-pressure"] as const;

export function summariser(question: Question): Summariser {
  let opening: string | undefined = "";
  let problem: Unsummed | undefined;
  let body: Body | undefined;
  const settle = (text: string, whole: boolean) => {
    opening = undefined;
    // The mark that some writers put before the first letter.
    const layout = layoutOf(text, whole, question);
    if ("problem" in layout) problem = layout.problem;
    else {
      body = bodyOf(layout, question);
      body.push(text);
    }
  };
  return {
    push(text) {
      if (problem || body?.failed()) return false;
      if (opening === undefined) body?.push(text);
      else {
        opening += opening === "" && text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
        if (opening.length >= OPENING) {
          const rest = opening.slice(OPENING);
          settle(opening.slice(0, OPENING), false);
          if (rest !== "") body?.push(rest);
        }
      }
      return !problem && !body?.failed();
    },
    end() {
      if (opening !== undefined) settle(opening, true);
      if (problem) return { problem };
      return (body as Body).end();
    },
  };
}

interface Body {
  push(text: string): void;
  failed(): boolean;
  end(): Outcome;
}

interface Reader {
  readonly column: FoundColumn;
  readonly kind: KindId;
  /** figure · factor + offset is in the base of the kind. */
  readonly factor: number;
  readonly offset: number;
  read: number;
  missing: number;
}

function bodyOf(layout: Layout, question: Question): Body {
  const { matched, delimiter, cells } = layout;
  let mark: DecimalMark | undefined = layout.decimal;
  let failure: Unsummed | undefined;
  const cutter: RowCutter = rowCutter(delimiter, layout.newline);
  const readers = matched.found.map((column): Reader => {
    const { kind } = column.wanted;
    const offset = toKindBase(0, column.unit, kind);
    return { column, kind, factor: toKindBase(1, column.unit, kind) - offset, offset, read: 0, missing: 0 };
  });
  const place = (key: string) => readers.findIndex((r) => r.column.wanted.key === key);
  const values = new Float64Array(readers.length);
  const at = { time: place("time"), rpm: place("rpm"), torque: place("torque"), power: place("power"), afr: place("afr"), lambda: place("lambda"), boost: place("boost"), manifold: place("manifold"), throttle: place("throttle"), oil: place("oil-pressure"), oilTemperature: place("oil-temperature"), coolant: place("coolant"), duty: place("duty"), inlet: place("inlet"), gear: place("gear") };
  const widest = Math.max(0, ...matched.found.map((c) => c.index)) + 1;
  const doubts = new Map<DoubtSort, { count: number; line: number; text?: string }>();
  const doubt = (sort: DoubtSort, line: number, text?: string) => {
    const known = doubts.get(sort);
    if (known) known.count++;
    else doubts.set(sort, { count: 1, line, ...(text !== undefined && { text: text.trim().slice(0, LONGEST_QUOTED) }) });
  };
  for (const heading of matched.twice) doubt("twice", layout.preamble + 1, heading);
  const judge = judgeOf(question, at);
  const peaks = readers.map((): { least: Moment | undefined; greatest: Moment | undefined } => ({ least: undefined, greatest: undefined }));
  let line = 0;
  let toSkip = layout.skip;
  let rows = 0;
  let raggedLast = false;
  let clock = false;
  const backwards = () => doubt("backwards", line);

  const row = (own: readonly string[]) => {
    line++;
    if (toSkip > 0) {
      // Blank lines before the readings were counted with the others.
      if (rows === 0 || !isBlank(own)) toSkip--;
      return;
    }
    if (isBlank(own)) return;
    raggedLast = false;
    if (own.length < widest || own.length > cells.length + 1 || (own.length === cells.length + 1 && own[own.length - 1]?.trim() !== "")) {
      doubt("ragged", line);
      raggedLast = true;
    }
    // Headings again: the recorder was started anew into the same file, units and all.
    if (own[matched.found[0]?.index ?? 0]?.trim() === matched.found[0]?.heading && matched.found.every((c) => own[c.index]?.trim() === c.heading)) {
      judge.break();
      if (layout.unitRow) toSkip = 1;
      return;
    }
    let any = false;
    for (let i = 0; i < readers.length; i++) {
      const reader = readers[i] as Reader;
      const cell = own[reader.column.index] ?? "";
      // The first comma or point that a figure has says which it is.
      if (mark === undefined && (cell.includes(",") || cell.includes("."))) {
        const told = markOf([cell]);
        if (told === "ambiguous") failure = { sort: "ambiguous", line, text: cell.trim().slice(0, LONGEST_QUOTED) };
        else mark = told;
        if (failure) return;
      }
      const x = i === at.time ? timeIn(cell, mark, reader.factor) : numberIn(cell, mark);
      if (i === at.time && !clock && cell.includes(":")) clock = true;
      if (typeof x === "number") {
        values[i] = i === at.time ? x : x * reader.factor + reader.offset;
        reader.read++;
        any = true;
        continue;
      }
      values[i] = NaN;
      reader.missing++;
      if (x === "marks") {
        failure = { sort: "marks", line, text: cell.trim().slice(0, LONGEST_QUOTED) };
        return;
      }
      if (x === "unreadable") doubt("unreadable", line, cell);
    }
    if (!any) return;
    rows++;
    if (judge.row(values, clock, backwards)) note(judge.time(), judge.rpm());
  };
  const note = (time: number, rpm: number) => {
    for (let i = 0; i < readers.length; i++) {
      const value = values[i] as number;
      if (value !== value || i === at.time) continue;
      const peak = peaks[i] as { least: Moment | undefined; greatest: Moment | undefined };
      const low = !peak.least || value < peak.least.value;
      const high = !peak.greatest || value > peak.greatest.value;
      if (!low && !high) continue;
      const moment: Moment = { value, ...(time === time && { time }), ...(rpm === rpm && i !== at.rpm && { rpm }) };
      if (low) peak.least = moment;
      if (high) peak.greatest = moment;
    }
  };
  const take = (some: readonly (readonly string[])[]) => {
    for (const own of some) {
      row(own);
      if (failure) return;
    }
  };
  return {
    failed: () => failure !== undefined,
    push(text) {
      if (failure) return;
      take(cutter.push(text));
      if (!failure && cutter.waiting() > LONGEST_ROW) failure = { sort: "quote", line: line + 1 };
    },
    end() {
      if (!failure) take(cutter.end());
      if (failure) return { problem: failure };
      // A recorder that is switched off ends in the middle of a row: that is no doubt.
      const ragged = doubts.get("ragged");
      if (raggedLast && ragged) {
        if (ragged.count === 1) doubts.delete("ragged");
        else ragged.count--;
      }
      const headings = cells.filter((c) => c !== "").slice(0, MOST_HEADINGS);
      if (rows === 0) return { problem: { sort: "no-rows", headings } };
      const judged = judge.end();
      const summary: Summary = {
        delimiter, ...(mark !== undefined && { decimal: mark }), preamble: layout.preamble, unitRow: layout.unitRow, headings,
        columns: readers.map(({ column, kind, read, missing }) => ({ key: column.wanted.key, kind, heading: column.heading, ...(column.unit !== undefined && { unit: column.unit }), ...(column.assumed && !(clock && column.wanted.key === "time") && { assumed: true }), read, missing })),
        lost: matched.lost, doubts: [...doubts].map(([sort, d]): Doubt => ({ sort, ...d })), rows,
        peaks: readers.flatMap(({ column, kind }, i): Peak[] => {
          const { least, greatest } = peaks[i] as { least: Moment | undefined; greatest: Moment | undefined };
          return least && greatest ? [{ key: column.wanted.key, kind, ...(column.unit !== undefined && { unit: column.unit satisfies UnitId }), least, greatest }] : [];
        }),
        ...judged,
      };
      return { summary };
    },
  };
}

type Places = Readonly<Record<"time" | "rpm" | "torque" | "power" | "afr" | "lambda" | "boost" | "manifold" | "throttle" | "oil" | "oilTemperature" | "coolant" | "duty" | "inlet" | "gear", number>>;

interface Judge {
  /** False for a row that stands for no moment. */
  row(values: Float64Array, clock: boolean, backwards: () => void): boolean;
  break(): void;
  time(): number;
  rpm(): number;
  end(): Pick<Summary, "clock" | "loadBy" | "mixture" | "judged" | "unjudged" | "curves" | "pulls" | "pullCount">;
}

/** A reading that is not in every row, for as long as it stands. */
interface Held {
  value: number;
  until: number;
}

function judgeOf(question: Question, at: Places): Judge {
  const timed = at.time >= 0;
  const load = keepLoad();
  const loadBy = at.throttle >= 0 ? "throttle" : at.manifold >= 0 ? "manifold" : at.boost >= 0 ? "boost" : undefined;
  const loadAt = loadBy ? at[loadBy] : -1;
  const loadFrom = loadBy === "throttle" ? question.gate : loadBy === "manifold" ? question.gate * question.barometer : LOADED_BOOST;
  // A roller that records torque and no throttle is loaded whenever it brakes; that is enough for pulls, not for mixture.
  const brakedAt = loadBy ? -1 : at.torque >= 0 ? at.torque : at.power;
  const exact = question.stoichiometric;
  const mixtureAt = at.lambda >= 0 ? at.lambda : exact !== undefined ? at.afr : -1;
  const mixtureFactor = at.lambda >= 0 ? 1 : 1 / (exact ?? 1);
  const boostAt = at.boost >= 0 ? at.boost : at.manifold;
  const boostLess = at.boost >= 0 ? 0 : question.barometer;
  const keepers = new Map<Judged, StretchKeeper>();
  const unjudged: { what: Judged; why: Summary["unjudged"][number]["why"] }[] = [];
  const limits: Readonly<Partial<Record<Judged, unknown>>> = question;
  const needs: Readonly<Record<Judged, Summary["unjudged"][number]["why"] | undefined>> = {
    redline: at.rpm < 0 ? "no-column" : undefined,
    mixture: mixtureAt < 0 ? (at.afr >= 0 ? "no-scale" : "no-column") : at.rpm < 0 ? "no-speed" : loadAt < 0 ? "no-load" : undefined,
    oil: at.oil < 0 ? "no-column" : at.rpm < 0 ? "no-speed" : undefined,
    boost: boostAt < 0 ? "no-column" : undefined,
    duty: at.duty < 0 ? "no-column" : undefined,
    coolant: at.coolant < 0 ? "no-column" : undefined,
    oilTemperature: at.oilTemperature < 0 ? "no-column" : undefined,
    charge: at.inlet < 0 ? "no-column" : undefined,
  };
  for (const what of JUDGED) {
    if (limits[what] === undefined) continue;
    const why = needs[what] ?? (timed ? undefined : "no-time");
    if (why) unjudged.push({ what, why });
    else keepers.set(what, keepStretches(what === "redline" ? Math.min(OVER_SPEED_DWELL, question.dwell) : question.dwell));
  }
  const keeper = (what: Judged) => keepers.get(what);
  const [redline, mixture, oil, boost, duty, coolant, oilTemperature, charge] = [keeper("redline"), keeper("mixture"), keeper("oil"), keeper("boost"), keeper("duty"), keeper("coolant"), keeper("oilTemperature"), keeper("charge")];
  const curves = { torque: keepCurve(), power: keepCurve(), mixture: keepCurve(), boost: keepCurve(), "oil-pressure": keepCurve() } satisfies Record<(typeof PULL_KEYS)[number], CurveKeeper>;
  const pulls = keepPulls(PULL_KEYS);
  const inPull = new Float64Array(PULL_KEYS.length);
  const speed: Held = { value: NaN, until: -Infinity };
  const loaded: Held = { value: NaN, until: -Infinity };
  const hot: Held = { value: NaN, until: -Infinity };
  let time = NaN;
  let rpm = NaN;
  let first = NaN;
  let shift = 0;
  let breaks = 0;
  let runningSince = NaN;
  let everStopped = false;
  let rowsSeen = 0;
  let leanest: Moment | undefined;
  let richest: Moment | undefined;
  // The usual step between rows, from the first of them.
  const steps: number[] = [];
  let gap = GAP_TIME;

  const forget = () => {
    for (const k of keepers.values()) k.stop();
    pulls.stop();
    load.forget();
    speed.until = loaded.until = hot.until = -Infinity;
    runningSince = NaN;
  };
  const hold = (held: Held, value: number): number => {
    if (value === value) {
      held.value = value;
      held.until = time + HELD;
      return value;
    }
    return time <= held.until ? held.value : NaN;
  };
  return {
    time: () => time,
    rpm: () => rpm,
    break() {
      breaks++;
      forget();
      everStopped = false;
      time = NaN;
      shift = 0;
    },
    row(values, clock, backwards) {
      const read = (i: number) => (i < 0 ? NaN : (values[i] as number));
      if (timed) {
        let now = read(at.time) + shift;
        if (now !== now) return false;
        if (time === time) {
          const day = clock ? pastMidnight(time - shift, now - shift) : 0;
          if (day > 0) {
            shift += day;
            now += day;
          }
          const step = now - time;
          if (step < 0) {
            backwards();
            breaks++;
            forget();
            everStopped = false;
          } else {
            if (steps.length < 200) {
              steps.push(step);
              gap = Math.max(GAP_TIME, GAP_STEPS * median(steps));
            }
            if (step > gap) {
              breaks++;
              forget();
            }
          }
        }
        time = now;
        if (first !== first) first = now;
      } else time = rowsSeen;
      rowsSeen++;
      rpm = timed ? hold(speed, read(at.rpm)) : read(at.rpm);
      const throttle = timed ? hold(loaded, read(loadAt)) : read(loadAt);
      const isLoaded = throttle >= loadFrom;
      if (rpm === rpm) load.note(time, isLoaded, rpm, read(at.gear));
      const steady = rpm === rpm && load.steady();
      if (rpm < RUNNING) {
        everStopped = true;
        runningSince = NaN;
      } else if (rpm >= RUNNING && runningSince !== runningSince) runningSince = everStopped ? time : -Infinity;
      if (!timed) time = NaN;

      const speedNow = read(at.rpm);
      if (redline && speedNow === speedNow) redline.at(time, speedNow - (question.redline as number), speedNow, question.redline as number, speedNow);

      let lambda = NaN;
      const mix = read(mixtureAt) * mixtureFactor;
      if (mix === mix && timed) {
        const then = load.speedAt(time - question.delay);
        // Loaded then and still: what the gauge shows just after the throttle closes may be overrun already, if it is quicker than was said.
        const judged = then === then && steady && !(question.revLimit !== undefined && then >= question.revLimit - CUT_BAND);
        if (judged) {
          lambda = mix;
          curves.mixture.add(then, mix);
          if (!leanest || mix > leanest.value) leanest = { value: mix, time, rpm: then };
          if (!richest || mix < richest.value) richest = { value: mix, time, rpm: then };
          mixture?.at(time, mix - (question.mixture as number) * (1 + 1e-9), mix, question.mixture as number, then);
        } else mixture?.stop();
      }

      const pressure = read(at.oil);
      const running = runningSince === runningSince && time - runningSince >= PRESSURE_BUILDS;
      if (pressure === pressure && rpm === rpm) {
        const warm = at.oilTemperature >= 0 ? hold(hot, read(at.oilTemperature)) : at.coolant >= 0 ? hold(hot, read(at.coolant)) : HOT_OIL;
        if (warm >= HOT_OIL && (running || !timed)) curves["oil-pressure"].add(rpm, pressure);
        const least = oil && running ? leastAt(question.oil as PressureCurve, rpm) : undefined;
        if (least === undefined) oil?.stop();
        else oil?.at(time, least - pressure, pressure, least, rpm);
      }

      const over = read(boostAt) - boostLess;
      if (over === over) {
        boost?.at(time, over - (question.boost as number), over, question.boost as number, rpm);
        if (steady) curves.boost.add(rpm, over);
      }
      const open = read(at.duty);
      if (open === open) duty?.at(time, open - (question.duty as number), open, question.duty as number, rpm);
      const water = read(at.coolant);
      if (water === water) coolant?.at(time, water - (question.coolant as number), water, question.coolant as number, rpm);
      const oilHeat = read(at.oilTemperature);
      if (oilHeat === oilHeat) oilTemperature?.at(time, oilHeat - (question.oilTemperature as number), oilHeat, question.oilTemperature as number, rpm);

      const drawn = read(at.inlet);
      if (drawn === drawn) charge?.at(time, drawn - (question.charge as number), drawn, question.charge as number, rpm);

      if (timed && rpm === rpm) {
        let torque = read(at.torque);
        let power = read(at.power);
        if (torque !== torque && power === power && rpm > 0 && power >= 0) torque = torqueFromPower({ power, rpm });
        if (power !== power && torque === torque) power = powerFromTorque({ torque, rpm });
        const pulling = steady || read(brakedAt) > 0;
        if (pulling && torque === torque) curves.torque.add(rpm, torque);
        if (pulling && power === power) curves.power.add(rpm, power);
        inPull[0] = torque;
        inPull[1] = power;
        inPull[2] = lambda;
        inPull[3] = over;
        inPull[4] = pressure;
        pulls.at(time, pulling, rpm, inPull);
      }
      return true;
    },
    end() {
      forget();
      const judged: Partial<Record<Judged, Stretches | "none">> = {};
      for (const [what, k] of keepers) judged[what] = k.all();
      const { pulls: kept, count } = pulls.all();
      const drawn = Object.entries(curves).flatMap(([key, c]) => {
        const curve = c.curve();
        return curve ? [[key, curve] as const] : [];
      });
      return {
        ...(first === first && { clock: { from: first, to: time, breaks } }), ...(loadBy && { loadBy }), ...(leanest && richest && { mixture: { leanest, richest } }), judged, unjudged,
        curves: Object.fromEntries(drawn), pulls: kept, pullCount: count,
      };
    },
  };
}

function median(sorted: readonly number[]): number {
  const own = [...sorted].sort((a, b) => a - b);
  return own[Math.floor(own.length / 2)] ?? 0;
}

/** Nothing below the first point: idling is another matter. */
export function leastAt(curve: PressureCurve, rpm: number): number | undefined {
  const first = curve[0];
  if (!first || rpm < first.rpm) return undefined;
  for (let i = 1; i < curve.length; i++) {
    const [a, b] = [curve[i - 1], curve[i]] as [PressureCurve[number], PressureCurve[number]];
    if (rpm <= b.rpm) return b.rpm === a.rpm ? b.pressure : a.pressure + ((b.pressure - a.pressure) * (rpm - a.rpm)) / (b.rpm - a.rpm);
  }
  return curve[curve.length - 1]?.pressure;
}
