// A tune file that is not the one whose print was written down.
import { tunesOf } from "../sheet/tune.ts";
import type { BuildRule } from "./rule.ts";
import { filePrintFix, tuneAt } from "./tune-record.ts";

const ENGINE = `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
}
`;

export const RULE: BuildRule = {
  id: "tune-file-changed",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A tune file holds something else than when its fingerprint was written down.",
    why: "A file of the same name with another tune in it looks right and is wrong: what goes into the controller is then not what was tuned.",
    limit: "The SHA-256 digest of the file's bytes, its first twelve figures, against `file-print`.",
    source: "FIPS 180-4",
    remedy: "Find the right file again (git keeps it), or say that this one is meant.",
    bad: `${ENGINE}
build wren-hill-2 on dunlin-20 {
  tune "tunes/wren-2a.bin" { date: 2027-04-05; file-print: #77aa0b1c2d3e }
}
--- tunes/wren-2a.bin
main 118
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
      if (look.file?.is !== "changed") continue;
      const fix = filePrintFix(build, look);
      report({ message: `"${look.path}" is not the file that was recorded here: its fingerprint is ${look.file.print}, and ${look.file.recorded} is written. Find the right file again, or say that this one is meant.`, at: tuneAt(build, look, "file-print"), fixes: fix ? [fix] : [], path: "tune" });
    }
  },
};
