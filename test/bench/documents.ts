// One shop's book in three notations: an engine, camshafts, springs, retainers and builds, as long as wanted, as a build file, as JSON and as
// YAML, with a JSON schema that states the spans that the build language knows. Nothing is measured here.
import { keyOfPath } from "../../server/schema/lookup.ts";
import { fromKindBase } from "../../server/quantity/kinds.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";

/** A figure with its words, a word, or a block of them. `path` is the place of the effective build whose span the schema states. */
type Entry =
  | { readonly key: string; readonly number: number; readonly digits: number; readonly unit: string; readonly after?: string; readonly path?: string }
  | { readonly key: string; readonly word: string }
  | { readonly key: string; readonly text: string }
  | { readonly key: string; readonly block: readonly Entry[] };

interface Item {
  readonly sort: "engine" | "part" | "build";
  readonly kind?: string;
  readonly name: string;
  readonly title: string;
  readonly on?: string;
  readonly fits: readonly string[];
  readonly entries: readonly Entry[];
  /** Readings of the lash: three rows of four. */
  readonly readings?: readonly (readonly number[])[];
}

export interface Notation {
  readonly id: "tappet" | "json" | "yaml";
  readonly ending: string;
  readonly text: string;
  /** Where a digit is typed: just behind this, in the middle of the document. */
  readonly typedAfter: string;
  readonly lines: number;
}

const UNITS: Readonly<Record<string, UnitId>> = { mm: "millimetre", cc: "cubic-centimetre", deg: "degree", rpm: "revolution-per-minute", N: "newton", g: "gram" } as const;

const n = (key: string, number: number, digits: number, unit: string, path?: string, after?: string): Entry => ({ key, number, digits, unit, ...(path !== undefined && { path }), ...(after !== undefined && { after }) });

const ENGINE: Item = {
  sort: "engine", name: "dunlin-18", title: "Ashdown Dunlin 1.8, 12-valve", fits: [],
  entries: [
    { key: "source", text: "workshop manual, section 6A" },
    n("cylinders", 4, 0, ""), n("bore", 83, 2, "mm", "bore"), n("stroke", 82, 2, "mm", "stroke"), n("rod-length", 138.5, 1, "mm", "rod-length"), n("redline", 6500, 0, "rpm", "redline"),
    { key: "combustion", block: [n("chamber", 44.6, 1, "cc", "combustion.chamber"), n("piston-dish", 3, 1, "cc", "combustion.piston-dish"), n("gasket-bore", 84, 1, "mm", "combustion.gasket-bore"), n("gasket-thickness", 0.8, 2, "mm", "combustion.gasket-thickness", "crushed"), n("deck", 0.15, 2, "mm", "combustion.deck", "below")] },
    {
      key: "valve-gear", block: [
        { key: "layout", word: "sohc" }, { key: "actuation", word: "rocker" }, { key: "adjuster", word: "screw" }, { key: "lash-at", word: "valve" }, n("gear-teeth", 38, 0, ""),
        { key: "intake", block: [n("per-cylinder", 2, 0, ""), n("rocker-ratio", 1.5, 2, ""), n("lash", 0.15, 2, "mm", "valve-gear.intake.lash", "cold")] },
        { key: "exhaust", block: [n("per-cylinder", 1, 0, ""), n("rocker-ratio", 1.45, 2, ""), n("lash", 0.3, 2, "mm", "valve-gear.exhaust.lash", "cold")] },
        { key: "valve-spring", block: [n("wire", 3.8, 1, "mm", "valve-spring.wire"), n("mean-diameter", 24, 1, "mm", "valve-spring.mean-diameter"), n("active-coils", 5.2, 1, ""), n("seat-height", 38, 1, "mm", "valve-spring.seat-height"), n("seat-load", 240, 0, "N", "valve-spring.seat-load"), n("solid-height", 27.4, 1, "mm", "valve-spring.solid-height")] },
      ],
    },
  ],
};

/** The pages of one car: what was fitted and the build that fits it, about a hundred lines. Figures differ a little from car to car. */
function pagesOf(i: number): readonly Item[] {
  const off = (i % 7) / 10;
  const side = (intake: boolean): readonly Entry[] => [
    n("duration", (intake ? 236 : 232) + (i % 5), 0, "deg", `camshaft.${intake ? "intake" : "exhaust"}.duration`, "crank"), n("measured-at", 1, 2, "mm", undefined, "at valve"), n("lobe-lift", (intake ? 7.1 : 7) + off / 5, 2, "mm", `camshaft.${intake ? "intake" : "exhaust"}.lobe-lift`),
    n("centreline", (intake ? 109 : 113) + (i % 3), 0, "deg", `camshaft.${intake ? "intake" : "exhaust"}.centreline`, "crank"), n("lash", intake ? 0.2 : 0.35, 2, "mm", `valve-gear.${intake ? "intake" : "exhaust"}.lash`, "cold"),
  ];
  const spring = (name: string, wire: number): Item => ({
    sort: "part", kind: "valve-spring", name, title: `Spring ${name}`, on: "dunlin-18", fits: [],
    entries: [
      { key: "source", text: `leaflet ${i}` }, n("wire", wire, 1, "mm", "valve-spring.wire"), n("mean-diameter", 23.6, 1, "mm", "valve-spring.mean-diameter"), n("active-coils", 4.5, 1, ""), n("total-coils", 6.3, 1, ""), n("free-length", 45.2 + off, 1, "mm", "valve-spring.free-length"),
      n("seat-load", 300, 0, "N", "valve-spring.seat-load"), n("solid-height", 25.3, 1, "mm", "valve-spring.solid-height"), { key: "form", word: "cylindrical" }, n("mass", 52, 0, "g", "valve-spring.mass"),
    ],
  });
  const camshaft = (name: string): Item => ({ sort: "part", kind: "camshaft", name, title: `Camshaft ${name}`, on: "dunlin-18", fits: [], entries: [{ key: "source", text: `card ${i}` }, { key: "intake", block: side(true) }, { key: "exhaust", block: side(false) }] });
  return [
    camshaft(`shaft-${i}`), camshaft(`spare-shaft-${i}`), spring(`spring-${i}`, 4), spring(`spare-spring-${i}`, 4.1),
    { sort: "part", kind: "retainer", name: `retainer-${i}`, title: `Retainer ${i}`, on: "dunlin-18", fits: [], entries: [{ key: "source", text: `leaflet ${i}` }, n("mass", 9, 0, "g", "retainer.mass"), n("height-change", 0, 1, "mm", "retainer.height-change"), n("to-guide", 13.6, 1, "mm", "retainer.to-guide")] },
    {
      sort: "build", name: `car-${i}`, title: `Car number ${i}`, on: "dunlin-18", fits: [`shaft-${i}`, `spring-${i}`, `retainer-${i}`],
      entries: [
        { key: "use", word: "racing" }, n("redline", 7100 + (i % 3) * 50, 0, "rpm", "redline"),
        { key: "combustion", block: [n("gasket-thickness", 0.9, 2, "mm", "combustion.gasket-thickness", "crushed"), n("deck", 0.1, 2, "mm", "combustion.deck", "below")] },
        { key: "lash", block: [n("intake", 0.2, 2, "mm", "valve-gear.intake.lash", "cold"), n("exhaust", 0.35, 2, "mm", "valve-gear.exhaust.lash", "cold")] },
      ],
      readings: [[0.2, 0.2, 0.2, 0.21], [0.2, 0.2, 0.2, 0.2], [0.35, 0.35, 0.34, 0.35]],
    },
  ];
}

const PLACES = ["intake a", "intake b", "exhaust"];

function asBuildFile(items: readonly Item[]): string[] {
  const out: string[] = [];
  const entry = (e: Entry, indent: string): void => {
    if ("block" in e) {
      out.push(`${indent}${e.key} {`);
      for (const inner of e.block) entry(inner, `${indent}  `);
      out.push(`${indent}}`);
    } else if ("word" in e) out.push(`${indent}${e.key}: ${e.word}`);
    else if ("text" in e) out.push(`${indent}${e.key}: "${e.text}"`);
    else out.push(`${indent}${e.key}: ${[e.number.toFixed(e.digits), e.unit, e.after ?? ""].filter((s) => s !== "").join(" ")}`);
  };
  for (const item of items) {
    const joined = item.sort === "part" ? ` for ${item.on ?? ""}` : item.sort === "build" ? ` on ${item.on ?? ""}` : "";
    out.push(`${item.sort} ${item.kind === undefined ? "" : `${item.kind} `}${item.name} "${item.title}"${joined} {`);
    for (const fit of item.fits) out.push(`  fit ${fit} { condition: new }`);
    for (const e of item.entries) entry(e, "  ");
    if (item.readings) {
      out.push("  measured lash cold on 2027-05-22 {", "    | valve (mm) |    1 |    2 |    3 |    4 |");
      item.readings.forEach((row, r) => out.push(`    | ${(PLACES[r] ?? "").padEnd(10)} | ${row.map((x) => x.toFixed(2)).join(" | ")} |`));
      out.push("  }");
    }
    out.push("}", "");
  }
  return out;
}

function dataOf(item: Item): Record<string, unknown> {
  const block = (entries: readonly Entry[]): Record<string, unknown> => Object.fromEntries(entries.map((e) => [e.key, "block" in e ? block(e.block) : "word" in e ? e.word : "text" in e ? e.text : Number(e.number.toFixed(e.digits))]));
  return {
    sort: item.sort, ...(item.kind !== undefined && { kind: item.kind }), name: item.name, title: item.title, ...(item.on !== undefined && { [item.sort === "build" ? "on" : "for"]: item.on }),
    ...(item.fits.length > 0 && { fits: item.fits }), ...block(item.entries), ...(item.readings && { measured: { kind: "lash", state: "cold", on: "2027-05-22", rows: Object.fromEntries(item.readings.map((row, r) => [PLACES[r] ?? "", row])) } }),
  };
}

/** JSON as people write it: a line for every key, short lists on one line. */
function asJson(value: unknown, indent = ""): string {
  if (Array.isArray(value)) return value.every((x) => typeof x !== "object") ? `[${value.map((x) => JSON.stringify(x)).join(", ")}]` : `[\n${value.map((x) => `${indent}  ${asJson(x, `${indent}  `)}`).join(",\n")}\n${indent}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  return `{\n${Object.entries(value).map(([k, v]) => `${indent}  ${JSON.stringify(k)}: ${asJson(v, `${indent}  `)}`).join(",\n")}\n${indent}}`;
}

function asYaml(value: unknown, indent = ""): string {
  if (Array.isArray(value)) return value.every((x) => typeof x !== "object") ? ` [${value.join(", ")}]\n` : `\n${value.map((x) => `${indent}-${asYaml(x, `${indent}  `).replace(/^\n\s*/, " ")}`).join("")}`;
  if (typeof value !== "object" || value === null) return ` ${typeof value === "string" && /[^\w-]/.test(value) ? JSON.stringify(value) : String(value)}\n`;
  return `\n${Object.entries(value).map(([k, v]) => `${indent}${k}:${asYaml(v, `${indent}  `)}`).join("")}`;
}

/** How many cars make a build file of about so many lines. */
function carsFor(lines: number): number {
  const lengthOf = (cars: number) => asBuildFile(book(cars)).length;
  return Math.max(1, Math.round((lines - lengthOf(1)) / (lengthOf(2) - lengthOf(1))) + 1);
}

function book(cars: number): readonly Item[] {
  const items: Item[] = [ENGINE];
  for (let i = 1; i <= cars; i++) items.push(...pagesOf(i));
  return items;
}

/** The three notations of a book of about so many lines each, with a figure out of its span in the last car, so that each has something to find. */
export function documentsOf(lines: number): readonly Notation[] {
  const cars = carsFor(lines);
  const made = (id: Notation["id"], ending: string, print: (items: readonly Item[]) => string, mark: (car: number) => string, slip: readonly [string, string]): Notation => {
    const clean = print(book(cars));
    const at = clean.lastIndexOf(slip[0]);
    if (at < 0) throw new Error(`${id}: nothing to slip`);
    const text = clean.slice(0, at) + slip[1] + clean.slice(at + slip[0].length);
    const typedAfter = mark(Math.ceil(cars / 2));
    if (!text.includes(typedAfter)) throw new Error(`${id}: ${typedAfter} is nowhere`);
    return { id, ending, text, typedAfter, lines: text.split("\n").length };
  };
  const redline = (car: number) => 7100 + (car % 3) * 50;
  return [
    made("tappet", ".tappet", (items) => asBuildFile(items).join("\n"), (car) => `build car-${car} "Car number ${car}" on dunlin-18 {\n  fit shaft-${car} { condition: new }\n  fit spring-${car} { condition: new }\n  fit retainer-${car} { condition: new }\n  use: racing\n  redline: ${redline(car)}`, ["gasket-thickness: 0.90 mm", "gasket-thickness: 90 mm"]),
    made("json", ".json", (items) => `${asJson(items.map(dataOf))}\n`, (car) => `"fits": ["shaft-${car}", "spring-${car}", "retainer-${car}"],\n    "use": "racing",\n    "redline": ${redline(car)}`, ['"gasket-thickness": 0.9', '"gasket-thickness": 90']),
    made("yaml", ".yaml", (items) => asYaml(items.map(dataOf)).replace(/^\n/, ""), (car) => `fits: [shaft-${car}, spring-${car}, retainer-${car}]\n  use: racing\n  redline: ${redline(car)}`, ["gasket-thickness: 0.9", "gasket-thickness: 90"]),
  ];
}

/** The same spans as the build language knows, each in the unit that the document is written in. */
export function schema(): Record<string, unknown> {
  const items = [ENGINE, ...pagesOf(1)];
  const block = (entries: readonly Entry[]): Record<string, unknown> => ({ type: "object", additionalProperties: false, properties: Object.fromEntries(entries.map((e) => [e.key, property(e)])), required: entries.filter((e) => "number" in e).map((e) => e.key) });
  const property = (e: Entry): Record<string, unknown> => {
    if ("block" in e) return block(e.block);
    if ("word" in e) return { type: "string", enum: [e.word, "unstated"], description: `One word for ${e.key}.` };
    if ("text" in e) return { type: "string", description: `Any words for ${e.key}.` };
    const row = e.path === undefined ? undefined : keyOfPath(e.path);
    const unit = UNITS[e.unit];
    const span = row?.usual && row.type.is === "quantity" && unit ? { minimum: fromKindBase(row.usual.low, unit, row.type.kind), maximum: fromKindBase(row.usual.high, unit, row.type.kind) } : {};
    return { type: "number", description: row?.words ?? `A number for ${e.key}.`, ...span };
  };
  const itemOf = (item: Item): Record<string, unknown> => {
    const inner = block(item.entries) as { properties: Record<string, unknown>; required: string[] };
    const words = { type: "string" };
    return {
      if: { properties: { sort: { const: item.sort }, ...(item.kind !== undefined && { kind: { const: item.kind } }) }, required: ["sort", ...(item.kind === undefined ? [] : ["kind"])] },
      then: {
        ...inner, properties: { sort: words, kind: words, name: words, title: words, on: words, for: words, fits: { type: "array", items: words }, measured: { type: "object", properties: { rows: { type: "object", additionalProperties: { type: "array", items: { type: "number", minimum: 0, maximum: 2 } } } } }, ...inner.properties },
      },
    };
  };
  const kinds = new Map(items.map((item) => [`${item.sort} ${item.kind ?? ""}`, item]));
  return { $schema: "http://json-schema.org/draft-07/schema#", type: "array", items: { type: "object", required: ["sort", "name"], allOf: [...kinds.values()].map(itemOf) } };
}
