// One entry's value as the schema's type reads it. Knows forms (quantity, word, thread, order, stages), not what they are used for.
import type { Part, Span, Text, UnitRef, Value } from "../../grammar/tree.ts";
import { unitOfSpelling } from "../../grammar/vocabulary.ts";
import { type Interval, exactly } from "../quantity/interval.ts";
import type { Quantity, ReadOptions, ReadValue } from "../quantity/quantity.ts";
import { readValue } from "../quantity/value.ts";
import { nearest } from "../schema/lookup.ts";
import { QUALIFIER_SETS } from "../schema/qualifiers.ts";
import type { KeySchema, QualifierSet } from "../schema/types.ts";
import type { TextFix, TextProblem } from "./problem.ts";

const SETS: ReadonlyMap<string, QualifierSet> = new Map(QUALIFIER_SETS.map((set) => [set.id, set]));

/** A thread: nominal diameter and pitch in metres. */
export interface Thread {
  readonly system: "metric" | "inch";
  readonly diameter: number;
  readonly pitch: number;
  readonly text: string;
}

export interface QuantityValue {
  readonly is: "quantity";
  readonly quantity: Quantity;
  /** Qualifier set id -> the word given, e.g. `thermal` -> `cold`. */
  readonly qualifiers: Readonly<Record<string, string>>;
  /** `for 20 min`, `at 850 rpm`: the word and the quantity it attaches. */
  readonly clauses: readonly { readonly word: string; readonly quantity: Quantity }[];
}

export type FigureValue =
  | QuantityValue
  | { readonly is: "word"; readonly word: string }
  | { readonly is: "yes-no"; readonly yes: boolean }
  | { readonly is: "text"; readonly text: string }
  | { readonly is: "date"; readonly text: string }
  | { readonly is: "order"; readonly order: readonly number[] }
  | { readonly is: "thread"; readonly thread: Thread }
  | { readonly is: "class"; readonly text: string }
  | { readonly is: "stages"; readonly stages: readonly QuantityValue[] }
  | { readonly is: "name"; readonly name: Text }
  | { readonly is: "names"; readonly names: readonly Text[] }
  /** A file beside this one; the span is that of the string. */
  | { readonly is: "file"; readonly path: Text }
  | { readonly is: "hole" };

export interface ReadEntry {
  readonly value?: FigureValue;
  readonly problems: readonly TextProblem[];
}

/** Reads the values after a key. Never throws; what cannot be read is a problem and no value. */
export function readEntry(values: readonly Value[], key: KeySchema, keySpan: Span, path: string): ReadEntry {
  const first = values[0];
  const problems: TextProblem[] = [];
  const report = (code: string, message: string, span: Span, fixes: readonly TextFix[] = []) => {
    problems.push({ code, message, span, fixes, path });
    return { problems };
  };
  if (!first || first.parts.length === 0)
    return report("value-missing", `\`${key.key}\` has no value. Write for example \`${key.key}: ${key.example}\`.`, keySpan);
  if (first.parts.length === 1 && first.parts[0]?.kind === "hole") return { value: { is: "hole" }, problems: [{ code: "not-filled-in", message: `\`${key.key}\` is not filled in yet.`, span: first.span, fixes: [], path }] };
  const type = key.type;
  const all = values.length === 1 ? first.parts : values.flatMap((v) => v.parts);
  switch (type.is) {
    case "quantity": {
      if (values.length > 1) return report("too-many-values", `\`${key.key}\` takes one figure; here are ${values.length}. Keep one, or use a table for several readings.`, span(values));
      const read = readQuantityValue(first.parts, key, keySpan, path);
      return read.value ? { value: read.value, problems: read.problems } : { problems: read.problems };
    }
    case "quantities":
    case "stages": {
      const stages: QuantityValue[] = [];
      let carried: Readonly<Record<string, string>> = {};
      for (const [i, v] of values.entries()) {
        // The unit at the end of a list serves the bare figures before it: 0.05, 0.10, 0.15 mm.
        const own = unitIn(v.parts);
        const unit = own ?? values.slice(i + 1).map((later) => unitIn(later.parts)).find((later) => later !== undefined);
        const isAngle = type.is === "stages" && unit !== undefined && ANGLES.has(unit.text);
        const kind = type.is === "quantities" ? type.kind : isAngle ? "angle" : "torque";
        const { qualifiers: required, ...rest } = key;
        const stageKey: KeySchema = { ...rest, type: { is: "quantity", kind }, ...(!isAngle && required && stages.length === 0 && { qualifiers: required }), mayQualify: [...(key.mayQualify ?? []), ...(required ?? [])] };
        const read = readQuantityValue(v.parts, stageKey, keySpan, path, isAngle, own ? undefined : unit);
        for (const one of read.problems) problems.push(one);
        if (!read.value) continue;
        // A qualifier carries forward through the stages: 30 N·m oiled, then 55 N·m.
        carried = { ...carried, ...read.value.qualifiers };
        stages.push({ ...read.value, qualifiers: isAngle ? {} : carried });
      }
      return stages.length > 0 ? { value: { is: "stages", stages }, problems } : { problems };
    }
    case "word": {
      const text = wordsOf(all);
      if (text !== undefined && Object.hasOwn(type.options, text)) return { value: { is: "word", word: text }, problems };
      const options = Object.keys(type.options);
      const near = nearest(text ?? "", options);
      return report("unknown-word", `\`${text ?? "this"}\` is not something \`${key.key}\` takes. It takes ${oneOf(options)}.`, span(values),
        near.map((n) => ({ title: `Write ${n}`, safe: false, edits: [{ span: span(values), text: n }] })));
    }
    case "yes-no": {
      const text = wordsOf(all)?.toLowerCase();
      if (text === "yes" || text === "no") return { value: { is: "yes-no", yes: text === "yes" }, problems };
      return report("unknown-word", `\`${key.key}\` takes yes or no.`, span(values), ["yes", "no"].map((n) => ({ title: `Write ${n}`, safe: false, edits: [{ span: span(values), text: n }] })));
    }
    case "text":
      return { value: { is: "text", text: all.map(plainText).join(" ") }, problems };
    case "mark":
      return { value: { is: "text", text: all.map(plainText).join(" ") }, problems };
    case "money": {
      const amount = moneyOf(all);
      if (amount) return { value: { is: "text", text: amount }, problems };
      return report("wrong-form", `\`${key.key}\` takes an amount and a currency of three letters, such as ${key.example}.`, span(values));
    }
    case "date": {
      const part = all[0];
      if (part?.kind !== "date") return report("wrong-form", `\`${key.key}\` takes a date, year first: 2027-03-14.`, span(values));
      if (!isRealDate(part.text)) return report("impossible-date", `${part.text} is not a day of the calendar.`, part.span);
      return { value: { is: "date", text: part.text }, problems };
    }
    case "order": {
      const part = all[0];
      const numbers = part?.kind === "figure" && all.length === 1 && !part.unit && (part.form === "dashed" || part.form === "number") ? part.digits.text.split("-").map(Number) : undefined;
      if (!numbers || numbers.some((n) => !Number.isInteger(n) || n < 1)) return report("wrong-form", `\`${key.key}\` takes numbers joined by dashes, such as ${key.example}.`, span(values));
      return { value: { is: "order", order: numbers }, problems };
    }
    case "thread": {
      const spelt = values.map((v) => v.parts.filter((p) => !isSeries(p)).map(plainText).join("")).join(",");
      const thread = readThread(spelt);
      if (thread) return { value: { is: "thread", thread }, problems };
      // Nothing of a thread is passed over: M10 1.25 and M10x1,25 are not M10 with a pitch of its own.
      const meant = [spelt.replace(",", "."), all.map(plainText).join("x")].find((t) => readThread(t));
      return report("wrong-form", `\`${key.key}\` takes a thread, such as M8x1.25 or 3/8-24.`, span(values),
        meant === undefined ? [] : [{ title: `Write ${meant}`, safe: false, edits: [{ span: span(values), text: meant }] }]);
    }
    case "class":
      return { value: { is: "class", text: all.map(plainText).join(" ") }, problems };
    case "fingerprint": {
      const part = all[0];
      if (part?.kind !== "print") return report("wrong-form", `\`${key.key}\` takes a fingerprint, which the tool writes: #3f9c21d07a4e.`, span(values));
      return { value: { is: "text", text: part.text }, problems };
    }
    case "file": {
      const part = all[0];
      if (part?.kind !== "string" || all.length > 1 || part.text.trim() === "") return report("wrong-form", `\`${key.key}\` takes the path of a file in quotes, counted from this file: ${key.example}.`, span(values));
      return { value: { is: "file", path: { text: part.text, span: part.span } }, problems };
    }
    case "name": {
      const part = all[0];
      if (part?.kind !== "word" && part?.kind !== "string") return report("wrong-form", `\`${key.key}\` takes a name.`, span(values));
      return { value: { is: "name", name: { text: part.text, span: part.span } }, problems };
    }
    case "names": {
      const names = all.flatMap((part) => (part.kind === "word" ? [{ text: part.text, span: part.span }] : []));
      if (names.length !== all.length) return report("wrong-form", `\`${key.key}\` takes names, set apart by commas, such as ${key.example}.`, span(values));
      return { value: { is: "names", names }, problems };
    }
  }
}

/** Reads one figure with its qualifiers for a quantity key. `bare` skips the check that required qualifiers are given. */
export function readQuantityValue(parts: readonly Part[], key: KeySchema, keySpan: Span, path: string, bare = false, inheritedUnit?: UnitRef): { value?: QuantityValue; problems: TextProblem[] } {
  if (key.type.is !== "quantity") return { problems: [] };
  const problems: TextProblem[] = [];
  const { sets, known, options } = takenBy(key);
  const read: ReadValue = readValue(parts, key.type.kind, inheritedUnit ? { ...options, inheritedUnit } : options);
  for (const p of read.problems)
    problems.push({
      code: ruleOfProblem(p.code),
      message: p.code === "hole" ? `\`${key.key}\` is not filled in yet.` : p.message.startsWith("`") ? p.message : `\`${key.key}\`: ${p.message}`,
      span: p.span,
      fixes: [
        ...(p.suggestions ?? []).map((s) => ({ title: s.title, safe: false, edits: [{ span: s.span, text: s.text }] })),
        // The figure was written, and the dots it was written for were left.
        ...(p.code === "hole" && parts.length > 1 && parts.some((part) => part.kind === "hole" && part.span.start === p.span.start) ? [{ title: "Take … out", safe: false, edits: [{ span: p.span, text: "" }] }] : []),
      ],
      path,
    });
  if (!read.quantity) return { problems };
  const { given, unknown, against } = read.qualifiers.length === 0 ? NO_WORDS : sortQualifiers(read.qualifiers, sets);
  // Behind a second unit stands a second figure's rest, which is one finding.
  for (const { word, first } of unknown.some(({ text }) => unitOfSpelling(text) !== undefined) ? [] : against)
    problems.push({ code: "unknown-word", message: `\`${key.key}\` is said to be ${first} and ${word.text}. Keep the one that is so.`, span: word.span, fixes: [{ title: `Take ${word.text} out`, safe: false, edits: [{ span: { start: endBefore(parts, word), end: word.span.end }, text: "" }] }], path });
  for (const word of unknown) {
    const near = nearest(word.text, known);
    const end = parts[parts.length - 1]?.span.end ?? word.span.end;
    if (unitOfSpelling(word.text) !== undefined) {
      // The whole figure typed over a number alone: the rest of what stood there follows it.
      problems.push({
        code: "unknown-word", message: `\`${key.key}\` has its unit already, and \`${word.text}\` stands behind it. Take out what does not belong to the figure.`,
        span: word.span, fixes: [{ title: `Take out what follows, from ${word.text} on`, safe: false, edits: [{ span: { start: endBefore(parts, word), end }, text: "" }] }], path,
      });
      continue;
    }
    problems.push({
      code: "unknown-word",
      message: known.length > 0 ? `\`${word.text}\` says nothing about \`${key.key}\` that is known here. It takes ${oneOf(known)}.` : `\`${word.text}\` says nothing about \`${key.key}\` that is known here. Remove it, or put it in a comment.`,
      span: word.span, fixes: near.map((n) => ({ title: `Write ${n}`, safe: false, edits: [{ span: word.span, text: n }] })), path,
    });
  }
  if (!bare)
    for (const id of key.qualifiers ?? []) {
      const set = SETS.get(id);
      if (!set || given[id] !== undefined) continue;
      const at = read.quantity.span.end;
      problems.push({
        code: "qualifier-missing",
        message: `\`${key.key}\` needs one more word after its figure: ${oneOf(Object.keys(set.options))}, or unstated if the source does not say. It ${set.words}.`,
        span: read.quantity.span,
        fixes: [...Object.keys(set.options), "unstated"].map((word) => ({ title: `Add ${word}`, safe: false, edits: [{ span: { start: at, end: at }, text: ` ${word}` }] })),
        path,
      });
    }
  for (const [id, word] of given === NO_WORDS.given ? [] : Object.entries(given))
    if (word === "unstated") problems.push({ code: "reading-unstated", message: `\`${key.key}\` stands as unstated, so the widest reading is used. Find the word out if you can: it ${SETS.get(id)?.words ?? "says of what it is"}.`, span: read.quantity.span, fixes: [], path });
  for (const clause of read.clauses)
    if (!CLAUSE_WORDS.has(clause.word.text))
      problems.push({ code: "unknown-word", message: `\`${clause.word.text}\` attaches no figure to \`${key.key}\` that is known here. A second figure needs a key of its own.`, span: clause.word.span, fixes: [], path });
  const clauses = read.clauses.length === 0 ? NO_CLAUSES : read.clauses.flatMap((c) => (c.quantity ? [{ word: c.word.text, quantity: c.quantity }] : []));
  return { value: { is: "quantity", quantity: read.quantity, qualifiers: given, clauses }, problems };
}

/** What a key takes after its figure: its sets of qualifiers, the words in them, and both as the quantity floor asks for them. */
interface Taken {
  readonly sets: readonly string[];
  readonly known: readonly string[];
  readonly options: ReadOptions;
}

const taken = new WeakMap<KeySchema, Taken>();

function takenBy(key: KeySchema): Taken {
  const before = taken.get(key);
  if (before) return before;
  const sets = [...(key.qualifiers ?? []), ...(key.mayQualify ?? [])];
  const known = sets.flatMap((id) => Object.keys(SETS.get(id)?.options ?? {}));
  const found: Taken = {
    sets, known,
    options: {
      ...(key.type.is === "quantity" && key.type.or && { or: key.type.or }),
      ...(key.usual && { usual: { low: key.usual.low, nominal: (key.usual.low + key.usual.high) / 2, high: key.usual.high } }),
      qualifiers: sets.length > 0 ? [...known, "unstated"] : known,
    },
  };
  taken.set(key, found);
  return found;
}

/** Most figures have no word and no second figure behind them. */
const NO_WORDS: Readonly<ReturnType<typeof sortQualifiers>> = { given: {}, unknown: [], against: [] };
const NO_CLAUSES: QuantityValue["clauses"] = [];

/** Words that may attach a second figure: `for 20 min`, `at 850 rpm`. */
const CLAUSE_WORDS: ReadonlySet<string> = new Set(["for", "at", "from", "until", "after", "before", "on", "past", "with", "over"]);

// Problem codes of the quantity floor that are reported under another rule's id.
const PROBLEM_RULES: Readonly<Record<string, string>> = { hole: "not-filled-in", "not-a-figure": "wrong-form" };

/** The rule that reports a problem of the quantity floor. */
export function ruleOfProblem(code: string): string {
  return PROBLEM_RULES[code] ?? code;
}

/** Qualifiers are words of one spelling, whatever the case: 10 deg BTDC. */
function spelling(word: string): string {
  return word.toLowerCase();
}

/** Where what stands before a word ends: the word goes with the blanks in front of it. */
function endBefore(parts: readonly Part[], word: Text): number {
  return Math.max(0, ...parts.flatMap((part) => (part.span.end <= word.span.start ? [part.span.end] : [])));
}

/** Sorts loose words after a figure into qualifier sets: the key's own sets first, then `unstated` for the first set still open. */
function sortQualifiers(words: readonly Text[], setIds: readonly string[]): { given: Record<string, string>; unknown: Text[]; against: { readonly word: Text; readonly first: string }[] } {
  const against: { readonly word: Text; readonly first: string }[] = [];
  const given: Record<string, string> = {};
  const unknown: Text[] = [];
  for (let i = 0; i < words.length; i++) {
    const one = words[i] as Text;
    const two = words[i + 1] ? spelling(`${one.text} ${words[i + 1]?.text}`) : undefined;
    const find = (word: string) => setIds.find((id) => Object.hasOwn(SETS.get(id)?.options ?? {}, word));
    const pair = two !== undefined ? find(two) : undefined;
    if (pair !== undefined && two !== undefined) {
      given[pair] = two;
      i++;
      continue;
    }
    const text = spelling(one.text);
    const single = find(text);
    if (single !== undefined) {
      const first = given[single];
      if (first !== undefined && first !== text) against.push({ word: one, first });
      given[single] = text;
    } else if (text === "unstated") {
      const open = setIds.find((id) => given[id] === undefined);
      if (open !== undefined) given[open] = "unstated";
      else unknown.push(one);
    } else unknown.push(one);
  }
  return { given, unknown, against };
}

/** The series printed after an inch thread, which its threads to the inch say already: 3/8-24 UNF. */
function isSeries(part: Part): boolean {
  return part.kind === "word" && /^UN(C|F|EF|R|RC|RF)?$/i.test(part.text);
}

/** M8x1.25, M8 (coarse pitch), 3/8-24, 10-32 (a number size), in metres. */
export function readThread(text: string): Thread | undefined {
  const metric = /^M(\d+(?:\.\d+)?)(?:[xX×](\d+(?:\.\d+)?))?$/.exec(text);
  if (metric) {
    const d = Number(metric[1]);
    const p = metric[2] !== undefined ? Number(metric[2]) : COARSE_PITCH[d];
    return p !== undefined && p > 0 && p < d ? { system: "metric", diameter: d / 1000, pitch: p / 1000, text } : undefined;
  }
  const inch = /^(?:(\d+)\/(\d+)|(\d+))-(\d+)$/.exec(text);
  if (!inch) return undefined;
  // Number sizes of ASME B1.1: nominal diameter 0.060 in + 0.013 in a number.
  const d = inch[1] !== undefined ? Number(inch[1]) / Number(inch[2]) : 0.06 + 0.013 * Number(inch[3]);
  const n = Number(inch[4]);
  return d > 0 && n > 0 && Number.isFinite(d) ? { system: "inch", diameter: d * 0.0254, pitch: 0.0254 / n, text } : undefined;
}

// ISO 261 coarse pitches, mm.
const COARSE_PITCH: Readonly<Record<number, number>> = { 3: 0.5, 4: 0.7, 5: 0.8, 6: 1, 7: 1, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2, 16: 2, 18: 2.5, 20: 2.5, 22: 2.5, 24: 3 };

/** The calendar's days only: 2027-02-30 is none. */
export function isRealDate(text: string): boolean {
  const m = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!m) return false;
  const [year, month, day] = [Number(m[1]), Number(m[2]), Number(m[3])];
  const days = [31, year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  return month >= 1 && month <= 12 && day >= 1 && day <= (days[month - 1] as number);
}

/** The interval of a figure where one number is wanted: a quantity's own, or 1/0 for yes and no. */
export function intervalOf(value: FigureValue): Interval | undefined {
  if (value.is === "quantity") return value.quantity.interval;
  if (value.is === "yes-no") return exactly(value.yes ? 1 : 0);
  return undefined;
}

/** The text of a part as it would be written plainly. */
export function plainText(part: Part): string {
  switch (part.kind) {
    case "figure":
      return part.digits.text + (part.unit ? ` ${part.unit.text}` : "");
    case "word": case "string": case "date": case "thread": case "print": case "mark":
      return part.text;
    case "hole":
      return "…";
    case "signed":
      return part.sign + plainText(part.operand);
    case "range":
      return `${part.low ? plainText(part.low) : ""} .. ${part.high ? plainText(part.high) : ""}`;
    case "tolerance":
      return `${part.centre ? `${plainText(part.centre)} ` : ""}± ${plainText(part.plus)}`;
    case "compare":
      return `${part.op} ${plainText(part.operand)}`;
    case "binary":
      return `${plainText(part.left)} ${part.op} ${plainText(part.right)}`;
    case "group":
      return `(${part.inner.map(plainText).join(" ")})`;
  }
}

const ANGLES: ReadonlySet<string> = new Set(["deg", "°", "turn", "turns"]);

/** The last unit written in one value. */
function unitIn(parts: readonly Part[]): UnitRef | undefined {
  return parts.map(unitOfPart).findLast((unit) => unit !== undefined);
}

function unitOfPart(part: Part): UnitRef | undefined {
  if (part.kind === "figure") return part.unit;
  if (part.kind === "tolerance") return unitOfPart(part.plus) ?? (part.centre && unitOfPart(part.centre));
  if (part.kind === "range") return (part.high && unitOfPart(part.high)) ?? (part.low && unitOfPart(part.low));
  if (part.kind === "signed") return unitOfPart(part.operand);
  return undefined;
}

function wordsOf(parts: readonly Part[]): string | undefined {
  if (parts.some((p) => p.kind !== "word" && p.kind !== "mark" && p.kind !== "figure")) return undefined;
  return parts.map(plainText).join(" ");
}

/** An amount and its currency as `240.00 GBP`, in whichever order they stand. */
function moneyOf(parts: readonly Part[]): string | undefined {
  const [a, b] = parts;
  const [figure, word] = a?.kind === "figure" ? [a, b] : [b, a];
  if (parts.length !== 2 || figure?.kind !== "figure" || figure.form !== "number" || figure.unit || word?.kind !== "word" || !/^[A-Za-z]{3}$/.test(word.text)) return undefined;
  return `${figure.digits.text} ${word.text.toUpperCase()}`;
}

/** "a, b or c". */
export function oneOf(words: readonly string[]): string {
  if (words.length <= 1) return words[0] ?? "";
  return `${words.slice(0, -1).join(", ")} or ${words[words.length - 1]}`;
}

function span(values: readonly Value[]): Span {
  return { start: values[0]?.span.start ?? 0, end: values[values.length - 1]?.span.end ?? 0 };
}
