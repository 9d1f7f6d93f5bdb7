// What is read first: the verdict in plain words, the facts under it, the engine in one paragraph. It never says that an engine is ready.
import { type EffectiveBuild, effective, wordsFor } from "../model/effective.ts";
import type { Finding } from "../rules/finding.ts";
import { tunesOf } from "../sheet/tune.ts";
import { tuneBrief } from "./tune-words.ts";
import type { ValueRow } from "./sheet-model.ts";
import type { SheetInput } from "./sheet-input.ts";
import { writtenAt } from "./sheet-values.ts";
import { capital, listed, numberWord, plural, stopped } from "./wording.ts";

export function verdictOf(input: SheetInput, open: readonly Finding[]): readonly string[] {
  const errors = open.filter((f) => f.severity === "error");
  const unchecked = input.unchecked.map((u) => u.what);
  const left = unchecked.length === 0 ? "" : `${numberWord(unchecked.length)} critical ${plural(unchecked.length, "thing was", "things were")} not checked`;
  const first = errors[0];
  const sentences: string[] = [];
  if (first) {
    sentences.push(`${capital(numberWord(errors.length))} ${plural(errors.length, "thing stops", "things stop")} this engine.`, `${errors.length > 1 ? "First: " : ""}${stopped(first.message)}`);
    if (left) sentences.push(`${capital(left)}: ${listed(unchecked)}.`);
  } else if (left) sentences.push(`Nothing found that stops it; ${left}: ${listed(unchecked)}.`);
  else sentences.push("Nothing found that stops it, and no critical thing was left unchecked for want of a figure.");
  const warnings = open.filter((f) => f.severity === "warning").length;
  const advice = open.filter((f) => f.severity === "advice").length;
  const rest = [warnings > 0 ? `${numberWord(warnings)} ${plural(warnings, "warning")}` : "", advice > 0 ? `${numberWord(advice)} ${plural(advice, "piece", "pieces")} of advice` : ""].filter((t) => t !== "");
  if (rest.length > 0) sentences.push(`${capital(listed(rest))} ${plural(warnings + advice, "follows", "follow")}.`);
  return sentences;
}

export function factsOf(input: SheetInput): { label: string; text: string }[] {
  const { build, sheet } = input;
  const subject = build.subject;
  const facts = [];
  if (subject.sort === "build") facts.push({ label: "Build", text: [subject.title, subject.name?.text].filter((t) => t !== undefined).join(", ") });
  if (build.engine) facts.push({ label: "Engine", text: [build.engine.title, build.engine.name?.text].filter((t) => t !== undefined).join(", ") });
  facts.push({ label: "As of", text: input.asOf });
  if (input.revision !== undefined) facts.push({ label: "Revision", text: input.revision });
  if (subject.sort === "build") facts.push({ label: "Tune", text: tuneText(input) });
  const figures = [...build.slots.values()].map((slot) => effective(slot)).filter((p) => p?.fact.value.is === "quantity" || p?.fact.value.is === "stages");
  const used = new Set(sheet.values.filter((v) => v.interval).flatMap((v) => v.provided));
  if (input.open) facts.push({ label: "Left out", text: "private notes and what was paid" });
  facts.push({ label: "Used", text: `${figures.filter((p) => p && used.has(p)).length} of ${figures.length} figures enter a value on this sheet` });
  return facts;
}

/** The tune that counts, in a few words. */
export function tuneText({ build, sheet, data }: Pick<SheetInput, "build" | "sheet" | "data">): string {
  const look = tunesOf(sheet, data).find((one) => one.latest);
  return look ? tuneBrief(look) : "none recorded";
}

/** Prose with the numbers a builder is asked for first. Says only what is known. */
export function paragraphOf(build: EffectiveBuild, rows: ReadonlyMap<string, ValueRow>): string {
  const both = (id: string) => {
    const row = rows.get(id);
    return row && (row.other ? `${row.value} (${row.other})` : row.value);
  };
  const written = (path: string) => writtenAt(build, path);
  const sentences: string[] = [];
  const cylinders = written("cylinders");
  const bore = written("bore");
  const stroke = written("stroke");
  const size = both("displacement.total");
  const shape = [
    cylinders !== undefined ? `${cylinders} ${plural(Number(cylinders), "cylinder")}` : undefined,
    bore !== undefined && stroke !== undefined ? `${bore} bore by ${stroke} stroke` : undefined,
    size,
  ].filter((t) => t !== undefined);
  const engine = build.engine ? wordsFor(build.engine) : undefined;
  if (engine !== undefined || shape.length > 0) sentences.push(`${engine ?? "The engine"}${shape.length > 0 ? `: ${shape.join(", ")}` : ""}.`);
  const compression = both("compression.static");
  if (compression !== undefined) sentences.push(`Static compression ${compression}:1.`);
  const redline = written("redline");
  const speed = both("piston-speed.mean");
  if (redline !== undefined) sentences.push(`Redline ${redline}${speed !== undefined ? `, where the pistons average ${speed}` : ""}.`);
  const fuel = [written("fuel"), written("octane")].filter((t) => t !== undefined);
  if (fuel.length > 0) sentences.push(`Fuel: ${fuel.join(", ")}.`);
  if (build.subject.sort === "build")
    sentences.push(build.parts.length > 0 ? `Fitted: ${listed(build.parts.map((p) => (p.words === p.kindId ? p.words : `${p.words} (${p.kindId.replaceAll("-", " ")}${p.side ? `, ${p.side}` : ""})`)))}.` : "No part is fitted that differs from stock.");
  return sentences.join(" ");
}
