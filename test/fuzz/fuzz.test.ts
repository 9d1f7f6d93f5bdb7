/** What the fuzzer broke before, and a bounded run of it, the same every time: `npm run fuzz` goes on where this stops. */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { folderOf, startServer } from "../support/client.ts";
import { stepsFrom } from "./generate.ts";
import { questionsOn, run } from "./session.ts";

/** Texts that a document goes through, one after the other. `repeat`: the first occurrence is repeated, where the text would be long. */
interface Fixture {
  readonly found: string;
  readonly edits: readonly string[];
  readonly repeat?: { readonly of: string; readonly times: number };
}

const FOLDER = join(import.meta.dirname, "fixtures");
const fixtures = readdirSync(FOLDER).map((name) => [name, JSON.parse(readFileSync(join(FOLDER, name), "utf8")) as Fixture] as const);

describe("what broke a server once", () => {
  test.each(fixtures)("%s is answered, whatever is asked of it", async (_, { edits, repeat }) => {
    const folder = folderOf({});
    const client = await startServer({ folders: [folder.uri], pulls: true });
    const uri = folder.uriOf("broken.tappet");
    client.open(uri, "");
    let length = { line: 0, character: 0 };
    for (const edit of edits) {
      const text = repeat ? edit.replace(repeat.of, repeat.of.repeat(repeat.times)) : edit;
      client.edit(uri, { start: { line: 0, character: 0 }, end: length }, text);
      const lines = text.split("\n");
      length = { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
      for (const offset of [0, 5, Math.floor(text.length / 2)]) for (const [method, params] of questionsOn(client, uri, offset)) await client.request(method, params).catch((error: unknown) => expect((error as { code?: number }).code).toBe(-32803));
    }
    expect(client.complaints()).toEqual([]);
    await client.stop();
    folder.remove();
  });
});

test("three thousand edits and a thousand questions leave a server that says what a fresh one says", async () => {
  const done = await run(stepsFrom(20270401), { steps: 3000, checkEvery: 1500 });
  expect(done.edits).toBeGreaterThanOrEqual(3000);
  expect(done.checks).toBeGreaterThanOrEqual(2);
});
