// What is said of a build's tunes, for the sheet, for hover and for programs: whether each still answers for the engine, and its file. Judges nothing.
import type { Unreadable } from "../model/project.ts";
import { changeWords } from "../rules/tune-record.ts";
import type { TuneLook } from "../sheet/tune.ts";
import { schemeOf, recordedFigures } from "../sheet/tune.ts";
import { counted } from "./wording.ts";

/** One sentence a line: the state of the record, then of the file. */
export function tuneSentences(look: TuneLook): readonly string[] {
  return [...(look.latest ? stateSentences(look) : ["An earlier tune, kept as it was."]), ...fileSentences(look)];
}

function stateSentences({ state, before, record }: TuneLook): readonly string[] {
  const late = before.map(({ part, date }) => `It is older than ${part.words}, which went in on ${date}.`);
  switch (state.is) {
    case "current": {
      const block = record.blocks.findLast((b) => b.word === "based-on");
      return [`Made for the engine as it now is${block ? `: ${counted(recordedFigures(block).length, "figure")} recorded, none changed` : ""}.`];
    }
    case "stale": return [`Made for other figures: ${counted(state.changes.length, "figure")} changed.`, ...state.changes.map((c) => `${changeWords(c)}.`)];
    case "doubtful": return ["Its fingerprint is not one that was written for it, so nothing can be held against it.", ...late];
    case "unrecorded": return ["No fingerprint: what it was made for is not recorded.", ...late];
  }
}

const UNREAD: Readonly<Record<Unreadable, string>> = { missing: "is not there", outside: "lies outside the opened folder and was not looked at", "not-text": "could not be read", "too-large": "is too large to be a tune", unreadable: "could not be read" };

function fileSentences({ file, path }: TuneLook): readonly string[] {
  if (!file || path === undefined) return [];
  switch (file.is) {
    case "same": return [`${path} is the file that was recorded, ${file.print}.`];
    case "unrecorded": return [`${path} is there; its fingerprint, ${file.print}, is not recorded.`];
    case "changed": return [`${path} is not the file that was recorded: its fingerprint is ${file.print}, and ${file.recorded} is written.`];
    case "unreadable": return [`${path} ${UNREAD[file.why]}.`];
  }
}

/** A few words for the head of the sheet. */
export function tuneBrief(look: TuneLook): string {
  const state = look.state.is === "stale" ? `made for other figures, ${look.state.changes.length} changed` : look.state.is === "current" ? "made for the engine as it is" : look.state.is === "doubtful" ? "its fingerprint is doubtful" : look.before.length > 0 ? "older than a part that asks for a new one" : "what it was made for is not recorded";
  const file = look.file?.is === "changed" ? "its file is another than recorded" : look.file?.is === "unreadable" && look.file.why === "missing" ? "its file is not there" : undefined;
  return [look.path ?? "written out in the build", ...(look.date !== undefined ? [look.date] : []), state, ...(file !== undefined ? [file] : [])].join(", ");
}

export interface TuneJson {
  readonly file: string | null;
  readonly date: string | null;
  readonly state: "current" | "stale" | "doubtful" | "unrecorded";
  /** Null where the tune is no file, or nobody looked for it. */
  readonly fileState: "same" | "changed" | "unrecorded" | "missing" | "unreadable" | null;
  readonly scheme: number | null;
  readonly changes: readonly { readonly path: string; readonly was: string | null; readonly is: string | null }[];
}

/** The tune that counts, for programs. */
export function tuneJson(look: TuneLook | undefined): TuneJson | null {
  if (!look) return null;
  const { file, state } = look;
  const block = look.record.blocks.findLast((b) => b.word === "based-on");
  return {
    file: look.path ?? null, date: look.date ?? null, state: state.is, fileState: !file ? null : file.is !== "unreadable" ? file.is : file.why === "missing" ? "missing" : "unreadable",
    scheme: (block && schemeOf(block)) ?? null,
    changes: state.is === "stale" ? state.changes.map((c) => ({ path: c.path, was: c.was ?? null, is: c.is ?? null })) : [],
  };
}
