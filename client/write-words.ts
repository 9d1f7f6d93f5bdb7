/**
 * Writes the table of everything the extension says, for translators: client/l10n/bundle.l10n.json holds each text as its own translation.
 * The manifest's texts are in package.nls.json.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { clientWords } from "./words.ts";

const folder = join(import.meta.dirname, "l10n");
mkdirSync(folder, { recursive: true });
writeFileSync(join(folder, "bundle.l10n.json"), clientWords());
