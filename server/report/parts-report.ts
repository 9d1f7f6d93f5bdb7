// A build's parts printed: as text, as data for programs, as comma-separated rows for a spreadsheet. Works nothing out.
import { visible } from "../../grammar/visible.ts";
import { separatedText } from "../quantity/separated-text.ts";
import { type MissingPart, type Money, type PartEntry, type PartStatus, type PartsList, PART_STATUSES } from "./parts-list.ts";
import { lineWords } from "./place.ts";
import { capital, counted } from "./wording.ts";

export function partsText(list: PartsList): string {
  const blocks = (Object.keys(PART_STATUSES) as PartStatus[]).flatMap((status) => {
    const own = list.parts.filter((p) => p.status === status);
    return own.length > 0 ? [[capital(PART_STATUSES[status]), ...own.map((p) => `  ${visible(partWords(p))}`)].join("\n")] : [];
  });
  if (list.missing.length > 0) blocks.push(["Asked for and not there", ...list.missing.map((m) => `  ${visible(missingWords(m))}${m.place ? ` (${visible(lineWords(m.place))})` : ""}`)].join("\n"));
  const sums = sumLines(list);
  if (sums.length > 0) blocks.push(["Cost", ...sums.map((line) => `  ${line}`)].join("\n"));
  if (blocks.length === 0) blocks.push(`${visible(list.build)} has no parts fitted, and nothing asks for any.`);
  return `${blocks.join("\n\n")}\n`;
}

/** One line: what it is, how many, where from, what it cost. */
export function partWords(p: PartEntry): string {
  const about = [
    `${p.kind.replaceAll("-", " ")}${p.side === null ? "" : `, ${p.side}`}`, p.quantity === null ? "" : `${p.quantity} of them`, p.condition ?? "", p.maker ?? "", p.partNumber === null ? "" : `number ${p.partNumber}`, p.serial === null ? "" : `serial ${p.serial}`,
    p.bought === null ? "" : `${p.status === "ordered" ? "ordered" : "bought"} ${p.bought}`, p.from === null ? "" : `from ${p.from}`, p.fitted === null ? "" : `fitted ${p.fitted}`,
  ].filter((t) => t !== "");
  return `${p.part}: ${about.join(", ")}${p.cost ? `; ${moneyWords(p.cost)}` : ""}`;
}

export function moneyWords({ amount, currency }: Money): string {
  return `${amount} ${currency}`;
}

export function missingWords({ what, where, askedBy, isPart }: MissingPart): string {
  return `${capital(what.replaceAll("-", " "))}${where.length > 0 ? ` where ${where.join(", ")}` : ""}: asked for by ${askedBy}, and ${isPart ? "none is fitted" : "there is none"}`;
}

/** Sums, a line for each currency, and what they leave out. */
export function sumLines({ sums, withoutCost }: PartsList): readonly string[] {
  const lines = sums.map((s) => {
    const rest = [["paid", s.paid], ["ordered", s.ordered], ["to be had", s.wanted]].filter(([, amount]) => !/^0\.0*$/.test(amount as string)).map(([words, amount]) => `${amount} ${words}`);
    return `${s.all} ${s.currency}${rest.length > 0 ? `: ${rest.join(", ")}` : ""}`;
  });
  return lines.length > 0 && withoutCost > 0 ? [...lines, `${counted(withoutCost, "part")} without a cost ${withoutCost === 1 ? "is" : "are"} left out.`] : lines;
}

/** The form that schemas/parts.schema.json publishes. */
export function partsJson({ build, parts, missing, sums, withoutCost, open }: PartsList): unknown {
  const at = (place: PartEntry["place"]) => ({ file: place?.file ?? "", line: place?.range.start.line ?? 1, column: place?.range.start.column ?? 1 });
  return { build, parts: parts.map(({ place, ...p }) => ({ ...p, ...at(place) })), missing: missing.map(({ place, ...m }) => ({ ...m, ...at(place) })), sums, withoutCost, public: open };
}

const HEADS = ["part", "kind", "side", "status", "quantity", "condition", "maker", "part number", "serial", "bought", "fitted", "cost", "currency", "from", "source", "asked for by", "file", "line"] as const;
/** What a list made for everybody has no column for. */
const PRIVATE: ReadonlySet<string> = new Set(["cost", "currency", "from"]);

/** A row for each part, then one for each that is asked for and not there, its status `missing`. */
export function partsCsv({ parts, missing, open }: PartsList): string {
  const rows = [
    ...parts.map((p): Record<string, string | number> => ({
      part: p.part, kind: p.kind, side: p.side ?? "", status: p.status, quantity: p.quantity ?? "", condition: p.condition ?? "", maker: p.maker ?? "", "part number": p.partNumber ?? "", serial: p.serial ?? "", bought: p.bought ?? "", fitted: p.fitted ?? "",
      cost: p.cost?.amount ?? "", currency: p.cost?.currency ?? "", from: p.from ?? "", source: p.source ?? "", file: p.place?.file ?? "", line: p.place?.range.start.line ?? "",
    })),
    ...missing.map((m): Record<string, string | number> => ({ part: [m.what, ...m.where].join(", "), kind: m.what, status: "missing", "asked for by": m.askedBy, file: m.place?.file ?? "", line: m.place?.range.start.line ?? "" })),
  ];
  const heads = HEADS.filter((head) => !open || !PRIVATE.has(head));
  return separatedText([heads, ...rows.map((row) => heads.map((head) => row[head] ?? ""))]);
}
