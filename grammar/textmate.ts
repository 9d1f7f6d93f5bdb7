// Writes the colouring grammar that editors use before the language server answers, from the vocabulary. Run with Node to refresh the file.
import { RESERVED_WORDS, STATEMENT_WORDS, TOP_WORDS, UNIT_SPELLINGS_LONGEST_FIRST } from "./vocabulary.ts";

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");
}

function anyOf(words: readonly string[]): string {
  return [...words].sort((a, b) => b.length - a.length || (a < b ? -1 : 1)).map(escaped).join("|");
}

const LETTER = "[\\p{L}]";
const WORD = `${LETTER}(?:[\\p{L}\\p{N}_]|-(?=[\\p{L}\\p{N}]))*`;
const WORD_END = "(?![\\p{L}\\p{N}_]|[-.][\\p{L}\\p{N}])";
const WORD_START = "(?<![\\p{L}\\p{N}_.-])";
const NUMBER = "(?:\\d+(?:[ \\t]+|-))?\\d+/\\d+|\\d+(?:\\.\\d+)?:\\d+(?:\\.\\d+)?|\\d+(?:\\.\\d+)?(?:-\\d+)+|\\d+(?:[.,]\\d+)?|\\.\\d+";

/** The grammar as plain data, in the form the file holds it. */
export function textmateGrammar(): object {
  const units = UNIT_SPELLINGS_LONGEST_FIRST.map(escaped).join("|");
  return {
    comment: "Written by grammar/textmate.ts from grammar/vocabulary.ts.",
    name: "Tappet",
    scopeName: "source.tappet",
    fileTypes: ["tappet"],
    patterns: [{ include: "#comment" }, { include: "#string" }, { include: "#declaration" }, { include: "#key" }, { include: "#statement" }, { include: "#row" }, { include: "#value" }],
    repository: {
      comment: {
        patterns: [
          { name: "comment.line.documentation.tappet", match: "///.*$" },
          { name: "comment.line.double-slash.tappet", match: "//.*$" },
          { include: "#block-comment" },
        ],
      },
      "block-comment": { name: "comment.block.tappet", begin: "/\\*", end: "\\*/", patterns: [{ include: "#block-comment" }] },
      string: { name: "string.quoted.double.tappet", match: "\"[^\"]*(?:\"|$)" },
      declaration: {
        match: `^(${anyOf(TOP_WORDS)})${WORD_END}(?![ \\t]*:)(?:[ \\t]+(${WORD}))?(?:[ \\t]+(?!(?:${anyOf(RESERVED_WORDS)})${WORD_END})(${WORD}))?`,
        captures: { 1: { name: "keyword.control.declaration.tappet" }, 2: { name: "entity.name.type.tappet" }, 3: { name: "entity.name.type.tappet" } },
      },
      key: { match: `${WORD_START}(${WORD}(?:\\.${WORD})*)[ \\t]*(:)`, captures: { 1: { name: "variable.other.property.tappet" }, 2: { name: "punctuation.separator.key.tappet" } } },
      statement: { match: `(?:^|(?<=[{;]))[ \\t]*(${anyOf(STATEMENT_WORDS)})${WORD_END}`, captures: { 1: { name: "keyword.control.statement.tappet" } } },
      row: { match: "\\|", name: "punctuation.separator.cell.tappet" },
      value: {
        patterns: [
          { name: "constant.other.date.tappet", match: `\\d{4}-\\d\\d-\\d\\d${WORD_END}` },
          { name: "constant.other.fingerprint.tappet", match: `#[0-9a-fA-F]+${WORD_END}` },
          { name: "constant.other.thread.tappet", match: `${WORD_START}(?:M\\d+(?:\\.\\d+)?(?:[x×]\\d+(?:\\.\\d+)?)?|(?:\\d+-)?\\d+/\\d+-\\d+)${WORD_END}` },
          {
            match: `${WORD_START}(${NUMBER})[ \\t]*(${units})(?![\\p{L}\\p{N}_²³]|[-·/][\\p{L}])(?![ \\t]*:)`,
            captures: { 1: { name: "constant.numeric.tappet" }, 2: { name: "keyword.other.unit.tappet" } },
          },
          { match: `(\\()(${units})(?=[ \\t\\)])`, captures: { 2: { name: "keyword.other.unit.tappet" } } },
          { name: "constant.other.mark.tappet", match: `${WORD_START}\\d+\\p{L}(?:[\\p{L}\\p{N}_]|[-./](?=[\\p{L}\\p{N}]))*` },
          { name: "constant.numeric.tappet", match: `${WORD_START}(?:${NUMBER})` },
          { name: "keyword.operator.tappet", match: "±|\\+/-|\\+-|<=|>=|[<>≤≥]|\\.\\.(?!\\.)" },
          { name: "constant.language.hole.tappet", match: "…|\\.\\.\\." },
          { name: "keyword.other.reserved.tappet", match: `${WORD_START}(?:${anyOf(RESERVED_WORDS)})${WORD_END}` },
          { name: "punctuation.separator.tappet", match: "[,;]" },
        ],
      },
    },
  };
}

/** Brackets, comments and indentation for editors. */
export function languageConfiguration(): object {
  return {
    comments: { lineComment: "//", blockComment: ["/*", "*/"] },
    brackets: [["{", "}"], ["(", ")"]],
    autoClosingPairs: [
      { open: "{", close: "}" },
      { open: "(", close: ")", notIn: ["string", "comment"] },
      { open: "\"", close: "\"", notIn: ["string", "comment"] },
      { open: "/*", close: " */", notIn: ["string"] },
    ],
    surroundingPairs: [["{", "}"], ["(", ")"], ["\"", "\""]],
    colorizedBracketPairs: [["{", "}"], ["(", ")"]],
    // Without its flag the editor would know no word here, and suggest nothing while one is typed.
    wordPattern: { pattern: "(?:[\\p{L}](?:[\\p{L}\\p{N}_]|-(?=[\\p{L}\\p{N}]))*)|(?:\\d[\\p{L}\\p{N}_.]*)", flags: "u" },
    indentationRules: {
      increaseIndentPattern: "^(?!.*//).*\\{[^}]*$",
      decreaseIndentPattern: "^\\s*\\}",
    },
    onEnterRules: [
      { beforeText: "^\\s*///.*$", action: { indent: "none", appendText: "/// " } },
      { beforeText: "^\\s*\\|.*\\|\\s*$", action: { indent: "none", appendText: "| " } },
    ],
    folding: { markers: { start: "^\\s*//\\s*#?region\\b", end: "^\\s*//\\s*#?endregion\\b" } },
  };
}

/** The file's text for one of the two. */
export function printed(content: object): string {
  return `${JSON.stringify(content, null, 2)}\n`;
}
