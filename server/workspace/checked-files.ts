// From loaded projects to their checked files, as reports are printed from them. Knows no output format and no sheet.
import type { Project } from "../model/project.ts";
import type { CheckedFile, WaivedFile } from "../report/checked.ts";
import { type NameOf, atlasOf } from "../report/place.ts";
import { type Analysis, type FileResult, analyse } from "./analyse.ts";
import { byCodePoint } from "./host.ts";

/** Every file of these projects, those that were only used too, in the order of their names. */
export function checkedFiles(projects: readonly { readonly project: Project; readonly given: readonly string[] }[], nameOf: NameOf, asOf: string): readonly WaivedFile[] {
  return inOrder(projects.map(({ project, given }) => ({ given: new Set(given), files: checkedIn(analyse(project, asOf, { keeps: () => false }), nameOf) })), nameOf);
}

/** The files of an analysis, or some of them, as reports are printed from. */
export function checkedIn(analysis: Analysis, nameOf: NameOf, uris: Iterable<string> = analysis.project.files.keys()): readonly (WaivedFile & Pick<FileResult, "everywhere">)[] {
  const atlas = atlasOf(analysis.project, analysis.places, nameOf);
  return [...uris].flatMap((uri) => {
    const result = analysis.fileResult(uri);
    return result ? [{ uri, atlas, findings: result.findings, waived: result.waived, waivers: result.waivers, off: result.off, subjects: result.subjects, everywhere: result.everywhere }] : [];
  });
}

/** In the order of their names. A file that was found more than once counts where it was asked for. */
export function inOrder<F extends CheckedFile>(found: readonly { readonly given: ReadonlySet<string>; readonly files: readonly F[] }[], nameOf: NameOf): readonly F[] {
  const files = new Map<string, F>();
  for (const { given, files: some } of found) for (const file of some) if (!files.has(file.uri) || given.has(file.uri)) files.set(file.uri, file);
  return [...files.values()].sort((a, b) => byCodePoint(nameOf(a.uri), nameOf(b.uri)));
}
