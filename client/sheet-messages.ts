/** What the sheet's panel and the page in it say to each other. A page is not trusted: what it says is looked at before it is acted on. */

/** What stands above a sheet whose figures are being tried, already worded. */
export interface TrialBar {
  readonly title: string;
  readonly lines: readonly string[];
  readonly apply: string;
  readonly putBack: string;
}

export type ToPage =
  | {
      readonly type: "sheet";
      readonly uri: string;
      /** The build that is shown; null where there is none. */
      readonly build: string | null;
      /** The sheet's body, everything that a file says escaped in it; null where the file declares nothing to show. */
      readonly html: string | null;
      /** Names of everything that the file has a sheet of. */
      readonly builds: readonly string[];
      /** While figures are being tried. */
      readonly trial: TrialBar | null;
    }
  /** Lines count from one. */
  | { readonly type: "mark"; readonly uri: string; readonly line: number };

export type FromPage =
  | { readonly type: "ready" }
  /** Lines and columns count from one. */
  | { readonly type: "open"; readonly uri: string; readonly line: number; readonly column: number }
  | { readonly type: "build"; readonly build: string }
  /** From a comparison back to the sheet. */
  | { readonly type: "back" }
  /** What becomes of the figures that are being tried. */
  | { readonly type: "trial"; readonly end: "apply" | "putBack" }
  /** A finding by its place on the sheet, a fix by its place in the finding. */
  | { readonly type: "fix"; readonly finding: string; readonly fix: number };

/** The message of a page if it has the form of one. */
export function fromPage(message: unknown): FromPage | undefined {
  if (typeof message !== "object" || message === null) return undefined;
  const { type, uri, line, column, build, finding, fix, end } = message as Record<string, unknown>;
  switch (type) {
    case "ready":
    case "back":
      return { type };
    case "open":
      return typeof uri === "string" && isCount(line) && isCount(column) ? { type, uri, line, column } : undefined;
    case "build":
      return typeof build === "string" ? { type, build } : undefined;
    case "trial":
      return end === "apply" || end === "putBack" ? { type, end } : undefined;
    case "fix":
      return typeof finding === "string" && isCount(fix) ? { type, finding, fix } : undefined;
    default:
      return undefined;
  }
}

function isCount(x: unknown): x is number {
  return typeof x === "number" && Number.isInteger(x) && x >= 0;
}
