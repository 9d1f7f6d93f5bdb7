// A client that edits, asks and compares for as long as it is told to: against one server over its streams, with a fresh one at checkpoints. Says
// what went wrong with everything that led to it. Knows the protocol; knows no rule.
import { type Client, folderOf, startServer } from "../support/client.ts";
import { NAMES, type Step, TEXTS, editsOf } from "./generate.ts";

/** No answer may take longer, however much else the machine does. In milliseconds. */
export const LONGEST_ANSWER = 30_000;
/** A text past this is put back to its sample, and a text this small too. */
const LONGEST_TEXT = 40_000;

export interface Plan {
  readonly steps: number;
  /** Edits between two comparisons with a fresh server. */
  readonly checkEvery: number;
  /** Steps that reach the server as one change of one file: 1 for a hand, more for many carets and for edits that come faster than they are sent. */
  readonly atOnce?: number;
  readonly onCheck?: (done: Done) => void;
  /** Ends early when it says so. */
  readonly enough?: () => boolean;
}

export interface Done {
  readonly edits: number;
  /** Messages that brought the edits. */
  readonly changes: number;
  readonly questions: number;
  readonly checks: number;
  /** Megabytes resident at each comparison. */
  readonly memory: readonly number[];
  /** Megabytes that the collected heap holds after each comparison with every file as it was at first, and the edits until then. */
  readonly heap: readonly (readonly [edits: number, megabytes: number])[];
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
const atPlace = (method: string, more: object = {}): Ask => (client, uri, offset) => [method, { textDocument: { uri }, position: client.positionAt(uri, offset), ...more }];
const inRange = (method: string, more: object = {}): Ask => (client, uri, offset) => [method, { textDocument: { uri }, range: { start: client.positionAt(uri, offset), end: client.positionAt(uri, offset + 300) }, ...more }];

const QUESTIONS: readonly Ask[] = [
  whole("textDocument/diagnostic"), whole("textDocument/diagnostic"), whole("textDocument/documentSymbol"), whole("textDocument/foldingRange"), whole("textDocument/documentLink"), whole("textDocument/semanticTokens/full"), whole("textDocument/codeLens"),
  (_, uri) => ["textDocument/formatting", { textDocument: { uri }, options: { tabSize: 2, insertSpaces: true } }],
  atPlace("textDocument/hover"), atPlace("textDocument/completion"), atPlace("textDocument/completion"), atPlace("textDocument/definition"), atPlace("textDocument/references", { context: { includeDeclaration: true } }), atPlace("textDocument/documentHighlight"),
  atPlace("textDocument/signatureHelp"), atPlace("textDocument/prepareRename"),
  (client, uri, offset) => ["textDocument/selectionRange", { textDocument: { uri }, positions: [client.positionAt(uri, offset)] }],
  inRange("textDocument/codeAction", { context: { diagnostics: [] } }), inRange("textDocument/inlayHint"), inRange("textDocument/semanticTokens/range"),
  (_, uri) => ["tappet/sheet", { uri }], (_, uri) => ["tappet/export", { uri, format: "json" }], (_, uri) => ["tappet/export", { uri, format: "html" }],
  (client, uri, offset) => ["workspace/symbol", { query: client.textOf(uri).slice(offset, offset + 5) }],
];

/** Everything that can be asked at a place. */
export function questionsOn(client: Client, uri: string, offset: number): readonly (readonly [string, object])[] {
  return QUESTIONS.map((ask) => ask(client, uri, offset));
}

/** Runs the steps until they are done or something breaks: a dead server, an error, silence, or an answer that a fresh server would not give. */
export async function run(steps: Iterable<Step>, plan: Plan): Promise<Done> {
  const folder = folderOf(TEXTS);
  const client = await startServer({ folders: [folder.uri], pulls: true, watched: true });
  const uris = NAMES.map((name) => folder.uriOf(name));
  uris.forEach((uri, i) => client.open(uri, TEXTS[NAMES[i] as string] ?? ""));
  const texts = () => Object.fromEntries(uris.map((uri, i) => [NAMES[i] as string, client.textOf(uri)]));
  let [edits, changes, questions, checks] = [0, 0, 0, 0];
  let slowest = { method: "", time: 0 };
  const memory: number[] = [];
  const heap: [number, number][] = [];
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
      // An export waits for the recordings that are named; findings do not, and say of a file that is not there only once it was looked for.
      for (const server of [client, fresh]) await answered(server, "tappet/export", { uri: uris[0], format: "json" });
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
    await beginAgain();
    heap.push([edits, await client.heap()]);
    plan.onCheck?.({ edits, changes, questions, checks, memory, heap, slowest });
  };
  /** Every text as it was at first, by an edit, and looked at: what the server holds more than it did then, it has kept of the edits. */
  const beginAgain = async () => {
    for (const [i, uri] of uris.entries()) client.rewrite(uri, [[0, client.textOf(uri).length, TEXTS[NAMES[i] as string] ?? ""]]);
    for (const uri of uris) for (const method of ["textDocument/diagnostic", "textDocument/semanticTokens/full"]) await answered(client, method, { textDocument: { uri } });
    for (const uri of uris) await answered(client, "tappet/sheet", { uri });
    await answered(client, "workspace/symbol", { query: "" });
  };
  let broken = false;
  try {
    const atOnce = plan.atOnce ?? 1;
    let batch: Step[] = [];
    for (const step of steps) {
      batch.push(step);
      if (batch.length < atOnce) continue;
      // All in one file: the last step says in which, and what is asked afterwards.
      const { file, ask, askAt } = step;
      const uri = uris[file] as string;
      const made: (readonly [number, number, string])[] = [];
      let text = client.textOf(uri);
      const make = (edit: readonly [number, number, string]) => {
        text = text.slice(0, edit[0]) + edit[2] + text.slice(edit[1]);
        made.push(edit);
      };
      for (const { change } of batch) {
        for (const edit of editsOf(change, text)) make(edit);
        if (text.length > LONGEST_TEXT || text.length < 20) make([0, text.length, TEXTS[NAMES[file] as string] ?? ""]);
      }
      batch = [];
      if (atOnce === 1) for (const edit of made) client.rewrite(uri, [edit]);
      else client.rewrite(uri, made);
      edits += made.length;
      changes += atOnce === 1 ? made.length : 1;
      if (ask !== undefined) {
        const question = QUESTIONS[ask % QUESTIONS.length] as Ask;
        const [method, params] = question(client, uri, Math.floor(askAt * (text.length + 1)));
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
  return { edits, changes, questions, checks, memory, heap, slowest };
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
