/** The page inside the sheet's panel: puts in only what changed, marks what the caret's line decides, and says what was clicked. Computes nothing. */
import { morph } from "./morph.ts";
import type { FromPage, ToPage } from "./sheet-messages.ts";

interface Host {
  postMessage(message: FromPage): void;
  getState(): unknown;
  setState(state: State): void;
}

/** What outlives the page: the editor drops a page that is hidden and makes it anew when it is shown. */
interface State {
  readonly uri?: string;
  readonly build?: string;
  readonly opened?: readonly string[];
  readonly scroll?: number;
}
declare function acquireVsCodeApi(): Host;

type SheetMessage = Extract<ToPage, { type: "sheet" }>;
type MarkMessage = Extract<ToPage, { type: "mark" }>;

const host = acquireVsCodeApi();
const sheet = document.getElementById("sheet") as HTMLElement;
const trial = document.getElementById("trial") as HTMLElement;
const choice = document.getElementById("builds") as HTMLElement;

let marked: MarkMessage | undefined;
let state = (host.getState() ?? {}) as State;
/** What the page was when it was hidden, until the first sheet has come. */
let before: State | undefined = state;

function keep(change: State): void {
  state = { ...state, ...change };
  host.setState(state);
}

window.addEventListener("message", ({ data }: MessageEvent<ToPage>) => {
  if (data?.type === "sheet") show(data);
  if (data?.type === "mark") mark(data);
});

function show(message: SheetMessage): void {
  keep({ uri: message.uri, ...(message.build !== null && { build: message.build }) });
  showChoice(message);
  showTrial(message.trial);
  if (message.html === null) {
    const note = document.createElement("p");
    note.textContent = sheet.dataset["empty"] ?? "";
    sheet.replaceChildren(note);
    return;
  }
  // The server has escaped everything that a file says; the policy of this page lets no script in it run.
  const there = traces();
  morph(sheet, new DOMParser().parseFromString(message.html, "text/html").body);
  for (const [id, trace] of traces()) if (!there.has(id) && state.opened?.includes(id)) trace.open = true;
  if (marked) mark(marked);
  restore();
}

/** Every trace on the sheet, by the value it is of. */
function traces(): Map<string, HTMLDetailsElement> {
  return new Map([...sheet.querySelectorAll<HTMLDetailsElement>("details[data-trace]")].map((trace) => [trace.dataset["trace"] ?? "", trace]));
}

/** Opens again what was opened, and scrolls back. */
function restore(): void {
  const { opened = [], scroll = 0 } = before ?? {};
  before = undefined;
  for (const trace of sheet.querySelectorAll<HTMLDetailsElement>("details[data-trace]")) if (opened.includes(trace.dataset["trace"] ?? "")) trace.open = true;
  if (scroll > 0) window.scrollTo({ top: scroll, behavior: "instant" });
}

// Neither event bubbles from where it happens, so both are caught on their way down.
document.addEventListener("toggle", () => {
  const now = traces();
  // A value that is gone while its figure is being typed comes back as it was left.
  const gone = (state.opened ?? []).filter((id) => !now.has(id));
  keep({ opened: [...gone, ...[...now].filter(([, trace]) => trace.open).map(([id]) => id)] });
}, { capture: true });
document.addEventListener("scrollend", () => before ?? keep({ scroll: window.scrollY }), { capture: true });

/** What is being tried, what comes of it, and the two ways to end it. */
function showTrial(bar: SheetMessage["trial"]): void {
  trial.hidden = bar === null;
  const next = document.createElement("div");
  const add = (tag: string, text: string, key: string): HTMLElement => {
    const element = document.createElement(tag);
    element.textContent = text;
    element.dataset["key"] = key;
    next.append(element);
    return element;
  };
  if (bar) {
    add("strong", bar.title, "title");
    bar.lines.forEach((line, i) => add("p", line, `line-${i}`));
    for (const end of ["apply", "putBack"] as const) {
      const button = add("button", bar[end], end);
      button.setAttribute("type", "button");
      button.dataset["trial"] = end;
      next.append(" ");
    }
  }
  morph(trial, next);
}

/** A button for each build of a file that has several. */
function showChoice({ builds, build }: SheetMessage): void {
  choice.hidden = builds.length < 2;
  const next = document.createElement("div");
  for (const name of builds) {
    const button = document.createElement("button");
    button.type = "button";
    button.dataset["build"] = name;
    button.dataset["key"] = name;
    button.setAttribute("aria-pressed", String(name === build));
    button.textContent = name;
    next.append(button);
  }
  morph(choice, next);
}

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target.closest<HTMLElement>("[data-fix], [data-build], [data-file], [data-trial], [data-back]") : null;
  const said = target && wordsOf(target);
  if (!said) return;
  event.preventDefault();
  host.postMessage(said);
});

function wordsOf(target: HTMLElement): FromPage | undefined {
  const { fix, build, file, line, column, trial: end, back } = target.dataset;
  if (back !== undefined) return { type: "back" };
  if (end === "apply" || end === "putBack") return { type: "trial", end };
  if (fix !== undefined) return { type: "fix", finding: target.closest<HTMLElement>("[data-finding]")?.dataset["finding"] ?? "", fix: Number(fix) };
  if (build !== undefined) return { type: "build", build };
  if (file !== undefined) return { type: "open", uri: file, line: Number(line), column: Number(column) };
  return undefined;
}

/** Marks the values and findings that rest on the line where the caret is. The page is not scrolled: who reads it keeps their place. */
function mark(message: MarkMessage): void {
  marked = message;
  const rows = new Set<Element>();
  for (const link of sheet.querySelectorAll<HTMLElement>("[data-file]")) {
    if (link.dataset["file"] !== message.uri || Number(link.dataset["line"]) !== message.line) continue;
    const row = link.closest("[data-value], [data-finding]");
    if (row) rows.add(row);
  }
  for (const row of sheet.querySelectorAll("[aria-current]")) if (!rows.has(row)) row.removeAttribute("aria-current");
  for (const row of rows) if (row.getAttribute("aria-current") !== "true") row.setAttribute("aria-current", "true");
}

host.postMessage({ type: "ready" });
