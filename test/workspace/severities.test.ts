// What a shop says of rules: taken by everything that uses it, never for what breaks engines, and never without a word in the report.
import { describe, expect, test } from "vitest";
import { RULES } from "../../server/rules/index.ts";
import { severitiesOf } from "../../server/rules/severities.ts";
import { checkText } from "../../server/report/findings-text.ts";
import { checkedFiles } from "../../server/workspace/checked-files.ts";
import { ruleOf } from "../../server/workspace/analyse.ts";
import { MAIN, ROOT, projectOf, resultOf } from "../support/project.ts";

const ENGINE = `engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  limits { lash-spread: 0.03 mm }
  valve-gear { intake { lash: 0.20 ± 0.05 mm cold } }
}
`;
const BUILD = `build wren on dunlin-18 {
  measured lash cold on 2027-03-14 {
    | valve (mm) |    1 |    2 |
    | intake     | 0.17 | 0.23 |
  }
}
`;
const withShop = (lines: string) => `use "shop.tappet"\n${ENGINE}${BUILD}--- shop.tappet\nshop { severities { ${lines} } }\n`;
const spread = (text: string) => resultOf(text).findings.find((f) => f.rule === "lash-spread")?.severity;

describe("a severity that a shop sets", () => {
  test("is that of every finding of the rule in what uses the shop, on the sheet too", () => {
    expect(spread(`${ENGINE}${BUILD}`)).toBe("advice");
    for (const severity of ["error", "warning", "advice"] as const) expect(spread(withShop(`lash-spread: ${severity}`))).toBe(severity);
    const { subjects } = resultOf(withShop("lash-spread: error"));
    expect(subjects.find((s) => s.build.subject.sort === "build")?.findings.find((f) => f.rule === "lash-spread")?.severity).toBe("error");
  });

  test("changes nothing where the shop is not used", () => {
    expect(spread(withShop("lash-spread: error").replace('use "shop.tappet"\n', ""))).toBe("advice");
  });

  test("that is off leaves the finding out, and the report says so", () => {
    const text = withShop("lash-spread: off");
    expect(spread(text)).toBeUndefined();
    expect(resultOf(text).off.map((f) => f.rule)).toEqual(["lash-spread"]);
    const files = checkedFiles([{ project: projectOf(text), given: [MAIN] }], (uri) => uri.slice(ROOT.length), "2027-06-01");
    expect(checkText(files, { rules: RULES.length, asOf: "2027-06-01" })).toContain("Turned off by the shop: 1 finding of lash-spread.");
  });

  test("takes a waiver with it: with nothing found there is nothing to waive", () => {
    const waived = withShop("lash-spread: off").replace("build wren on dunlin-18 {", 'build wren on dunlin-18 {\n  waive lash-spread because "new shims ordered"');
    expect(resultOf(waived).findings.map((f) => f.rule)).toContain("waiver-unused");
  });

  test("moves with an edit of the shop alone", () => {
    expect([spread(withShop("lash-spread: error")), spread(withShop("lash-spread: warning")), spread(withShop("lash-spread: error"))]).toEqual(["error", "warning", "error"]);
  });

  test("is refused for every rule that breaks engines, for errors of the text and for what watches over waivers", () => {
    const shop = (id: string, as: string) => {
      const [declaration] = resultOf(`shop { severities { ${id}: ${as} } }`).file.declarations;
      if (!declaration) throw new Error("no shop");
      return severitiesOf(declaration, RULES, ruleOf);
    };
    for (const rule of RULES) {
      const guarded = rule.breaksEngines === true || rule.scope === "waiver" || rule.scope === "shop" || (rule.scope === "text" && rule.severity === "error");
      const { taken, problems } = shop(rule.id, "off");
      expect([rule.id, taken.get(rule.id), problems.map((p) => p.rule)]).toEqual(guarded ? [rule.id, undefined, ["severity-refused"]] : [rule.id, "off", []]);
      expect([rule.id, shop(rule.id, "error").taken.get(rule.id)]).toEqual([rule.id, "error"]);
    }
    expect(RULES.filter((r) => r.breaksEngines).length).toBeGreaterThan(3);
  });
});
