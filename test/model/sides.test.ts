/** Which side a part goes on when its fit does not say. */
import { describe, expect, it } from "vitest";
import { effective } from "../../server/model/effective.ts";
import { rulesIn } from "../support/project.ts";
import { sheetOf } from "../sheet/sheet-of.ts";

const engine = (layout: string) => `engine whimbrel-20 { source: "workshop manual"; cylinders: 4\n valve-gear { layout: ${layout} }\n camshaft { intake { lobe-lift: 9.0 mm }\n exhaust { lobe-lift: 8.6 mm } } }
part camshaft s64-in for whimbrel-20 { source: "card in the box"; intake { lobe-lift: 9.6 mm } }
part camshaft s64-ex for whimbrel-20 { source: "card in the box"; exhaust { lobe-lift: 9.2 mm } }
`;
const liftOf = (text: string, side: string) => {
  const given = effective(sheetOf(text).build.slots.get(`camshaft.${side}.lobe-lift`));
  return given?.fact.value.is === "quantity" ? Math.round(1e6 * given.fact.value.quantity.interval.nominal) / 1e3 : undefined;
};

describe("a camshaft whose card states one side, fitted without a side", () => {
  it("goes on that side where each side has its own shaft, and leaves the other as it was", () => {
    const one = `${engine("dohc")}build long-reach-1 on whimbrel-20 { fit s64-in }`;
    expect(liftOf(one, "intake")).toBe(9.6);
    expect(liftOf(one, "exhaust")).toBe(8.6);
    const both = `${engine("dohc")}build long-reach-1 on whimbrel-20 {\n fit s64-in\n fit s64-ex\n}`;
    expect(liftOf(both, "intake")).toBe(9.6);
    expect(liftOf(both, "exhaust")).toBe(9.2);
    expect(rulesIn(both)).not.toContain("part-replaced-twice");
  });

  it("is the only shaft where there is one for both, so the other side's lobes are no longer known", () => {
    const one = `${engine("sohc")}build long-reach-1 on whimbrel-20 { fit s64-in }`;
    expect(liftOf(one, "intake")).toBe(9.6);
    expect(liftOf(one, "exhaust")).toBeUndefined();
    expect(rulesIn(`${engine("sohc")}build long-reach-1 on whimbrel-20 {\n fit s64-in\n fit s64-ex\n}`)).toContain("part-replaced-twice");
  });

  it("counts twice where the same shaft is fitted twice", () => {
    expect(rulesIn(`${engine("dohc")}build long-reach-1 on whimbrel-20 {\n fit s64-in\n fit s64-in\n}`)).toContain("part-replaced-twice");
  });
});
