import { describe, expect, test } from "vitest";
import { blockAt, clearedBy, columnIn, keyIn, keyOfPath, landing, nearest, partKindOf, qualifierSetOf, unitOfColumn } from "../../server/schema/lookup.ts";
import type { Step } from "../../server/schema/lookup.ts";
import type { PartKind } from "../../server/schema/types.ts";

const at = (...words: readonly (string | Step)[]): readonly Step[] => words.map((word) => (typeof word === "string" ? { word } : word));
const kind = (id: string): PartKind => partKindOf(id) as PartKind;

describe("where a figure lands", () => {
  const cases: readonly (readonly [string, readonly Step[], string, readonly string[]])[] = [
    ["an engine's own key", at("engine"), "bore", ["bore"]],
    ["a block's key", at("engine", "combustion"), "chamber", ["combustion.chamber"]],
    ["a side's key", at("engine", "valve-gear", "intake"), "lash", ["valve-gear.intake.lash"]],
    ["a figure given for both sides", at("engine", "valve-gear"), "rocker-ratio", ["valve-gear.intake.rocker-ratio", "valve-gear.exhaust.rocker-ratio"]],
    ["lash chosen in short form", at("build", "lash"), "exhaust", ["valve-gear.exhaust.lash"]],
    ["a spring for both sides", at("engine", "valve-gear", "valve-spring"), "wire", ["valve-gear.valve-spring.wire"]],
    ["a spring inside one side", at("engine", "valve-gear", "intake", "valve-spring"), "wire", ["valve-gear.valve-spring.intake.wire"]],
    ["a side inside a spring", at("engine", "valve-gear", "valve-spring", "exhaust"), "wire", ["valve-gear.valve-spring.exhaust.wire"]],
    ["a spring block for one side", at("engine", "valve-gear", { word: "valve-spring", side: "intake" }), "wire", ["valve-gear.valve-spring.intake.wire"]],
    ["an inner spring", at("engine", "valve-gear", "valve-spring", "inner"), "wire", ["valve-gear.valve-spring.inner.wire"]],
    ["an inner spring on one side", at("engine", "valve-gear", "valve-spring", "intake", "inner"), "wire", ["valve-gear.valve-spring.intake.inner.wire"]],
    ["a spring part", at({ word: "part", of: "valve-spring" }), "wire", ["valve-gear.valve-spring.wire"]],
    ["a spring fitted on one side", at("build", { word: "fit", of: "valve-spring", side: "intake" }, "outer"), "wire", ["valve-gear.valve-spring.intake.outer.wire"]],
    ["a camshaft's timing", at({ word: "part", of: "camshaft" }, "intake"), "duration", ["camshaft.intake.duration"]],
    ["the stock camshaft's timing", at("engine", "camshaft", "exhaust"), "lobe-lift", ["camshaft.exhaust.lobe-lift"]],
    ["a camshaft's lash", at({ word: "part", of: "camshaft" }, "intake"), "lash", ["valve-gear.intake.lash"]],
    ["a column of the lobe table", at({ word: "part", of: "camshaft" }, "intake", "lobe"), "lift", ["camshaft.intake.lobe.lift"]],
    ["a shaft fitted for its own side", at("build", { word: "fit", of: "camshaft", side: "intake" }, "intake"), "duration", ["camshaft.intake.duration"]],
    ["the other side of a shaft fitted for one", at("build", { word: "fit", of: "camshaft", side: "intake" }, "exhaust"), "duration", []],
    ["a gear's setting", at("build", { word: "fit", of: "cam-gear" }), "set", ["cam-gear.set"]],
    ["a gear's setting on one side", at("build", { word: "fit", of: "cam-gear", side: "exhaust" }), "set", ["cam-gear.exhaust.set"]],
    ["a rocker for both sides", at({ word: "part", of: "rocker" }), "ratio", ["valve-gear.intake.rocker-ratio", "valve-gear.exhaust.rocker-ratio"]],
    ["a rocker fitted on one side", at("build", { word: "fit", of: "rocker", side: "exhaust" }), "ratio", ["valve-gear.exhaust.rocker-ratio"]],
    ["a piston's dish", at({ word: "part", of: "piston" }), "dish", ["combustion.piston-dish"]],
    ["a gasket's thickness", at({ word: "part", of: "gasket" }), "thickness", ["combustion.gasket-thickness"]],
    ["a crankshaft's stroke", at({ word: "part", of: "crankshaft" }), "stroke", ["stroke"]],
    ["a rod's length", at({ word: "part", of: "rod" }), "length", ["rod-length"]],
    ["a fastener of a card", at("card", { word: "fastener", name: "cam-gear" }), "torque", ["fastener.cam-gear.torque"]],
    ["a fastener of a part", at({ word: "part", of: "rod" }, { word: "fastener", name: "rod-bolt" }), "stretch", ["fastener.rod-bolt.stretch"]],
    ["a limit of a part", at({ word: "part", of: "piston" }, "limits"), "piston-speed", ["limits.piston-speed"]],
    ["a part that comes in several", at({ word: "part", of: "lubricant", name: "red-paste" }), "grade", ["lubricant.red-paste.grade"]],
    ["main bearing shells", at({ word: "part", of: "bearing", name: "mains" }, "main"), "clearance", ["bottom-end.main.clearance"]],
    ["an alias", at("engine", "valve-gear", "valve-spring"), "coil-bind-height", ["valve-gear.valve-spring.solid-height"]],
    ["the altitude of a build", at("build"), "altitude", ["air.altitude"]],
    ["a measurement", at("build", { word: "measured", of: "lash" }), "intake", []],
    ["a pull", at("build", "pull"), "at", []],
    ["the weather of a pull", at("build", "pull", "weather"), "barometer", []],
    ["a tune", at("build", "tune"), "base-timing", []],
    ["a key that is not there", at("engine"), "boar", []],
  ];
  test.each(cases)("%s", (_, path, key, paths) => expect(landing(path, key)).toEqual(paths));
});

describe("blocks and keys", () => {
  test("a block that is not there is undefined, at any depth", () => {
    expect(blockAt([])).toBeUndefined();
    expect(blockAt(at("engine", "plan"))).toBeUndefined();
    expect(blockAt(at("engine", "fit"))).toBeUndefined();
    expect(blockAt(at({ word: "part", of: "sail" }))).toBeUndefined();
    expect(blockAt(at("build", { word: "measured", of: "mood" }))).toBeUndefined();
    expect(blockAt(at("engine", "constructor"))).toBeUndefined();
    expect(blockAt(at("toString"))).toBeUndefined();
  });

  test("a key is found by its name and by an older spelling, which can be told apart", () => {
    const spring = kind("valve-spring");
    expect(keyIn(spring, "seat-height")?.key).toBe("seat-height");
    expect(keyIn(spring, "installed-height")?.key).toBe("seat-height");
    expect(keyIn(spring, "hasOwnProperty")).toBeUndefined();
  });

  test("a fit may carry the part's own keys and the keys of a fit", () => {
    const fit = blockAt(at("build", { word: "fit", of: "cam-gear" }));
    expect(fit && keyIn(fit, "set")?.key).toBe("set");
    expect(fit && keyIn(fit, "mark-spacing")?.key).toBe("mark-spacing");
    expect(keyIn(kind("cam-gear"), "set")).toBeUndefined();
  });

  test("a table's column is found by its heading", () => {
    const pull = blockAt(at("build", "pull"));
    expect(pull && columnIn(pull, "torque")?.type).toEqual({ is: "quantity", kind: "torque" });
    expect(pull && columnIn(pull, "mood")).toBeUndefined();
  });

  test("a column named like its unit needs no unit in its heading", () => {
    const pull = blockAt(at("build", "pull"));
    const unit = (heading: string): string | undefined => {
      const column = pull && columnIn(pull, heading);
      return column && unitOfColumn(column);
    };
    expect([unit("rpm"), unit("afr"), unit("lambda"), unit("torque")]).toEqual(["revolution-per-minute", "air-fuel-ratio", "lambda", undefined]);
  });

  test("an effective path leads back to the row that explains it", () => {
    expect(keyOfPath("valve-gear.intake.lash")?.qualifiers).toEqual(["thermal"]);
    expect(keyOfPath("valve-gear.intake.lash")?.lands).toBeUndefined();
    expect(keyOfPath("fastener.any-name.thread")?.type).toEqual({ is: "thread" });
  });
});

describe("what a fitted part ends", () => {
  test("a new spring ends the old one's figures but not the seat in the head", () => {
    expect(clearedBy(kind("valve-spring"), "valve-gear.valve-spring.solid-height")).toBe(true);
    expect(clearedBy(kind("valve-spring"), "valve-gear.valve-spring.intake.inner.wire")).toBe(true);
    expect(clearedBy(kind("valve-spring"), "valve-gear.valve-spring.seat-height")).toBe(false);
    expect(clearedBy(kind("valve-spring"), "valve-gear.valve-spring.intake.seat-height")).toBe(false);
    expect(clearedBy(kind("valve-spring"), "valve-gear.intake.lash")).toBe(false);
  });

  test("a new camshaft ends the old timing and its lash", () => {
    expect(clearedBy(kind("camshaft"), "camshaft.intake.duration")).toBe(true);
    expect(clearedBy(kind("camshaft"), "valve-gear.exhaust.lash")).toBe(true);
    expect(clearedBy(kind("camshaft"), "valve-gear.exhaust.rocker-ratio")).toBe(false);
  });

  test("a part fitted on one side leaves the other side alone", () => {
    expect(clearedBy(kind("camshaft"), "camshaft.exhaust.duration", "intake")).toBe(false);
    expect(clearedBy(kind("camshaft"), "camshaft.intake.duration", "intake")).toBe(true);
  });
});

describe("words", () => {
  test("a qualifier word tells its set", () => {
    expect(qualifierSetOf("cold")?.id).toBe("thermal");
    expect(qualifierSetOf("at valve")?.id).toBe("lift-at");
    expect(qualifierSetOf("past zero")?.id).toBe("from-zero");
    expect(qualifierSetOf("unstated")).toBeUndefined();
    expect(qualifierSetOf("lukewarm")).toBeUndefined();
  });

  test("a slip of the fingers is answered with the word that was meant", () => {
    const keys = blockAt(at("engine"))?.keys.map((row) => row.key) ?? [];
    expect(nearest("strok", keys)[0]).toBe("stroke");
    expect(nearest("rod-lenght", keys)[0]).toBe("rod-length");
    expect(nearest("Bore", keys)[0]).toBe("bore");
    expect(nearest("spring", ["valve-spring", "retainer"])).toEqual(["valve-spring"]);
    expect(nearest("mean-dia", ["mean-diameter", "wire-diameter", "solid-height"])).toEqual(["mean-diameter"]);
    expect(nearest("max-lgth", ["max-length", "length"])[0]).toBe("max-length");
  });

  test("a word that is near nothing is answered with nothing", () => {
    expect(nearest("xylophone", ["bore", "stroke"])).toEqual([]);
    expect(nearest("", ["bore"])).toEqual([]);
  });
});
