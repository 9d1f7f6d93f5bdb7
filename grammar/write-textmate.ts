// Writes the files that editors read. Knows where they lie and nothing else; run it with Node after changing the vocabulary.
import { writeFileSync } from "node:fs";
import { languageConfiguration, printed, textmateGrammar } from "./textmate.ts";

writeFileSync(new URL("./tappet.tmLanguage.json", import.meta.url), printed(textmateGrammar()));
writeFileSync(new URL("./language-configuration.json", import.meta.url), printed(languageConfiguration()));
