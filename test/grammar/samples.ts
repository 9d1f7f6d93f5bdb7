// The sample texts that the grammar's tests share.
import { readFileSync } from "node:fs";

export const ENGINE = readFileSync(new URL("./fixtures/dunlin-18.tappet", import.meta.url), "utf8");
export const BUILD = readFileSync(new URL("./fixtures/wren-hill-2.tappet", import.meta.url), "utf8");
export const SAMPLES: readonly string[] = [ENGINE, BUILD];

/** A text of at least `lines` lines, made of the samples under changing names. */
export function longText(lines: number): string {
  const one = `${ENGINE}\n${BUILD}`;
  const times = Math.ceil(lines / one.split("\n").length);
  return Array.from({ length: times }, (_, i) => one.replaceAll("dunlin-18", `dunlin-${i}`)).join("\n");
}
