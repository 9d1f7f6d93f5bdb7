// A tune file that a build names and that cannot be read.
import type { Unreadable } from "../model/project.ts";
import { tunesOf } from "../sheet/tune.ts";
import type { BuildRule } from "./rule.ts";
import { tuneAt } from "./tune-record.ts";

const WHY: Readonly<Record<Unreadable, string>> = {
  missing: "is not there. Correct the path, which counts from this file, or bring the file back.",
  outside: "lies outside the opened folder, where nothing is read. Keep it beside the build, so that both are kept together.",
  "not-text": "could not be read. Check that it may be opened.",
  "too-large": "is too large to be a tune, so it was not read. Check that the path is right.",
  unreadable: "could not be read. Check that it may be opened.",
};

const ENGINE = `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
}
`;

export const RULE: BuildRule = {
  id: "tune-file-missing",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A tune file that the build names cannot be read.",
    why: "The tune that the engine ran on may be lost, and nobody can say whether the one in the controller is it.",
    limit: "None. A file in a folder that was not opened is not looked for.",
    source: "the definition of the language",
    remedy: "Keep tune files beside the build, in the same repository, and correct the path.",
    bad: `${ENGINE}
build wren-hill-2 on dunlin-20 {
  tune "tunes/wren-2a.bin" { date: 2027-04-05 }
}
--- tunes/wren-2a.bin (missing)
`,
    good: `${ENGINE}
build wren-hill-2 on dunlin-20 {
  tune "tunes/wren-2a.bin" { date: 2027-04-05 }
}
--- tunes/wren-2a.bin
main 118
`,
  },
  check({ build, sheet, data, report }) {
    for (const look of tunesOf(sheet, data)) {
      if (look.file?.is !== "unreadable") continue;
      report({ message: `The tune file "${look.path}" ${WHY[look.file.why]}`, at: tuneAt(build, look), path: "tune", ...(look.file.why !== "missing" && { severity: "advice" as const }) });
    }
  },
};
