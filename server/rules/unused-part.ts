// A part or card that stands beside builds and goes into none of them.
import type { Declaration } from "../model/declaration.ts";
import { type Project, usesOf } from "../model/project.ts";
import type { FileRule } from "./rule.ts";
import { called } from "./wording.ts";
import { capital } from "../quantity/spoken.ts";

export const RULE: FileRule = {
  id: "unused-part",
  scope: "file",
  severity: "advice",
  page: {
    summary: "A part or a card stands in the file of a build and is neither fitted nor followed by any build.",
    why: "Its figures count for nothing, though they stand beside the build and read as if they did: a gear bolt's torque on a card that nobody follows is not checked.",
    limit: "Parts and cards in a file that also holds a build. A file of parts alone is a shelf: what lies on it need not be fitted. Silent where another file uses this one, and where the build names a part or card that is not known, which may be a slip for this one.",
    source: "the definition of the language",
    remedy: "Write fit or follow in the build, or move it to a file of its own.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

card gear-bolt for dunlin-18 {
  source: "gear maker's leaflet"
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 58 N·m oiled }
}

build wren-hill-2 on dunlin-18 {
  fuel: petrol
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

card gear-bolt for dunlin-18 {
  source: "gear maker's leaflet"
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 58 N·m oiled }
}

build wren-hill-2 on dunlin-18 {
  fuel: petrol
  follow gear-bolt
}
`,
  },
  check({ file, scope, everywhere, report }) {
    const builds = file.declarations.filter((d) => d.sort === "build");
    const shelved = builds.length === 0 ? [] : file.declarations.filter((d) => (d.sort === "part" || d.sort === "card") && d.name !== undefined);
    if (shelved.length === 0) return;
    const named = new Set(builds.flatMap((build) => [...build.fits.flatMap((f) => (f.name && !f.inline ? [f.name.text] : [])), ...build.follows.map((f) => f.name.text)]));
    // A name that nothing bears is probably a slip for one of these: that has its own finding.
    if ([...named].some((name) => !scope.parts.has(name) && !scope.cards.has(name))) return;
    const unused = shelved.filter((declaration) => !named.has(declaration.name?.text ?? ""));
    if (unused.length === 0 || usedByAnother(everywhere(), file.uri)) return;
    for (const declaration of unused) {
      const name = declaration.name?.text ?? "";
      report({ message: `${capital(called(declaration))} goes into no build here. ${verb(declaration)} it in one: ${verb(declaration).toLowerCase()} ${name}; or move it to a file of its own.`, at: { tree: declaration.tree, span: declaration.name?.span ?? declaration.wordSpan } });
    }
  },
};

function usedByAnother(project: Project, uri: string): boolean {
  return [...project.files.values()].some((other) => other.uri !== uri && usesOf(other).some((use) => use.uri === uri));
}

function verb(declaration: Declaration): "Fit" | "Follow" {
  return declaration.sort === "card" ? "Follow" : "Fit";
}
