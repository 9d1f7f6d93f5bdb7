// From a loaded project to the sheet of one build, as reports are printed from it. Knows no output format.
import type { Finding } from "../rules/finding.ts";
import type { Project } from "../model/project.ts";
import { drawingsOf } from "../drawings/index.ts";
import { nameOfSubject } from "../report/checked.ts";
import { type NameOf, atlasOf } from "../report/place.ts";
import { sheetModel } from "../report/sheet-document.ts";
import type { SheetInput } from "../report/sheet-input.ts";
import type { SheetModel } from "../report/sheet-model.ts";
import { systemOf } from "../model/system.ts";
import { listed } from "../report/wording.ts";
import { type Analysis, type SubjectResult, analyse } from "./analyse.ts";

export interface MadeSheet {
  readonly input: SheetInput;
  readonly model: SheetModel;
}

export interface SheetWish {
  /** Which build, where the file has several. */
  readonly build?: string;
  readonly nameOf: NameOf;
  /** Year first. */
  readonly asOf: string;
  /** The git revision to print on it. */
  readonly revision?: string;
  /** True for a sheet that everybody may see. */
  readonly open?: boolean;
}

/** The sheet of a file's build, or of its engine where it has no build. The refusal is one sentence. */
export function buildSheet(project: Project, uri: string, wish: SheetWish): MadeSheet | { readonly refusal: string } {
  const analysis = analyse(project, wish.asOf);
  const subjects = analysis.fileResult(uri)?.subjects ?? [];
  const builds = subjects.filter((s) => s.build.subject.sort === "build");
  const choice = builds.length > 0 ? builds : subjects;
  const names = listed(choice.map((s) => nameOfSubject(s.build.subject)), "or");
  const file = wish.nameOf(uri);
  if (wish.build !== undefined) {
    const named = subjects.find((s) => s.build.subject.name?.text === wish.build);
    if (named) return makeSheet(analysis, named, wish.nameOf, undefined, wish);
    return { refusal: choice.length > 0 ? `${file} has no build called ${wish.build}: it has ${names}.` : `${file} has no build called ${wish.build}.` };
  }
  const [only] = choice;
  if (!only) return { refusal: `${file} has neither a build nor an engine to make a sheet of.` };
  if (choice.length > 1) return { refusal: `${file} has ${choice.length} ${builds.length > 0 ? "builds" : "engines"}: say which with --build ${names}.` };
  return makeSheet(analysis, only, wish.nameOf, undefined, wish);
}

/** The sheet of one subject of an analysis. */
export function makeSheet(analysis: Analysis, subject: SubjectResult, nameOf: NameOf, spell?: (uri: string) => string, { revision, open }: Pick<SheetWish, "revision" | "open"> = {}): MadeSheet {
  const atlas = atlasOf(analysis.project, analysis.places, nameOf, spell);
  const input: SheetInput = { ...subject, atlas, asOf: analysis.asOf, ...(revision !== undefined && { revision }), ...(open && { open }), foundation: foundationOf(analysis, subject), drawings: drawingsOf({ ...subject, system: systemOf(subject.build) }) };
  return { input, model: sheetModel(input) };
}

/** Open findings in what the build stands on: a part's missing unit is as much this build's trouble as its own. */
export function foundationOf(analysis: Analysis, { build }: Pick<SubjectResult, "build">): readonly Finding[] {
  const trees = new Set([build.engine, ...build.parts.map((p) => p.declaration), ...build.cards.map((c) => c.declaration)].flatMap((d) => (d && d.tree !== build.subject.tree ? [d.tree] : [])));
  const uris = new Set([...trees].flatMap((tree) => analysis.places.placeOf(tree)?.uri ?? []));
  return [...uris].flatMap((uri) => analysis.fileResult(uri)?.findings.filter((f) => trees.has(f.at.tree)) ?? []);
}
