// What every drawing is made from and what it gives. Knows no particular drawing.
import type { EffectiveBuild } from "../model/effective.ts";
import type { SectionId } from "../schema/sections.ts";
import type { Sheet } from "../sheet/evaluate.ts";

export interface DrawingSource {
  readonly build: EffectiveBuild;
  readonly sheet: Sheet;
  /** The system that values nobody wrote are shown in. */
  readonly system: "metric" | "inch";
}

/** One picture with the section it stands in. Text in `title` and `alternative` is plain; `svg` has it escaped. */
export interface Drawing {
  /** Unique on a sheet, and made of letters, digits and dashes only. */
  readonly id: string;
  readonly section: SectionId;
  readonly title: string;
  /** What the picture shows, with its numbers, in sentences. */
  readonly alternative: string;
  readonly svg: string;
}
