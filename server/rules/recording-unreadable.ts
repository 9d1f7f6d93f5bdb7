// A recording that gives nothing: its file is gone, is no table, or is written in a way that nobody can be sure of.
import type { Recording } from "../model/effective.ts";
import type { Unsummed } from "../recording/summary.ts";
import { recordingWords } from "./recorded.ts";
import type { BuildRule } from "./rule.ts";
import { allOf } from "./wording.ts";

/** More headings than this are not read in a sentence. */
const MOST_NAMED = 12;

export const RULE: BuildRule = {
  id: "recording-unreadable",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A recording cannot be read, so nothing in it was looked at.",
    why: "A log that is named and not read proves nothing: what it would have shown stays unseen.",
    limit: "A table of comma-separated text in UTF-8, with a line of headings. Semicolons, tabs and upright bars part cells as well; decimal commas are read. Thousands marks are refused: nobody can tell 3,500 from three and a half.",
    source: "the definition of the language; RFC 4180 for comma-separated text",
    remedy: "Correct the path, which counts from this file, or export the recording again as comma-separated text without thousands marks.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

build wren-hill-4 on dunlin-18 {
  log "runs/hill.csv" on 2027-06-12 { time: "Time"; rpm: "RPM" }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

build wren-hill-4 on dunlin-18 {
  log "runs/hill.csv" on 2027-06-12 { time: "Time"; rpm: "RPM" }
}
--- runs/hill.csv
Time (s),RPM
0.00,3000
0.05,3040
0.10,3080
`,
  },
  check({ build, report, unchecked }) {
    for (const recording of build.recordings ?? []) {
      const { outcome } = recording;
      if (recording.behind) unchecked(`${recordingWords(recording)} against the limits as they are now`, []);
      if (outcome && "summary" in outcome) continue;
      if (!outcome || outcome.problem.sort === "cancelled") unchecked(`${recordingWords(recording)}, which ${outcome ? "was left before its end" : "has not been read"}`, []);
      else report({ message: messageOf(recording, outcome.problem), at: { tree: build.subject.tree, span: recording.path.span } });
    }
  },
};

function messageOf({ path, question }: Recording, problem: Unsummed): string {
  const file = `"${path.text}"`;
  switch (problem.sort) {
    case "missing": return `${file} is not there. Correct the path, which counts from this file.`;
    case "outside": return `${file} lies outside the opened folder, where nothing is read. Move it inside, or open a folder that holds both.`;
    case "utf-16": return `${file} is written in UTF-16. Save it as UTF-8, which spreadsheets call "CSV UTF-8".`;
    case "not-text": return `${file} is not text in UTF-8. Export the recording as comma-separated text, in UTF-8.`;
    case "too-large": return `${file} is too large to be read here. Cut it, or check it with the command line, which reads any size.`;
    case "unreadable": case "cancelled": return `${file} could not be read. Check that it may be opened.`;
    case "empty": return `${file} is empty. Export the recording again.`;
    case "not-a-table": return `${file} is no table of comma-separated text: it begins with "${problem.text}". Export the recording as CSV.`;
    case "no-columns": return `${file} has none of the columns that are named here${question.columns.length === 0 ? ", since none is named" : ""}. It has ${headingWords(problem.headings)}: name them, such as rpm: "${problem.headings[0] ?? "RPM"}".`;
    case "quote": return `${file} has a quote at line ${problem.line} that is never closed. Export the recording again.`;
    case "marks": return `${file} has "${problem.text}" at line ${problem.line}, with a thousands mark or a second sort of decimal mark. Export it without thousands marks.`;
    case "ambiguous": return `${file} has "${problem.text}" at line ${problem.line}, which may be thousands or decimals. Say \`decimal: comma\` where commas are decimal; else export it without thousands marks.`;
    case "no-rows": return `${file} has headings and no readings under them. Export the recording again.`;
  }
}

function headingWords(headings: readonly string[]): string {
  const named = headings.slice(0, MOST_NAMED).map((h) => `"${h}"`);
  return headings.length > MOST_NAMED ? `${named.join(", ")} and ${headings.length - MOST_NAMED} more` : allOf(named);
}
