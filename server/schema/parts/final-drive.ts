// Part kind: final drive.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "final-drive",
  words: "The final drive.",
  keys: [
    figure("ratio", "ratio", "3.94", "Turns of the gearbox's output for one turn of the wheels.", { usual: plain(1, 8), importance: "essential" }),
    choice("differential", { open: "Open.", "limited-slip": "Limited slip.", locked: "Locked or none." }, "open", "What shares the torque between the wheels.", { importance: "rare" }),
  ],
  clears: ["final-drive.*"],
});
