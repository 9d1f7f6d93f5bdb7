// Holds real text against the schema alone: every word, key, unit and qualifier must be accounted for. No names are resolved beyond one text.
import { readSource } from "../../grammar/read.ts";
import type { Block, Cell, Entry, Part, Phrase, Value } from "../../grammar/tree.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { readValue } from "../../server/quantity/value.ts";
import type { KindId } from "../../server/quantity/kinds.ts";
import { columnIn, keyIn, phraseOf, placeAt, qualifierSet, qualifierSetOf, unitOfColumn } from "../../server/schema/lookup.ts";
import type { Step } from "../../server/schema/lookup.ts";
import { measurementOf } from "../../server/schema/measurements.ts";
import { UNSTATED } from "../../server/schema/qualifiers.ts";
import { isSide } from "../../server/schema/row.ts";
import type { BlockSchema, KeySchema } from "../../server/schema/types.ts";

function textOf(part: Part): string {
  switch (part.kind) {
    case "word":
    case "string":
    case "date":
    case "thread":
    case "print":
    case "mark":
      return part.text;
    case "figure":
      return part.digits.text;
    default:
      return part.kind;
  }
}

/** What the schema finds wrong with a value, in words for the test's reader; empty when all is accounted for. */
export function problemsOfValue(row: KeySchema, values: readonly Value[]): string[] {
  const only = values[0]?.parts ?? [];
  // A hole is a figure still to be filled in: advice, not an error of the text.
  if (values.length === 1 && only.length === 1 && only[0]?.kind === "hole") return [];
  const joined = values.flatMap((value) => value.parts.map(textOf)).join(" ");
  const single = (): string[] => (values.length === 1 ? [] : [`${row.key}: ${values.length} values where one is taken`]);
  const expect = (ok: boolean): string[] => (ok ? [] : [`${row.key}: "${joined}" is no ${row.type.is}`]);
  switch (row.type.is) {
    case "file":
      return [...single(), ...expect(only.length === 1 && only[0]?.kind === "string" && only[0].text !== "")];
    case "quantity":
      return [...single(), ...problemsOfQuantity(row, row.type.kind, row.type.or, only)];
    case "quantities":
      return values.flatMap((value, i) => problemsOfQuantity(row, (row.type as { kind: KindId }).kind, undefined, value.parts, i < values.length - 1 ? values.at(-1)?.parts : undefined));
    case "stages":
      return values.flatMap((value, i) => {
        const angle = readValue(value.parts, "angle");
        if (angle.quantity && angle.problems.length === 0) return [];
        return problemsOfQuantity(i === 0 ? row : withoutQualifiers(row), "torque", undefined, value.parts);
      });
    case "word":
      return expect(Object.hasOwn(row.type.options, joined));
    case "yes-no":
      return expect(joined === "yes" || joined === "no");
    case "text":
      return expect(only.length > 0);
    case "date":
      return [...single(), ...expect(only.length === 1 && only[0]?.kind === "date")];
    case "thread":
      return [...single(), ...expect(only.length === 1 && only[0]?.kind === "thread")];
    case "order":
      return [...single(), ...expect(only.length === 1 && only[0]?.kind === "figure" && (only[0].form === "dashed" || only[0].form === "number"))];
    case "class":
      return expect(only.every((part) => part.kind === "figure" || part.kind === "word"));
    case "name":
    case "names":
      return expect(values.every((value) => value.parts.every((part) => part.kind === "word")));
    case "fingerprint":
      return expect(only.length === 1 && only[0]?.kind === "print");
    case "money":
      return [...single(), ...expect(only.length === 2 && only.some((part) => part.kind === "figure" && part.form === "number" && !part.unit) && only.some((part) => part.kind === "word" && /^[A-Z]{3}$/.test(part.text)))];
    case "mark":
      return expect(only.every((part) => part.kind === "mark" || part.kind === "word" || part.kind === "figure"));
  }
}

function withoutQualifiers({ qualifiers, ...row }: KeySchema): KeySchema {
  return { ...row, mayQualify: qualifiers ?? [] };
}

function problemsOfQuantity(row: KeySchema, kind: KindId, or: readonly KindId[] | undefined, parts: readonly Part[], last?: readonly Part[]): string[] {
  const allowed = [...(row.qualifiers ?? []), ...(row.mayQualify ?? [])];
  const words = allowed.flatMap((id) => Object.keys(qualifierSet(id)?.options ?? {}));
  const end = last?.findLast((part) => part.kind === "figure");
  const inheritedUnit = end?.kind === "figure" ? end.unit : undefined;
  const value = readValue(parts, kind, { qualifiers: [...words, UNSTATED], ...(or ? { or } : {}), ...(inheritedUnit ? { inheritedUnit } : {}) });
  const found = value.problems.map((problem) => `${row.key}: ${problem.message}`);
  if (!value.quantity) found.push(`${row.key}: no quantity in "${parts.map(textOf).join(" ")}"`);
  const given = value.qualifiers.map((qualifier) => qualifier.text);
  for (const id of row.qualifiers ?? []) {
    if (!given.includes(UNSTATED) && !given.some((word) => qualifierSetOf(word)?.id === id)) found.push(`${row.key}: no word of "${id}"`);
  }
  for (const word of given) {
    if (word !== UNSTATED && !allowed.includes(qualifierSetOf(word)?.id ?? "")) found.push(`${row.key}: unexpected word "${word}"`);
  }
  if (value.quantity && row.usual && value.quantity.kind === kind && !given.some((word) => qualifierSetOf(word)?.id === "oversize")) {
    const { low, high } = value.quantity.interval;
    if (Number.isFinite(low) && low < row.usual.low - 1e-12) found.push(`${row.key}: ${low} is below the usual ${row.usual.low}`);
    if (Number.isFinite(high) && high > row.usual.high * (1 + 1e-9) + 1e-12) found.push(`${row.key}: ${high} is above the usual ${row.usual.high}`);
  }
  return found;
}

function wordsOf(phrase: Phrase): string[] {
  return phrase.head.filter((part) => part.kind === "word").map(textOf);
}

/** Part kinds by the names that the text itself declares. */
type Kinds = ReadonlyMap<string, string>;

function stepOf(phrase: Phrase, kinds: Kinds): Step {
  const words = wordsOf(phrase);
  const word = phrase.word.text;
  const side = words[words.indexOf("for") + 1];
  const sided = words.includes("for") && side !== undefined && isSide(side) ? { side } : {};
  if (word === "part") return { word, ...(words[0] === undefined ? {} : { of: words[0] }), ...(words[1] === undefined ? {} : { name: words[1] }) };
  if (word === "fit") {
    const of = kinds.get(words[0] ?? "");
    return { word, ...(of === undefined ? {} : { of }), name: words[0] ?? "", ...sided };
  }
  if (word === "measured") return { word, of: words[0] ?? "" };
  if (word === "fastener") return { word, name: words[0] ?? "" };
  return { word, ...sided };
}

function problemsOfHead(phrase: Phrase, kinds: Kinds): string[] {
  const schema = phraseOf(phrase.word.text);
  if (!schema) return [];
  const joins = new Set(schema.head.flatMap((role) => (role.after ? [role.after] : [])));
  const found: string[] = [];
  for (const role of schema.head) {
    if (role.optional) continue;
    const present = role.after
      ? wordsOf(phrase).includes(role.after)
      : phrase.head.some((part) => (role.takes === "string" ? part.kind === "string" : role.takes === "date" ? part.kind === "date" : part.kind === "word" || part.kind === "compare" || part.kind === "figure"));
    if (!present) found.push(`${phrase.word.text}: nothing for ${role.role}`);
  }
  for (const part of phrase.head) {
    const takes = { string: "string", date: "date" }[part.kind as string];
    if (takes && !schema.head.some((role) => role.takes === takes)) found.push(`${phrase.word.text}: takes no ${takes}`);
    if (part.kind === "word" && ["on", "for", "because", "until", "where", "after", "before", "at"].includes(part.text) && !joins.has(part.text)) found.push(`${phrase.word.text}: takes no "${part.text}"`);
  }
  if (phrase.word.text === "measured" && !measurementOf(wordsOf(phrase)[0] ?? "")) found.push(`measured: "${wordsOf(phrase)[0]}" is no measurement`);
  if (phrase.word.text === "fit" && !kinds.has(wordsOf(phrase)[0] ?? "")) found.push(`fit: "${wordsOf(phrase)[0]}" is not declared`);
  return found;
}

function headingOf(cell: Cell): string {
  return cell.parts.map(textOf).join(" ");
}

function problemsOfTable(block: BlockSchema, rows: readonly (readonly Cell[])[]): string[] {
  if (rows.length === 0) return [];
  if (!block.table) return [`${block.id}: no table is taken here`];
  const [header = [], ...body] = rows;
  if (block.table.form === "grid") return [];
  const found: string[] = [];
  header.forEach((cell, index) => {
    const column = columnIn(block, headingOf(cell));
    if (!column) {
      found.push(`${block.id}: no column "${headingOf(cell)}"`);
      return;
    }
    if (column.type.is !== "quantity") return;
    const own = unitOfColumn(column);
    const inherited = cell.unit ?? (own && { text: spellingOfUnit(own), span: cell.span });
    for (const row of body) {
      const reading = row[index];
      if (!reading || reading.none) continue;
      const value = readValue(reading.parts, column.type.kind, inherited ? { inheritedUnit: inherited } : {});
      for (const problem of value.problems) found.push(`${column.key}: ${problem.message}`);
    }
    for (const id of column.qualifiers ?? []) {
      const words = cell.words.map((word) => word.text).join(" ");
      if (!Object.keys(qualifierSet(id)?.options ?? {}).some((word) => words.includes(word))) found.push(`${column.key}: no word of "${id}" in the heading`);
    }
  });
  return found;
}

function problemsOfBlock(tree: Block, path: readonly Step[], kinds: Kinds): string[] {
  const where = path.map((step) => step.word + (step.of ? `(${step.of})` : "")).join(" > ");
  const place = placeAt(path);
  if (!place) return [`${where}: no such block`];
  const rows = tree.items.flatMap((item) => (item.kind === "row" ? [item.cells] : []));
  const found: string[] = problemsOfTable(place.block, rows);
  for (const item of tree.items) {
    if (item.kind === "junk") found.push(`${where}: junk`);
    if (item.kind === "entry") found.push(...problemsOfEntry(place.block, item).map((problem) => `${where}: ${problem}`));
    if (item.kind === "phrase") found.push(...problemsOfPhrase(item, path, kinds, place.block));
  }
  return found;
}

function problemsOfEntry(block: BlockSchema, entry: Entry): string[] {
  const row = keyIn(block, entry.key.text);
  if (!row) return block.open ? [] : [`no key "${entry.key.text}"`];
  return problemsOfValue(row, entry.values);
}

function problemsOfPhrase(phrase: Phrase, path: readonly Step[], kinds: Kinds, around?: BlockSchema): string[] {
  const step = stepOf(phrase, kinds);
  const nested = around?.blocks && Object.hasOwn(around.blocks, step.word);
  const statement = around ? around.statements?.includes(step.word) : ["use", "engine", "part", "card", "build", "shop"].includes(step.word);
  if (!nested && !statement) return [`"${step.word}" does not belong in ${around?.id ?? "a file"}`];
  const found = nested ? [] : problemsOfHead(phrase, kinds);
  if (phrase.block) found.push(...problemsOfBlock(phrase.block, [...path, step], kinds));
  return found;
}

/** Everything in a text that grammar, quantities or schema do not account for. */
export function problemsOf(text: string): string[] {
  const file = readSource("file:///sample.tappet", text);
  const phrases = file.declarations.flatMap(({ tree }) => (tree.phrase ? [tree.phrase] : []));
  const kinds = new Map(phrases.filter((phrase) => phrase.word.text === "part").map((phrase) => [wordsOf(phrase)[1] ?? "", wordsOf(phrase)[0] ?? ""]));
  return [
    ...file.declarations.flatMap(({ tree }) => [...tree.problems.map((problem) => problem.message), ...(tree.stray.length > 0 ? ["stray text"] : [])]),
    ...phrases.flatMap((phrase) => problemsOfPhrase(phrase, [], kinds)),
  ];
}

/** The values of `key: text` as the grammar reads them. */
export function valuesOf(key: string, text: string): readonly Value[] {
  const file = readSource("file:///example.tappet", `engine a {\n  ${key}: ${text}\n}\n`);
  const tree = file.declarations[0]?.tree;
  const entry = tree?.phrase?.block?.items[0];
  if (entry?.kind !== "entry" || (tree?.problems.length ?? 0) > 0) throw new Error(`"${key}: ${text}" does not parse as an entry`);
  return entry.values;
}
