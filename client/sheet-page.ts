/** The page inside the sheet's panel: puts in only what changed, keeps scroll, focus and opened traces, and says what was clicked. Computes nothing. */

interface Host {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}
declare function acquireVsCodeApi(): Host;

const host = acquireVsCodeApi();
const sheet = document.getElementById("sheet") as HTMLElement;

window.addEventListener("message", (event: MessageEvent<unknown>) => {
  const message = event.data;
  if (typeof message !== "object" || message === null || !("type" in message)) return;
  if (message.type === "sheet") show(message as unknown as SheetMessage);
  if (message.type === "mark") mark(message as unknown as MarkMessage);
});

interface SheetMessage {
  readonly uri: string;
  readonly build?: string;
  readonly html: string | null;
}

interface MarkMessage {
  readonly uri: string;
  readonly line: number;
}

let marked: MarkMessage | undefined;

function show(message: SheetMessage): void {
  host.setState({ uri: message.uri, build: message.build });
  if (message.html === null) {
    const note = document.createElement("p");
    note.textContent = "This file declares no build, engine or part yet. The sheet appears with the first one.";
    sheet.replaceChildren(note);
    return;
  }
  // The server has escaped everything that a file says; the policy of this page lets no script in it run.
  const next = new DOMParser().parseFromString(message.html, "text/html").body;
  morph(sheet, next);
  if (marked) mark(marked);
}

/** Makes `now` the same as `next`, touching only what differs, so that focus, scroll and opened traces stay where they are. */
function morph(now: Element, next: Element): void {
  const have = new Map<string, Element>();
  for (const child of now.children) if (keyOf(child)) have.set(keyOf(child) as string, child);
  let at: ChildNode | null = now.firstChild;
  for (const child of [...next.childNodes]) {
    const key = child instanceof Element ? keyOf(child) : undefined;
    const twin: ChildNode | undefined = key !== undefined ? have.get(key) : at && !isKeyed(at) && sameKind(at, child) ? at : undefined;
    if (!twin) {
      now.insertBefore(document.importNode(child, true), at);
      continue;
    }
    if (twin !== at) now.insertBefore(twin, at);
    else at = at.nextSibling;
    if (twin instanceof Element && child instanceof Element) {
      if (twin.tagName !== child.tagName) twin.replaceWith(document.importNode(child, true));
      else {
        morphAttributes(twin, child);
        morph(twin, child);
      }
    } else if (twin.nodeValue !== child.nodeValue) twin.nodeValue = child.nodeValue;
  }
  while (at) {
    const after: ChildNode | null = at.nextSibling;
    at.remove();
    at = after;
  }
}

function keyOf(element: Element): string | undefined {
  return element.getAttribute("data-key") ?? element.getAttribute("data-value") ?? undefined;
}

function isKeyed(node: ChildNode): boolean {
  return node instanceof Element && keyOf(node) !== undefined;
}

function sameKind(a: ChildNode, b: ChildNode): boolean {
  return a.nodeType === b.nodeType && (!(a instanceof Element) || !(b instanceof Element) || a.tagName === b.tagName);
}

function morphAttributes(now: Element, next: Element): void {
  for (const { name, value } of [...next.attributes]) if (now.getAttribute(name) !== value) now.setAttribute(name, value);
  // What the reader opened stays open.
  for (const { name } of [...now.attributes]) if (!next.hasAttribute(name) && name !== "open" && name !== "aria-current") now.removeAttribute(name);
}

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : undefined;
  const fix = target?.closest<HTMLElement>("[data-fix]");
  if (fix) {
    event.preventDefault();
    host.postMessage({ type: "fix", finding: fix.dataset["of"] ?? fix.closest<HTMLElement>("[data-finding]")?.dataset["finding"] ?? "", fix: Number(fix.dataset["fix"]) });
    return;
  }
  const build = target?.closest<HTMLElement>("[data-build]");
  if (build) {
    event.preventDefault();
    host.postMessage({ type: "build", build: build.dataset["build"] });
    return;
  }
  const place = target?.closest<HTMLElement>("[data-file]");
  if (place) {
    event.preventDefault();
    host.postMessage({ type: "open", uri: place.dataset["file"], line: Number(place.dataset["line"]), column: Number(place.dataset["column"]) });
  }
});

/** Marks the values that rest on the line where the caret is. */
function mark(message: MarkMessage): void {
  marked = message;
  for (const row of sheet.querySelectorAll("[aria-current]")) row.removeAttribute("aria-current");
  for (const link of sheet.querySelectorAll<HTMLElement>("[data-file]"))
    if (link.dataset["file"] === message.uri && Number(link.dataset["line"]) === message.line) link.closest("[data-value], [data-finding]")?.setAttribute("aria-current", "true");
}

host.postMessage({ type: "ready" });
