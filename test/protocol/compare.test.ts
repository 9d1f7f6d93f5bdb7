/** A build held against an earlier state, of which the client brings the files. */
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, ENGINE, FILES } from "./world.ts";

interface Sheet {
  readonly title: string;
  readonly html: string;
  readonly build: string;
}

const REF = "3f9c21d07a4e3f9c21d07a4e3f9c21d07a4e3f9c";
const asked: string[] = [];
let folder: Folder;
let client: Client;
let build: string;
let engine: string;

beforeAll(async () => {
  folder = folderOf(FILES);
  const then = new Map(Object.entries(FILES).map(([name, text]) => [folder.uriOf(name), text]));
  client = await startServer({
    folders: [folder.uri], pulls: true,
    readAt(uri, ref) {
      asked.push(`${ref} ${uri}`);
      const text = then.get(uri);
      return text === undefined ? { problem: "missing" } : { text };
    },
  });
  build = folder.uriOf("builds/wren-hill-2.tappet");
  engine = folder.uriOf("engines/dunlin-18.tappet");
});
afterEach(() => expect(client.complaints()).toEqual([]));
afterAll(async () => {
  await client.stop();
  folder.remove();
});

const compare = (change: object = {}) => client.request<Sheet | null>("tappet/compare", { uri: build, against: { ref: REF, label: "the last commit", uri: build }, back: "Back to the sheet", ...change });

test("nothing changed is said", async () => {
  client.open(build, BUILD);
  const answer = await compare();
  expect(answer?.html).toContain("Between the last commit and the file as it is: nothing changed, 1 build the same.");
  client.close(build);
});

test("an edit of the engine is a change of the build, with both places and what follows; the revision is read once", async () => {
  client.open(build, BUILD);
  client.open(engine, ENGINE);
  client.replace(engine, "bore: 83.00 mm", "bore: 84.00 mm");
  asked.length = 0;
  const answer = await compare();
  expect(answer?.html).toContain(`data-file="${engine}?tappet-at=${REF}"`);
  expect(answer?.html).toContain(`data-file="${engine}"`);
  // π/4 · 83.00² · 82.00 · 4 = 1774.7 cc, and with a bore of 84.00 mm 1817.7 cc.
  expect(answer?.html).toMatch(/data-value="displacement\.total">.*1775 cc.*1818 cc/);
  expect(answer?.html).toContain("data-back");
  expect(asked).toEqual([]);
  client.close(engine);
  client.close(build);
});

test("a file that lay elsewhere then is compared with itself", async () => {
  client.open(build, BUILD);
  const other = folder.uriOf("builds/next.tappet");
  client.open(other, BUILD.replace("redline: 7300 rpm", "redline: 7400 rpm"));
  const answer = await client.request<Sheet | null>("tappet/compare", { uri: other, against: { ref: REF, label: "spring", uri: build }, back: "x" });
  expect(answer?.html).toContain("1 build changed");
  expect(answer?.html).toContain("7400 rpm");
  client.close(other);
  client.close(build);
});

test("a file that was not there then is a build that came", async () => {
  const fresh = folder.uriOf("builds/fresh.tappet");
  client.open(fresh, BUILD.replace("build wren-hill-2", "build fresh"));
  const answer = await client.request<Sheet | null>("tappet/compare", { uri: fresh, against: { ref: REF, label: "spring", uri: fresh }, back: "x" });
  expect(answer?.html).toContain("1 build added");
  client.close(fresh);
});

test.each([{}, { uri: 1 }, { uri: "file:///x.tappet" }, { uri: "file:///x.tappet", against: null, back: "x" }, { uri: "file:///x.tappet", against: { ref: "--output=x", label: "x", uri: "file:///x.tappet" }, back: "x" }])("what is no question is answered with nothing: %j", async (question) => {
  expect(await client.request("tappet/compare", question)).toBeNull();
});
