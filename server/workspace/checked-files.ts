// From loaded projects to their checked files, as reports are printed from them. Knows no output format and no sheet.
import type { Project } from "../model/project.ts";
import type { CheckedFile } from "../report/checked.ts";
import { type NameOf, atlasOf } from "../report/place.ts";
import { analyse } from "./analyse.ts";
import { byCodePoint } from "./host.ts";

/** Every file of these projects, those that were only used too, in the order of their names. A file in two projects counts where it was asked for. */
export function checkedFiles(projects: readonly { readonly project: Project; readonly given: readonly string[] }[], nameOf: NameOf, asOf: string): readonly CheckedFile[] {
  const files = new Map<string, CheckedFile>();
  for (const { project, given } of projects) {
    const analysis = analyse(project, asOf);
    const atlas = atlasOf(project, analysis.places, nameOf);
    for (const uri of project.files.keys()) {
      if (files.has(uri) && !given.includes(uri)) continue;
      const result = analysis.fileResult(uri);
      if (result) files.set(uri, { uri, atlas, findings: result.findings, waived: result.waived, waivers: result.waivers, off: result.off, subjects: result.subjects });
    }
  }
  return [...files.values()].sort((a, b) => byCodePoint(nameOf(a.uri), nameOf(b.uri)));
}
