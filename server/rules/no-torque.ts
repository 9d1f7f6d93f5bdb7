// A fastener that somebody handles and nobody says how tight.
import type { Declaration } from "../model/declaration.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "no-torque",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A fastener of this build, or of a part or card it uses, has no torque, no stages and no stretch.",
    why: "What is not written is tightened by feel, and feel is out by half.",
    limit: "Fasteners that the build, a fitted part or a followed card names: one of `torque`, `tighten`, `stretch` or `clamp-load`, from whoever gives it. A figure left open with `?` is asked for already.",
    source: "by definition",
    remedy: "Look it up in the manual or ask the maker, and write down with it what goes on the thread.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  fastener cam-gear { thread: M10x1.25; class: 10.9 }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 45 ± 3 N·m oiled }
}

build wren-hill-2 on dunlin-18 {
  fastener cam-gear { reuse: yes }
}
`,
  },
  check({ build, report }) {
    const sources: readonly Declaration[] = [build.subject, ...build.parts.map((p) => p.declaration), ...build.cards.map((c) => c.declaration)];
    const asked = new Set<string>();
    for (const declaration of sources)
      for (const { name } of declaration.fasteners) {
        const path = `fastener.${name.text}`;
        if (asked.has(path) || SAYS_HOW.some((key) => build.slots.has(`${path}.${key}`))) continue;
        // One that stands there and cannot be read, or is still open, has been told of already.
        if (sources.some((d) => d.problems.some((p) => SAYS_HOW.some((key) => p.path === `${path}.${key}`)))) continue;
        asked.add(path);
        report({ message: `Nobody says how tight \`${name.text}\` is to be. Write its \`torque\`, with what goes on the thread.`, at: { tree: declaration.tree, span: name.span }, path: `${path}.torque` });
      }
  },
};

const SAYS_HOW = ["torque", "tighten", "stretch", "clamp-load"];
