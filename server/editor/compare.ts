// The build in the editor held against an earlier state of its files, for the sheet's page: what changed on the left, what follows on the right.
// Knows no git: whoever asks brings the earlier files.
import { renderComparisonBody } from "../report/comparison-html.ts";
import { type Project, scopeOf } from "../model/project.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { type State, compareStates } from "../workspace/compare.ts";
import { AT_REVISION } from "./revision-place.ts";
import { type SheetAnswer, type SheetQuestion, namesOfBuilds, shortNames } from "./sheet.ts";

export interface CompareQuestion extends SheetQuestion {
  readonly against: {
    /** The revision by its full id, and as the reader calls it. */
    readonly ref: string;
    readonly label: string;
    /** Where the file lay then. */
    readonly uri: string;
  };
  /** Words of the control that leads back to the sheet. */
  readonly back: string;
}

/** What was recorded does not change with the build: recordings count as they lie there now, on both sides. */
function withRecordingsOf({ project }: Analysis, before: Project): Project {
  return project.recordings ? { ...before, recordings: project.recordings } : before;
}

/** Null where the file has nothing to compare, now or then. `spell` is how the client writes a URI. */
export function comparisonFor(analysis: Analysis, before: Project, question: CompareQuestion, spell: (uri: string) => string): SheetAnswer | null {
  const { uri, against } = question;
  const builds = namesOfBuilds(analysis, uri);
  const build = builds.find((name) => name === question.build) ?? builds[0];
  const names = shortNames(analysis);
  const files = new Map(scopeOf(analysis.project, uri).files.map((file) => [file.uri, file]));
  if (files.size === 0 && before.files.size === 0) return null;
  const then: State = {
    label: against.label, revision: against.ref, projects: [{ project: withRecordingsOf(analysis, before), given: [against.uri] }], nameOf: names,
    keyOf: (one) => (one === against.uri ? uri : one), spell: (one) => `${spell(one)}?${AT_REVISION}${against.ref}`,
  };
  const now: State = { label: "the file as it is", projects: [{ project: { ...analysis.project, files }, given: [uri] }], nameOf: names, keyOf: (one) => one, spell };
  const comparison = compareStates(then, now, { asOf: analysis.asOf, ...(builds.length > 1 && build !== undefined && { build }) });
  return { title: `Changes: ${names(uri)}`, html: renderComparisonBody(comparison, { links: "jump", back: question.back }), build: build ?? "", builds };
}
