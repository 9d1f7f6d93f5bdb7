// The parts of a build: where each is, what was paid, what is still needed; the sums exact; nothing private on a list for everybody.
import fc from "fast-check";
import papa from "papaparse";
import { describe, expect, test } from "vitest";
import { added, partsList } from "../../server/report/parts-list.ts";
import { partsCsv, partsText } from "../../server/report/parts-report.ts";
import { sheetModel } from "../../server/report/sheet-document.ts";
import { atlasOf } from "../../server/report/place.ts";
import { sheetMarkdown } from "../../server/report/sheet-markdown.ts";
import { makeSheet } from "../../server/workspace/build-sheet.ts";
import { MAIN, ROOT, analyseText, resultOf } from "../support/project.ts";

const TEXT = `engine dunlin-18 { source: "workshop manual"; cylinders: 4 }
part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 { source: "cam card"; maker: "Ridgeway"; part-number: "RW-272"; needs retainer; needs tune after fitting }
build wren on dunlin-18 {
  fit ridgeway-272 on 2027-03-13 { condition: new; cost: 240.00 GBP; bought-from: "A. Petch, autojumble"; bought: 2027-01-09 }
  fit valve-spring "Marlpit 400" { status: ordered; quantity: 12; cost: 96.5 GBP; bought: 2027-03-01 }
  fit gasket head "Stainmoor copper" { status: wanted; cost: EUR 31.20; bore: 84 mm }
  fit cam-gear "=HYPERLINK(1)" { status: on-hand }
}
`;

function listOf(text = TEXT, open = false) {
  const analysis = analyseText(text);
  const subject = analysis.fileResult(MAIN)?.subjects.find((s) => s.build.subject.sort === "build");
  if (!subject) throw new Error("no build");
  return partsList({ ...subject, atlas: atlasOf(analysis.project, analysis.places, (uri) => uri.slice(ROOT.length)), open });
}

describe("the list of parts", () => {
  test("says where each is, what it cost and where it came from", () => {
    expect(listOf().parts.map((p) => [p.part, p.status, p.quantity, p.cost, p.from, p.fitted])).toEqual([
      ["Ridgeway 272", "fitted", null, { amount: "240.00", currency: "GBP" }, "A. Petch, autojumble", "2027-03-13"],
      ["Marlpit 400", "ordered", 12, { amount: "96.5", currency: "GBP" }, null, null],
      ["Stainmoor copper", "wanted", null, { amount: "31.20", currency: "EUR" }, null, null],
      ["=HYPERLINK(1)", "on-hand", null, null, null, null],
    ]);
    expect(listOf().parts[0]).toMatchObject({ maker: "Ridgeway", partNumber: "RW-272", condition: "new", source: "cam card" });
  });

  test("says what the build still needs", () => {
    expect(listOf().missing.map((m) => [m.what, m.askedBy, m.isPart])).toEqual([["retainer", "Ridgeway 272", true], ["tune", "Ridgeway 272", false]]);
    expect(listOf(TEXT.replace("fit cam-gear", "fit retainer")).missing.map((m) => m.what)).toEqual(["tune"]);
  });

  test("adds each currency up by itself, and says what is left out", () => {
    expect(listOf().sums).toEqual([{ currency: "EUR", paid: "0.00", ordered: "0.00", wanted: "31.20", all: "31.20" }, { currency: "GBP", paid: "240.00", ordered: "96.50", wanted: "0.00", all: "336.50" }]);
    expect(listOf().withoutCost).toBe(1);
    expect(partsText(listOf())).toMatch(/336\.50 GBP: 240\.00 paid, 96\.50 ordered\n {2}1 part without a cost is left out\./);
  });

  test("adds exactly, whatever the order and the decimals", () => {
    const amount = fc.tuple(fc.nat(10 ** 9), fc.nat(4)).map(([n, d]) => (d === 0 ? String(n) : `${Math.floor(n / 10 ** d)}.${String(n % 10 ** d).padStart(d, "0")}`));
    fc.assert(fc.property(fc.array(amount, { maxLength: 30 }), (amounts) => {
      const scaled = amounts.reduce((sum, a) => sum + BigInt(a.split(".")[0] as string) * 10000n + BigInt((a.split(".")[1] ?? "").padEnd(4, "0")), 0n);
      const [whole = "", part = ""] = added(amounts).split(".");
      expect(BigInt(whole) * 10000n + BigInt(part.padEnd(4, "0"))).toBe(scaled);
      expect(added([...amounts].reverse())).toBe(added(amounts));
    }));
    // 0.1 + 0.2 in binary is not 0.3.
    expect(added(["0.10", "0.20"])).toBe("0.30");
  });

  test("for everybody leaves out what was paid and to whom, in every form", () => {
    const open = listOf(TEXT, true);
    const analysis = analyseText(TEXT);
    const subject = analysis.fileResult(MAIN)?.subjects.find((s) => s.build.subject.sort === "build");
    if (!subject) throw new Error("no build");
    const sheet = sheetMarkdown(sheetModel({ ...makeSheet(analysis, subject, (uri) => uri).input, open: true }));
    for (const text of [JSON.stringify(open), partsText(open), partsCsv(open), sheet]) {
      expect(text).toContain("Marlpit 400");
      expect(text).not.toMatch(/240|96\.5|GBP|EUR|Petch|autojumble/);
    }
    expect(sheetMarkdown(sheetModel(makeSheet(analysis, subject, (uri) => uri).input))).toMatch(/240\.00 GBP/);
  });
});

describe("rows for a spreadsheet", () => {
  test("read back as they were written, and run nothing", () => {
    const { data, errors } = papa.parse<Record<string, string>>(partsCsv(listOf()), { header: true, skipEmptyLines: true });
    expect(errors).toEqual([]);
    expect(data.map((row) => [row["part"], row["status"], row["cost"], row["currency"], row["from"], row["asked for by"]])).toEqual([
      ["Ridgeway 272", "fitted", "240.00", "GBP", "A. Petch, autojumble", ""], ["Marlpit 400", "ordered", "96.5", "GBP", "", ""], ["Stainmoor copper", "wanted", "31.20", "EUR", "", ""],
      ["'=HYPERLINK(1)", "on-hand", "", "", "", ""], ["retainer", "missing", "", "", "", "Ridgeway 272"], ["tune", "missing", "", "", "", "Ridgeway 272"],
    ]);
  });

  test("hold any text that a name can have", () => {
    fc.assert(fc.property(fc.string({ minLength: 1, maxLength: 30 }).filter((s) => !/["\r\n]/.test(s) && s.trim() === s && !/^[=+\-@\t]/.test(s)), (title) => {
      const list = { ...listOf(), parts: listOf().parts.slice(0, 1).map((p) => ({ ...p, part: title })) };
      const { data } = papa.parse<Record<string, string>>(partsCsv(list), { header: true, skipEmptyLines: true });
      expect(data[0]?.["part"]).toBe(title);
    }), { numRuns: 50 });
  });
});

describe("an amount of money", () => {
  test.each([["240.00 GBP", "240.00 GBP"], ["GBP 240", "240 GBP"], ["31.20 eur", "31.20 EUR"]])("%s is read as %s", (written, read) => {
    expect(listOf(TEXT.replace("cost: 240.00 GBP", `cost: ${written}`)).parts[0]?.cost).toEqual({ amount: read.split(" ")[0], currency: read.split(" ")[1] });
  });
  test.each(["240.00", "GBP", "240.00 pounds", "240 mm", "240.00 GBP each", '"a lot"'])("%s is none, and says what is wanted", (written) => {
    const found = resultOf(TEXT.replace("cost: 240.00 GBP", `cost: ${written}`)).findings.filter((f) => f.path === "camshaft.cost" || /cost/.test(f.message));
    expect(found.map((f) => [f.rule, f.severity])).toEqual([["wrong-form", "error"]]);
  });
});
