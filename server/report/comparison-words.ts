// The sentences of a comparison, the same in every print of it. Knows no markup.
import type { BuildComparison, Cause, ComparedFinding, ComparedMargin, ComparedValue, Comparison, FindingChange, LooseComparison } from "./comparison.ts";
import { type Place, lineWords } from "./place.ts";
import { capital, counted, listed } from "./wording.ts";

/** "Between main (3f9c21d) and the files as they are: 1 build changed, 2 the same." */
export function headline({ before, after, counts, builds, loose, elsewhere }: Comparison): string {
  const { changed, added, removed, same } = counts;
  const engines = builds.filter((b) => b.is === "engine").length;
  const what = (n: number, words: string) => (n > 0 ? `${counted(n, engines === builds.length && engines > 0 ? "engine" : "build")} ${words}` : "");
  const parts = [what(changed, "changed"), what(added, "added"), what(removed, "removed"), loose.length > 0 ? `${counted(loose.length, "declaration")} changed that no build here stands on` : "", elsewhere.length > 0 ? `${counted(elsewhere.length, "finding")} elsewhere` : ""].filter((t) => t !== "");
  const rest = same > 0 ? `, ${counted(same, "build")} the same` : "";
  return `Between ${before.label} and ${after.label}: ${parts.length > 0 ? listed(parts) : "nothing changed"}${rest}.`;
}

/** "3 figures changed; in consequence 9 values, 2 margins and 1 new finding." */
export function countsSentence(b: BuildComparison): string {
  const own = b.causes.length;
  if (b.fate !== "changed") return `${capital(b.is)} ${b.fate}${b.findings.length > 0 ? `; ${counted(b.findings.length, "finding")} ${b.fate === "added" ? "in it" : "went with it"}` : ""}.`;
  const seen = new Set(b.values.filter((v) => !v.unseen).map((v) => v.id)).size;
  const finding = (change: FindingChange, words: string) => {
    const n = b.findings.filter((f) => f.change === change).length;
    return n > 0 ? (change === "new" ? counted(n, "new finding") : `${counted(n, "finding")} ${words}`) : "";
  };
  const follows = [
    seen > 0 ? counted(seen, "value") : "", b.margins.length > 0 ? counted(b.margins.length, "margin") : "",
    finding("new", "new"), finding("unwaived", "no longer waived"), finding("worse", "worse"), finding("changed", "with other figures"), finding("waived", "waived now"), finding("better", "better"), finding("gone", "gone"),
  ].filter((t) => t !== "");
  const what = own > 0 ? `${counted(own, "thing")} changed` : b.renamed.length > 0 ? "Only names changed" : b.respelt.length > 0 ? "Only spellings changed" : "No figure changed";
  return `${what}${follows.length > 0 ? `; in consequence ${listed(follows)}` : own > 0 ? "; no value, margin or finding follows from it" : ""}.`;
}

/** "by 1 and 3"; empty for none. */
export function causedBy(causes: readonly number[]): string {
  return causes.length > 0 ? `by ${listed(causes.map(String))}` : "";
}

export function valueLabel({ label, measured, at }: ComparedValue): string {
  return measured ? `${label}, as measured${at === "" ? "" : `, ${at}`}` : label;
}

/** Values as they are told: the places that one was measured at stand in one line, from the least to the greatest. */
export function toldValues(values: readonly ComparedValue[]): readonly ComparedValue[] {
  const told: ComparedValue[] = [];
  for (const [i, value] of values.entries()) {
    if (!value.measured) {
      told.push(value);
      continue;
    }
    const same = values.filter((v) => v.measured && v.id === value.id);
    if (same.length === 1) told.push(value);
    else if (values.findIndex((v) => v.measured && v.id === value.id) === i)
      told.push({ ...value, at: `${same.length} places`, from: span(same, "from"), to: span(same, "to"), unseen: same.every((v) => v.unseen), causes: [...new Set(same.flatMap((v) => v.causes))].sort((a, b) => a - b) });
  }
  return told;
}

function span(values: readonly ComparedValue[], side: "from" | "to"): string {
  const ends = side === "from" ? "fromNumbers" : "toNumbers";
  const known = values.filter((v) => v[ends] !== null).sort((a, b) => (a[ends]?.nominal ?? 0) - (b[ends]?.nominal ?? 0));
  const [least, greatest] = [known[0]?.[side] ?? "", known[known.length - 1]?.[side] ?? ""];
  return least === greatest ? least : `${least} … ${greatest}`;
}

/** Before and after; what the label says already ("degrees before top dead centre") is not said twice. */
export function valueSides({ label, from, to }: ComparedValue): readonly [string, string] {
  const size = (text: string) => {
    const [, own, words] = /^(-?[\d.]+ deg) ([a-z].*)$/.exec(text) ?? [];
    return own !== undefined && words !== undefined && label.endsWith(words) ? own : sideText(text);
  };
  return [size(from), size(to)];
}

/** One side of a value: what it was, or that it was not there. */
export function sideText(text: string): string {
  return text === "" ? "nothing" : text;
}

export function findingWords({ change, from, to }: ComparedFinding): string {
  switch (change) {
    case "new": return "new";
    case "gone": return "gone";
    case "worse": return from && to && from.severity !== to.severity ? `worse, ${from.severity} before` : "worse";
    case "better": return from && to && from.severity !== to.severity ? `better, ${from.severity} before` : "better";
    case "changed": return "still found, with other figures";
    case "waived": return "waived now";
    case "unwaived": return "no longer waived";
  }
}

export function marginWords({ from, to, fromLimit, toLimit, lost, kept }: ComparedMargin): string {
  const was = from === "" ? (fromLimit === "" ? "no limit" : "not known") : from;
  const is = to === "" ? (toLimit === "" ? "no limit" : "not known") : to;
  const limit = fromLimit === toLimit ? toLimit : `${fromLimit === "" ? "no limit" : fromLimit} → ${toLimit === "" ? "no limit" : toLimit}`;
  return `${was} → ${is}${limit === "" ? "" : ` against ${limit}`}${lost ? (kept ? "; less than before, and kept" : "; less than before") : ""}`;
}

/** Where a cause stands: one place, or the place before and the place now. */
export function causePlaces({ from, to }: Cause): string {
  const places = [from?.place, to?.place].map((place) => (place ? lineWords(place) : ""));
  const [was = "", is = ""] = places;
  if (was === "" || is === "" || was === is) return was === "" ? is : was;
  const [file, line] = split(from?.place as Place);
  return split(to?.place as Place)[0] === file ? `${is}, line ${line} before` : `${is}, ${was} before`;
}

function split(place: Place): [string, number] {
  return [place.file, place.range.start.line];
}

/** Who gives the figure, where that changed too. */
export function causeOrigins({ from, to }: Cause): string {
  const [was, is] = [from?.origin ?? "", to?.origin ?? ""];
  if (was === is || was === "" || is === "") return is === "" ? was : is;
  return `${is}, before ${was}`;
}

export function looseTitle({ sort, name, fate }: LooseComparison): string {
  return `${capital(sort)} ${name} ${fate}, and no build here stands on it`;
}

export function fileWords({ from, to }: { readonly from?: string; readonly to?: string }): string {
  if (from !== undefined && to !== undefined && from !== to) return `${to}, ${from} before`;
  return to ?? from ?? "";
}
