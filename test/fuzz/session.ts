// A client that edits, asks and compares for as long as it is told to: against one server over its streams, with a fresh one at checkpoints. Says
// what went wrong with everything that led to it. Knows the protocol; knows no rule.
import { type Client, folderOf, startServer } from "../support/client.ts";
import { TextDocument } from "vscode-languageserver-textdocument";
import { NAMES, type Step, TEXTS, editsOf } from "./generate.ts";

/** No answer may take longer, however much else the machine does. In milliseconds. */
export const LONGEST_ANSWER = 30_000;
/** A text past this is put back to its sample, and a text this small too. */
const LONGEST_TEXT = 40_000;

export interface Plan {
  readonly steps: number;
  /** Edits between two comparisons with a fresh server. */
  readonly checkEvery: number;
  readonly onCheck?: (done: Done) => void;
  /** Ends early when it says so. */
  readonly enough?: () => boolean;
}

export interface Done {
  readonly edits: number;
  readonly questions: number;
  readonly checks: number;
  /** Megabytes resident at each comparison. */
  readonly memory: readonly number[];
  readonly slowest: { readonly method: string; readonly time: number };
}

/** What went wrong, with the text it went wrong on and the last steps that led there. */
export class Broken extends Error {
  readonly texts: Readonly<Record<string, string>>;
  constructor(message: string, texts: Readonly<Record<string, string>>) {
    super(message);
    this.texts = texts;
  }
}

type Ask = (client: Client, uri: string, offset: number) => readonly [string, object];
const whole = (method: string): Ask => (_, uri) => [method, { textDocument: { uri } }];
const atPlace = (method: string, more: object = {}): Ask => (client, uri, offset) => [method, { textDocument: { uri }, position: positionIn(client, uri, offset), ...more }];
const inRange = (method: string, more: object = {}): Ask => (client, uri, offset) => [method, { textDocument: { uri }, range: { start: positionIn(client, uri, offset), end: positionIn(client, uri, offset + 300) }, ...more }];

const QUESTIONS: readonly Ask[] = [
  whole("textDocument/diagnostic"), whole("textDocument/diagnostic"), whole("textDocument/documentSymbol"), whole("textDocument/foldingRange"), whole("textDocument/documentLink"), whole("textDocument/semanticTokens/full"), whole("textDocument/codeLens"),
  (_, uri) => ["textDocument/formatting", { textDocument: { uri }, options: { tabSize: 2, insertSpaces: true } }],
  atPlace("textDocument/hover"), atPlace("textDocument/completion"), atPlace("textDocument/completion"), atPlace("textDocument/definition"), atPlace("textDocument/references", { context: { includeDeclaration: true } }), atPlace("textDocument/documentHighlight"),
  atPlace("textDocument/signatureHelp"), atPlace("textDocument/prepareRename"),
  (client, uri, offset) => ["textDocument/selectionRange", { textDocument: { uri }, positions: [positionIn(client, uri, offset)] }],
  inRange("textDocument/codeAction", { context: { diagnostics: [] } }), inRange("textDocument/inlayHint"), inRange("textDocument/semanticTokens/range"),
  (_, uri) => ["tappet/sheet", { uri }], (_, uri) => ["tappet/export", { uri, format: "json" }], (_, uri) => ["tappet/export", { uri, format: "html" }],
  (client, uri, offset) => ["workspace/symbol", { query: client.textOf(uri).slice(offset, offset + 5) }],
];

/** Everything that can be asked at a place. */
export function questionsOn(client: Client, uri: string, offset: number): readonly (readonly [string, object])[] {
  return QUESTIONS.map((ask) => ask(client, uri, offset));
}

function positionIn(client: Client, uri: string, offset: number) {
  return TextDocument.create(uri, "tappet", 1, client.textOf(uri)).positionAt(offset);
}

/** Runs the steps until they are done or something breaks: a dead server, an error, silence, or an answer that a fresh server would not give. */
export async function run(steps: Iterable<Step>, plan: Plan): Promise<Done> {
  const folder = folderOf(TEXTS);
  const client = await startServer({ folders: [folder.uri], pulls: true });
  const uris = NAMES.map((name) => folder.uriOf(name));
  uris.forEach((uri, i) => client.open(uri, TEXTS[NAMES[i] as string] ?? ""));
  const texts = () => Object.fromEntries(uris.map((uri, i) => [NAMES[i] as string, client.textOf(uri)]));
  let [edits, questions, checks] = [0, 0, 0];
  let slowest = { method: "", time: 0 };
  const memory: number[] = [];
  const answered = async (asked: Client, method: string, params: object): Promise<unknown> => {
    let timer: NodeJS.Timeout | undefined;
    const started = performance.now();
    try {
      return await Promise.race([
        asked.request(method, params),
        new Promise((_, reject) => (timer = setTimeout(() => reject(new Error(`no answer for ${LONGEST_ANSWER / 1000} s`)), LONGEST_ANSWER))),
      ]);
    } catch (error) {
      // What a person asked for and cannot have is refused in words: no breakdown.
      if ((error as { code?: number }).code === -32803) return null;
      throw new Broken(`${method}: ${String(error)}; ${JSON.stringify(params)}`, texts());
    } finally {
      clearTimeout(timer);
      questions++;
      const time = performance.now() - started;
      if (time > slowest.time && asked === client) slowest = { method, time };
    }
  };
  const sound = () => {
    if (!client.alive()) throw new Broken("the server has died", texts());
    const [complaint] = client.complaints();
    if (complaint !== undefined) throw new Broken(complaint, texts());
  };
  /** Everything that is told of the open texts, by this server and by one that has never seen another. */
  const compare = async () => {
    const fresh = await startServer({ folders: [folder.uri], pulls: true });
    try {
      uris.forEach((uri) => fresh.open(uri, client.textOf(uri)));
      for (const uri of uris)
        for (const [method, params] of [["textDocument/diagnostic", { textDocument: { uri } }], ["tappet/export", { uri, format: "json" }], ["textDocument/documentSymbol", { textDocument: { uri } }]] as const) {
          const [ours, anew] = [withoutNames(await answered(client, method, params)), withoutNames(await answered(fresh, method, params))];
          if (ours !== anew) throw new Broken(`${method} of ${uri.slice(folder.uri.length + 1)} is not what a fresh server says:\n${firstDifference(ours, anew)}`, texts());
        }
    } finally {
      await fresh.stop();
    }
    checks++;
    memory.push(client.memory());
    plan.onCheck?.({ edits, questions, checks, memory, slowest });
  };
  let broken = false;
  try {
    for (const { file, change, ask, askAt } of steps) {
      const uri = uris[file] as string;
      for (const [start, end, text] of editsOf(change, client.textOf(uri))) {
        const document = TextDocument.create(uri, "tappet", 1, client.textOf(uri));
        client.edit(uri, { start: document.positionAt(start), end: document.positionAt(end) }, text);
        edits++;
      }
      const { length } = client.textOf(uri);
      if (length > LONGEST_TEXT || length < 20) {
        const document = TextDocument.create(uri, "tappet", 1, client.textOf(uri));
        client.edit(uri, { start: { line: 0, character: 0 }, end: document.positionAt(length) }, TEXTS[NAMES[file] as string] ?? "");
        edits++;
      }
      if (ask !== undefined) {
        const question = QUESTIONS[ask % QUESTIONS.length] as Ask;
        const [method, params] = question(client, uri, Math.floor(askAt * (client.textOf(uri).length + 1)));
        await answered(client, method, params);
      }
      sound();
      if (edits >= (checks + 1) * plan.checkEvery) await compare();
      if (edits >= plan.steps || plan.enough?.()) break;
    }
    await compare();
    sound();
  } catch (error) {
    broken = true;
    throw error;
  } finally {
    if (broken) client.kill();
    else await client.stop();
    folder.remove();
  }
  return { edits, questions, checks, memory, slowest };
}

/** Answers carry names by which a client may ask for what changed since: those count up, and mean nothing to another server. */
function withoutNames(answer: unknown): string {
  return JSON.stringify(answer, (key, value: unknown) => (key === "resultId" ? undefined : value)) ?? "null";
}

function firstDifference(a: string, b: string): string {
  let i = 0;
  while (i < a.length && a[i] === b[i]) i++;
  return `  ours  ${a.slice(Math.max(0, i - 200), i + 300)}\n  fresh ${b.slice(Math.max(0, i - 200), i + 300)}`;
}
