// The command line: paths and options in, reports and exit codes out. Wiring and input-output only; everything it says of an engine
// comes from the floors below, which are loaded when a command needs them.
import { isMainThread } from "node:worker_threads";
import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import manifest from "../package.json" with { type: "json" };

/** Why a command could not run, in one sentence for a person. */
class Refusal extends Error {}

/** 0: nothing at error level. 1: errors found (by `diff`: errors that are new), or files that the formatter would change. 2: could not run. */
type ExitCode = 0 | 1 | 2;

interface CommonOptions {
  readonly format: "text" | "json" | "html" | "markdown" | "plain" | "github" | "sarif" | "csv";
  readonly output?: string;
  readonly asOf?: string;
  readonly stdinFilename?: string;
}

interface SheetOptions extends CommonOptions {
  readonly build?: string;
  readonly revision?: boolean;
  readonly public?: boolean;
}

interface DiffOptions extends CommonOptions {
  readonly git?: readonly string[];
  readonly mergeBase?: boolean;
  readonly conflicts?: boolean;
  readonly build?: string;
}

const OLDEST_NODE = 22;

async function main(): Promise<ExitCode> {
  if (Number(process.versions.node.split(".")[0]) < OLDEST_NODE)
    throw new Refusal(`This needs Node ${OLDEST_NODE} or newer, and runs on ${process.versions.node}: install a newer Node, or put one first in the path.`);
  let code: ExitCode = 0;
  const program = new Command("tappet")
    .description("Checks engine-build files and works out the build sheet.")
    .version(manifest.version)
    .addHelpText("after", "\nExit codes: 0 nothing at error level, 1 errors found, or waivers that expired or were outgrown (diff: new errors; format --check: files would change), 2 could not run.")
    .exitOverride()
    .configureOutput({ writeErr: () => {} });
  const command = (name: string, words: string) => program.command(name).description(words).exitOverride().configureOutput({ writeErr: () => {} });
  const format = (...choices: readonly string[]) => new Option("--format <format>", "how to print").choices(choices).default("text");
  const output = new Option("-o, --output <file>", "write here instead of to the terminal");
  const asOf = new Option("--as-of <date>", "the day that waivers and due dates are held against, year first; today if not given").argParser(dayOf);
  const stdinFilename = new Option("--stdin-filename <file>", "what the text from - is called, and where its uses start from");

  command("check", "check files, and everything they use; folders are searched for build files")
    .argument("<path...>", "files or folders; - for standard input")
    .addOption(format("text", "plain", "json", "sarif", "github")).addOption(output).addOption(asOf).addOption(stdinFilename)
    .action(async (paths: string[], options: CommonOptions) => {
      code = await check(paths, options);
    });
  command("sheet", "print the build sheet of a file")
    .argument("<file>", "a file with a build, or an engine; - for standard input")
    .addOption(format("text", "json", "html", "markdown")).addOption(output).addOption(asOf).addOption(stdinFilename)
    .option("--build <name>", "which build, where the file has several")
    .option("--revision", "print the git revision that the files stand on")
    .option("--public", "leave out private notes and what was paid; cautions and sources always stay")
    .action(async (path: string, options: SheetOptions) => {
      code = await sheet(path, options);
    });
  command("format", "lay files out; digits, units and comments stay as written")
    .argument("<path...>", "files or folders; - reads standard input and prints the result")
    .option("--check", "change nothing; say which files would change")
    .addOption(stdinFilename)
    .action(async (paths: string[], options: { readonly check?: boolean; readonly stdinFilename?: string }) => {
      code = await format_(paths, options);
    });
  command("why", "print where a figure or a value comes from, and what depends on it")
    .argument("<file>", "a file with a build, or an engine; - for standard input")
    .argument("<path>", "a figure such as valve-gear.intake.lash, or a value such as compression.static")
    .addOption(format("text", "json")).addOption(output).addOption(asOf).addOption(stdinFilename)
    .option("--build <name>", "which build, where the file has several")
    .action(async (file: string, path: string, options: CommonOptions & { readonly build?: string }) => {
      code = await why(file, path, options);
    });
  command("diff", "compare two files or folders, or states that git keeps: what changed, and what follows from it")
    .argument("[path...]", "two files or two folders, - for standard input; with --git the files and folders to look at, all if none")
    .option("--git <revision...>", "compare this revision with the files as they are, or with a second revision")
    .option("--merge-base", "with --git: compare with where the two parted, as a review does")
    .option("--conflicts", "compare the two sides of what git could not merge, in these files or in this folder")
    .option("--build <name>", "only this build")
    .addOption(format("text", "markdown", "json", "html")).addOption(output).addOption(asOf).addOption(stdinFilename)
    .action(async (paths: string[], options: DiffOptions) => {
      code = await diff(paths, options);
    });
  command("textconv", "print a file for git's own diff: one figure a line, and what follows from it")
    .argument("<file>", "the file that git hands over")
    .addOption(asOf)
    .action(async (path: string, options: { readonly asOf?: string }) => {
      code = await textconv(path, options);
    });
  command("parts", "list the parts of a build: what is in, here, on its way and still needed, what was paid and where it came from")
    .argument("<file>", "a file with a build; - for standard input")
    .addOption(format("text", "json", "csv")).addOption(output).addOption(asOf).addOption(stdinFilename)
    .option("--build <name>", "which build, where the file has several")
    .option("--public", "leave out what was paid and to whom")
    .action(async (path: string, options: SheetOptions) => {
      code = await parts(path, options);
    });
  command("waivers", "list what is waived in files or folders, and how each waiver stands")
    .argument("<path...>", "files or folders; - for standard input")
    .addOption(format("text", "json")).addOption(output).addOption(asOf).addOption(stdinFilename)
    .action(async (paths: string[], options: CommonOptions) => {
      code = await waivers(paths, options);
    });
  command("explain", "explain a rule or a computed value; without a name, list them all")
    .argument("[name]", "the name a finding shows, or a value of the sheet")
    .addOption(format("text", "json")).addOption(output)
    .action(async (name: string | undefined, options: CommonOptions) => {
      code = await explain(name, options);
    });
  if (process.argv.length <= 2) {
    process.stderr.write(program.helpInformation());
    return 2;
  }
  await program.parseAsync(process.argv);
  return code;
}

async function check(paths: readonly string[], options: CommonOptions): Promise<ExitCode> {
  const { checkPaths } = await import("./command-check.ts");
  const { RULES } = await import("./rules/index.ts");
  const asOf = options.asOf ?? today();
  const checked = await checkPaths(paths, process.cwd(), asOf, await standardInput(paths, options.stdinFilename));
  if ("refusal" in checked) throw new Refusal(checked.refusal);
  const { files, unread } = checked;
  const run = { rules: RULES.length, asOf };
  await emit(await printFindings(files, run, unread, options.format), options.output);
  for (const sentence of unread) complain(sentence);
  if (unread.length > 0) return 2;
  const failing = new Set(RULES.filter((rule) => rule.failsCheck).map((rule) => rule.id));
  return files.some((file) => file.findings.some((f) => f.severity === "error" || failing.has(f.rule))) ? 1 : 0;
}

async function parts(path: string, options: SheetOptions): Promise<ExitCode> {
  const { input } = await madeSheet(path, options);
  const { partsList } = await import("./report/parts-list.ts");
  const { partsCsv, partsJson, partsText } = await import("./report/parts-report.ts");
  const { printJson } = await import("./report/findings-json.ts");
  const list = partsList(input);
  await emit(options.format === "json" ? printJson(partsJson(list)) : options.format === "csv" ? partsCsv(list) : partsText(list), options.output);
  return 0;
}

async function waivers(paths: readonly string[], options: CommonOptions): Promise<ExitCode> {
  const { loadFiles } = await import("./command-files.ts");
  const { checkedFiles } = await import("./workspace/checked-files.ts");
  const { waiversFail, waiversJson, waiversText } = await import("./report/waiver-report.ts");
  const asOf = options.asOf ?? today();
  const loaded = await loadFiles(paths, process.cwd(), await standardInput(paths, options.stdinFilename));
  if ("refusal" in loaded) throw new Refusal(loaded.refusal);
  const report = waiversJson(checkedFiles(loaded.projects, loaded.nameOf, asOf), asOf);
  const { printJson } = await import("./report/findings-json.ts");
  await emit(options.format === "json" ? printJson(report) : waiversText(report), options.output);
  for (const sentence of loaded.unread) complain(sentence);
  return loaded.unread.length > 0 ? 2 : waiversFail(report) ? 1 : 0;
}

async function printFindings(files: readonly import("./report/checked.ts").CheckedFile[], run: import("./report/checked.ts").Run, unread: readonly string[], format: CommonOptions["format"]): Promise<string> {
  const { checkJson, printJson } = await import("./report/findings-json.ts");
  switch (format) {
    case "json": return printJson(checkJson(files, run));
    case "sarif": return printJson((await import("./report/findings-sarif.ts")).checkSarif(files, { version: manifest.version, unread }));
    case "plain": return (await import("./report/findings-lines.ts")).checkPlain(files);
    case "github": return (await import("./report/findings-lines.ts")).checkAnnotations(files, run);
    default: return (await import("./report/findings-text.ts")).checkText(files, run);
  }
}

async function sheet(path: string, options: SheetOptions): Promise<ExitCode> {
  const made = await madeSheet(path, options);
  await emit(await print(made, options.format), options.output);
  return made.model.findings.some((f) => f.severity === "error") ? 1 : 0;
}

async function why(file: string, path: string, options: CommonOptions & { readonly build?: string }): Promise<ExitCode> {
  const { input } = await madeSheet(file, options);
  const { whyOf, whyText } = await import("./report/why.ts");
  const answer = whyOf(input.sheet, input.atlas, path);
  if ("refusal" in answer) throw new Refusal(answer.refusal);
  const { printJson } = await import("./report/findings-json.ts");
  await emit(options.format === "json" ? printJson(answer) : whyText(answer, input.build), options.output);
  return 0;
}

async function diff(paths: readonly string[], options: DiffOptions): Promise<ExitCode> {
  const { statesOfConflicts, statesOfGit, statesOfPaths } = await import("./command-diff.ts");
  const { compareStates } = await import("./workspace/compare.ts");
  if (options.mergeBase && !options.git) throw new Refusal("--merge-base is for revisions: give --git and one or two of them as well.");
  if (options.conflicts && options.git) throw new Refusal("--conflicts looks at the files as they are: leave --git out.");
  const states = options.conflicts ? await statesOfConflicts(paths, process.cwd()) : options.git
    ? await statesOfGit({ revisions: options.git, mergeBase: options.mergeBase ?? false, paths }, process.cwd())
    : await statesOfPaths(paths, process.cwd(), await standardInput(paths, options.stdinFilename));
  if ("refusal" in states) throw new Refusal(states.refusal);
  const { before, after, renames } = states;
  const comparison = compareStates(before, after, { asOf: options.asOf ?? today(), renames, ...(options.build !== undefined && { build: options.build }) });
  await emit(await printComparison(comparison, options.format), options.output);
  return comparison.counts.newErrors > 0 ? 1 : 0;
}

async function printComparison(comparison: import("./report/comparison.ts").Comparison, format: CommonOptions["format"]): Promise<string> {
  switch (format) {
    case "json": return (await import("./report/findings-json.ts")).printJson((await import("./report/comparison-json.ts")).comparisonJson(comparison));
    case "html": return (await import("./report/comparison-html.ts")).comparisonHtml(comparison);
    case "markdown": return (await import("./report/comparison-markdown.ts")).comparisonMarkdown(comparison);
    default: return (await import("./report/comparison-text.ts")).comparisonText(comparison);
  }
}

async function madeSheet(path: string, options: SheetOptions): Promise<import("./workspace/build-sheet.ts").MadeSheet> {
  const { loadFiles } = await import("./command-files.ts");
  const { buildSheet } = await import("./workspace/build-sheet.ts");
  const loaded = await loadFiles([path], process.cwd(), await standardInput([path], options.stdinFilename), "file");
  if ("refusal" in loaded) throw new Refusal(loaded.refusal);
  const [first] = loaded.projects;
  const uri = first?.given[0];
  if (loaded.unread.length > 0 || !first || uri === undefined) throw new Refusal(loaded.unread[0] ?? `Nothing could be read from ${path}.`);
  const made = buildSheet(first.project, uri, { ...(options.build !== undefined && { build: options.build }), nameOf: loaded.nameOf, asOf: options.asOf ?? today(), ...(options.revision && { revision: await revisionWords() }), ...(options.public && { open: true }) });
  if ("refusal" in made) throw new Refusal(made.refusal);
  return made;
}

/** "3f9c21d", or "3f9c21d and changes that are not committed". */
async function revisionWords(): Promise<string> {
  const here = await (await import("./git.ts")).revisionHere(process.cwd());
  if ("refusal" in here) throw new Refusal(here.refusal);
  return here.changed ? `${here.short} and changes that are not committed` : here.short;
}

async function textconv(path: string, options: { readonly asOf?: string }): Promise<ExitCode> {
  const { textForGit } = await import("./command-textconv.ts");
  const text = await textForGit(path, process.cwd(), options.asOf ?? today());
  if (text === undefined) throw new Refusal(`${path} is no text that can be read.`);
  process.stdout.write(text);
  return 0;
}

async function print(made: import("./workspace/build-sheet.ts").MadeSheet, format: CommonOptions["format"]): Promise<string> {
  switch (format) {
    case "json": {
      const { sheetJson } = await import("./report/sheet-json.ts");
      const { printJson } = await import("./report/findings-json.ts");
      return printJson(sheetJson(made.input));
    }
    case "html": return (await import("./report/sheet-html.ts")).sheetHtml(made.model);
    case "markdown": return (await import("./report/sheet-markdown.ts")).sheetMarkdown(made.model);
    default: return (await import("./report/sheet-text.ts")).sheetText(made.model);
  }
}

async function format_(paths: readonly string[], options: { readonly check?: boolean; readonly stdinFilename?: string }): Promise<ExitCode> {
  const { findFiles, readWholeFile } = await import("./command-files.ts");
  const { readSource } = await import("../grammar/read.ts");
  const { format } = await import("../grammar/printer.ts");
  const { withoutMark } = await import("./workspace/host.ts");
  const laidOut = (text: string) => (text.startsWith("\ufeff") ? "\ufeff" : "") + format(readSource("", withoutMark(text)));
  if (paths.includes("-")) {
    if (paths.length > 1) throw new Refusal("Standard input is formatted by itself: give - alone, or files and folders.");
    const text = (await standardInput(paths, options.stdinFilename))?.text ?? "";
    if (!options.check) {
      await emit(laidOut(text), undefined);
      return 0;
    }
    const same = laidOut(text) === text;
    if (!same) process.stdout.write(`${options.stdinFilename ?? "standard input"} would be laid out anew.\n`);
    return same ? 0 : 1;
  }
  const found = await findFiles(paths, process.cwd());
  if ("refusal" in found) throw new Refusal(found.refusal);
  let changed = 0;
  for (const file of found.files) {
    const read = await readWholeFile(file.path);
    if ("refusal" in read) {
      complain(`${file.name} ${read.refusal}`);
      return 2;
    }
    const after = laidOut(read.text);
    if (after === read.text) continue;
    changed++;
    if (!options.check) await writeWhole(file.path, after);
    process.stdout.write(options.check ? `${file.name} would be laid out anew.\n` : `${file.name} laid out.\n`);
  }
  const { counted } = await import("./report/wording.ts");
  process.stdout.write(`${counted(found.files.length, "file")} looked at, ${changed} ${options.check ? "would change" : "changed"}.\n`);
  return options.check && changed > 0 ? 1 : 0;
}

async function explain(name: string | undefined, options: CommonOptions): Promise<ExitCode> {
  const { explanationOf, explanationText, indexText, indexJson, likelyNames } = await import("./report/explanation.ts");
  const { printJson } = await import("./report/findings-json.ts");
  if (name === undefined) {
    await emit(options.format === "json" ? printJson(indexJson()) : indexText(), options.output);
    return 0;
  }
  const explanation = explanationOf(name);
  if (!explanation) {
    const near = likelyNames(name);
    throw new Refusal(`There is no rule or value called "${name}".${near.length > 0 ? ` Did you mean ${near.join(" or ")}?` : " Leave the name out for a list."}`);
  }
  await emit(options.format === "json" ? printJson(explanation) : explanationText(explanation), options.output);
  return 0;
}

/** What stands on standard input, when a path asks for it. */
async function standardInput(paths: readonly string[], filename: string | undefined): Promise<{ readonly text: string; readonly filename: string } | undefined> {
  if (!paths.includes("-")) return undefined;
  const { textOfBytes } = await import("./workspace/disk-host.ts");
  const { LARGEST_FILE } = await import("./workspace/host.ts");
  const pieces: Uint8Array[] = [];
  let size = 0;
  for await (const piece of process.stdin) {
    pieces.push(piece as Uint8Array);
    size += (piece as Uint8Array).length;
    if (size > LARGEST_FILE) throw new Refusal(`Standard input holds more than ${LARGEST_FILE / 1024 / 1024} MB, which no build file does.`);
  }
  const reading = textOfBytes(Buffer.concat(pieces));
  if ("problem" in reading) throw new Refusal("Standard input is not UTF-8 text.");
  return { text: reading.text, filename: filename ?? "stdin.tappet" };
}

async function emit(text: string, output: string | undefined): Promise<void> {
  if (output !== undefined) await writeWhole(output, text);
  else process.stdout.write(text);
}

/** Writes a file so that whoever reads it finds the old text or the new, never half of one. */
async function writeWhole(path: string, text: string): Promise<void> {
  const { writeWholeFile } = await import("./command-files.ts");
  const problem = await writeWholeFile(path, text);
  if (problem !== undefined) throw new Refusal(problem);
}

function dayOf(text: string): string {
  const m = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  const date = m ? new Date(`${text}T00:00:00Z`) : undefined;
  if (!date || Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== text) throw new InvalidArgumentError("Write a day of the calendar, year first: 2027-03-14.");
  return text;
}

function today(): string {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}-${String(now.getDate()).padStart(2, "0")}`;
}

function complain(sentence: string): void {
  process.stderr.write(`tappet: ${sentence}\n`);
}

// A reader that has seen enough (a pager, head) closes the pipe: that is no failure.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
  process.exit(process.exitCode ?? 0);
});

if (!isMainThread) void import("./command-check.ts").then(({ answerOrder }) => answerOrder());
else main().then((code) => {
  process.exitCode = code;
}, (error: unknown) => {
  if (error instanceof CommanderError && error.exitCode === 0) process.exitCode = 0;
  else {
    process.exitCode = 2;
    if (error instanceof Refusal) complain(error.message);
    else if (error instanceof CommanderError) complain(`${error.message.replace(/^error: /, "").replace(/\n\(Did/, "; did").replace(/\n/g, " ").replace(/\)$/, "").replace(/[.?]$/, "")}; --help lists what there is.`);
    else complain(`This is a mistake in tappet itself; please report it with the file that brought it about: ${error instanceof Error ? error.stack ?? error.message : String(error)}`);
  }
});
