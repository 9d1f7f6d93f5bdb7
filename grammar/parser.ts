// Turns the tokens of one declaration into its tree. Total: every token sequence parses, and what fits nowhere costs its own line only.
//
//   declaration = { End | item } .
//   block       = "{" { End | item } [ "}" | LayoutClose ] .                (* without either, the text has ended *)
//   item        = Doc | entry | row | phrase | "…" rest | Misfit { Rest } .
//   rest        = { Rest } .                                                (* what is left of a damaged line *)
//   entry       = Key ":" [ value ] { ( "," [ "then" ] | "then" ) [ value ] } rest [ block ] .    (* with a block: a phrase with a colon too many *)
//   phrase      = Word { part | "," } rest [ block ] .
//   value       = part { part } .
//   part        = Compare [ sum ] | "±" [ sum ] | ".." [ sum ] | sum [ ".." [ sum ] | "±" [ sum ] | Asym [ Unit ] ] .
//   sum         = operand { Operator [ operand ] } .                        (* a sign glued to its right side only begins a new part *)
//   operand     = atom | Sign { Sign } [ atom ] .
//   atom        = DigitRun [ Unit ] | Word | Text | MetricThread | Print | "…" | group .
//   group       = "(" { part | "," } [ ")" [ Unit ] ] .
//   row         = "|" { "|" | cell } .
//   cell        = { "-" | "(" [ Unit ] { Word } [ ")" ] | part | CellRest } .
//
// Optional where a builder must write something means that its absence is a problem in `messages`, not a failure to parse.
import { EmbeddedActionsParser } from "chevrotain";
import type { IToken } from "chevrotain";
import { declarationOf } from "./declaration.ts";
import { figureOf } from "./figure.ts";
import { DEPTH_LIMIT, layOut } from "./layout.ts";
import { lex } from "./lexer.ts";
import * as messages from "./messages.ts";
import { asymmetric, commentOf, docOf, grouped, over, range, spanOf, stringOf, textOf } from "./parts.ts";
import {
  Asym, blockCommentEnd, CellRest, Colon, Comma, Compare, DigitRun, Doc, End, endOf, Hole, Key, LayoutClose, LeftBrace, LeftParen, MetricThread, Minus, Misfit, Operator, Pipe,
  Plus, PlusMinus, Print, Rest, RightBrace, RightParen, Sign, Slash, Star, StrayBrace, Text as TextToken, Then, To, TOKENS, Unit, Word,
} from "./tokens.ts";
import type { Block, Cell, Comparison, DeclarationTree, Entry, Figure, Item, Part, Phrase, Row, Span, SyntaxProblem, Text, UnitRef, Value } from "./tree.ts";
import { RESERVED_WORDS, STATEMENT_WORDS } from "./vocabulary.ts";

const NOT_FIRST: ReadonlySet<string> = new Set(RESERVED_WORDS.filter((word) => !(STATEMENT_WORDS as readonly string[]).includes(word)));
const COMPARISONS: Readonly<Record<string, Comparison>> = { "≤": "<=", "≥": ">=", "<=": "<=", ">=": ">=", "<": "<", ">": ">" };

class DeclarationParser extends EmbeddedActionsParser {
  text = "";
  problems: SyntaxProblem[] = [];
  /** Doc lines that document nothing: comments after all. */
  looseDocs: IToken[] = [];
  /** Doc lines read and not yet given to an item. */
  private docs: IToken[] = [];

  constructor(validate: boolean) {
    super([...TOKENS], { maxLookahead: 1, recoveryEnabled: false, nodeLocationTracking: "none", skipValidations: !validate });
    this.performSelfAnalysis();
  }

  override reset(): void {
    super.reset();
    this.docs = [];
  }

  readonly declaration = this.RULE("declaration", (): Item[] => {
    const items: Item[] = [];
    this.MANY(() => {
      this.OR([
        { ALT: () => { this.CONSUME(End); } },
        { ALT: () => { this.SUBRULE(this.item, { ARGS: [items] }); } },
      ]);
    });
    this.ACTION(() => this.dropDocs());
    return items;
  });

  private readonly block = this.RULE("block", (opener: string): Block => {
    const items: Item[] = [];
    const left = this.CONSUME(LeftBrace);
    this.ACTION(() => this.dropDocs());
    let closed = false;
    let end = endOf(left);
    this.MANY(() => {
      this.OR([
        { ALT: () => { this.CONSUME(End); } },
        { ALT: () => { this.SUBRULE(this.item, { ARGS: [items] }); } },
      ]);
    });
    this.ACTION(() => {
      this.dropDocs();
      end = Math.max(end, endOf(this.LA(0)));
    });
    this.OPTION(() => this.OR1([
      { ALT: () => { end = endOf(this.CONSUME(RightBrace)); closed = true; } },
      { ALT: () => { end = this.CONSUME(LayoutClose).startOffset; } },
    ]));
    this.ACTION(() => {
      if (!closed) this.problems.push(messages.unclosedBlock(opener, spanOf(left)));
    });
    return { items, closed, span: { start: left.startOffset, end: Math.max(end, endOf(left)) } };
  });

  private readonly item = this.RULE("item", (items: Item[]): void => {
    this.OR([
      { ALT: () => { const doc = this.CONSUME(Doc); this.ACTION(() => this.docs.push(doc)); } },
      { ALT: () => { const junk: Item[] = []; const entry = this.SUBRULE(this.entry, { ARGS: [junk] }); this.ACTION(() => items.push(entry, ...junk)); } },
      { ALT: () => { const row = this.SUBRULE(this.row); this.ACTION(() => items.push(row)); } },
      { ALT: () => { const junk: Item[] = []; const phrase = this.SUBRULE(this.phrase, { ARGS: [junk] }); this.ACTION(() => items.push(phrase, ...junk)); } },
      { ALT: () => {
        const hole = this.CONSUME(Hole);
        this.ACTION(() => { this.dropDocs(); items.push({ kind: "hole", span: spanOf(hole) }); });
        this.SUBRULE1(this.rest, { ARGS: ["row", items] });
      } },
      { ALT: () => {
        const first = this.CONSUME(Misfit);
        let last = first;
        this.MANY(() => { last = this.CONSUME(Rest); });
        this.ACTION(() => {
          this.dropDocs();
          const span = { start: first.startOffset, end: endOf(last) };
          this.problems.push(this.misfit(first, span));
          items.push({ kind: "junk", span });
        });
      } },
    ]);
  });

  /** Skips what is left of a damaged line; it becomes a junk item of its own. */
  private readonly rest = this.RULE("rest", (where: "value" | "head" | "row", items: Item[]): void => {
    let first: IToken | undefined;
    let last: IToken | undefined;
    this.MANY(() => {
      const token = this.CONSUME(Rest);
      first ??= token;
      last = token;
    });
    this.ACTION(() => {
      if (first === undefined || last === undefined) return;
      const span = { start: first.startOffset, end: endOf(last) };
      this.problems.push(this.leftOver(first, span, where));
      items.push({ kind: "junk", span });
    });
  });

  private readonly entry = this.RULE("entry", (junk: Item[]): Entry | Phrase => {
    const docs = this.ACTION(() => this.takeDocs());
    const key = this.CONSUME(Key);
    const colon = this.CONSUME(Colon);
    const values: Value[] = [];
    this.OPTION(() => { const value = this.SUBRULE(this.value, { ARGS: [false] }); this.ACTION(() => values.push(value)); });
    this.MANY(() => {
      let then = false;
      const mark = this.OR([
        { ALT: () => {
          const comma = this.CONSUME(Comma);
          let last = comma;
          this.OPTION1(() => { last = this.CONSUME(Then); then = true; });
          return last;
        } },
        { ALT: () => { then = true; return this.CONSUME1(Then); } },
      ]);
      let found = false;
      this.OPTION2(() => {
        const value = this.SUBRULE1(this.value, { ARGS: [then] });
        found = true;
        this.ACTION(() => values.push(value));
      });
      this.ACTION(() => { if (!found) this.problems.push(messages.missingAfter(mark.image, spanOf(mark))); });
    });
    let end = 0;
    this.ACTION(() => { end = endOf(this.LA(0)); });
    this.SUBRULE(this.rest, { ARGS: ["value", junk] });
    let block: Block | undefined;
    this.OPTION3(() => { block = this.SUBRULE(this.block, { ARGS: [key.image] }); });
    return this.ACTION((): Entry | Phrase => {
      if (block === undefined) return { kind: "entry", docs, key: textOf(key), values, span: { start: key.startOffset, end } };
      this.problems.push(messages.colonBeforeBlock(key.image, spanOf(colon)));
      return { kind: "phrase", docs, word: textOf(key), head: values.flatMap((value) => value.parts), block, span: { start: key.startOffset, end: block.span.end } };
    });
  });

  private readonly phrase = this.RULE("phrase", (junk: Item[]): Phrase => {
    const docs = this.ACTION(() => this.takeDocs());
    const word = this.CONSUME(Word);
    const head: Part[] = [];
    this.MANY(() => this.OR([
      { ALT: () => { const part = this.plainPart() ?? this.SUBRULE(this.part); this.ACTION(() => head.push(part)); } },
      { ALT: () => { this.CONSUME(Comma); } },
    ]));
    let end = 0;
    this.ACTION(() => { end = endOf(this.LA(0)); });
    this.SUBRULE(this.rest, { ARGS: ["head", junk] });
    let block: Block | undefined;
    this.OPTION(() => {
      const opener = this.ACTION(() => this.text.slice(word.startOffset, end));
      block = this.SUBRULE(this.block, { ARGS: [opener] });
    });
    return this.ACTION((): Phrase => {
      if (NOT_FIRST.has(word.image)) this.problems.push(messages.reservedStart(word.image, spanOf(word)));
      const phrase = { kind: "phrase" as const, docs, word: textOf(word), head, span: { start: word.startOffset, end: block?.span.end ?? end } };
      return block === undefined ? phrase : { ...phrase, block };
    });
  });

  private readonly value = this.RULE("value", (then: boolean): Value => {
    const parts: Part[] = [];
    this.AT_LEAST_ONE(() => { const part = this.plainPart() ?? this.SUBRULE(this.part); this.ACTION(() => parts.push(part)); });
    return this.ACTION(() => {
      for (let i = 1; i < parts.length; i++) this.separate(parts[i - 1] as Part, parts[i] as Part);
      return { parts, then, span: over(parts[0] as Part, parts[parts.length - 1] as Part) };
    });
  });

  private readonly part = this.RULE("part", (): Part => this.OR([
    { ALT: (): Part => {
      const token = this.CONSUME(Compare);
      let operand: Part | undefined;
      this.OPTION(() => { operand = this.SUBRULE(this.sum); });
      return this.ACTION((): Part => {
        const op = COMPARISONS[token.image] ?? "<=";
        if (operand === undefined) {
          this.problems.push(messages.missingBound(op, spanOf(token)));
          return { kind: "compare", op, operand: { kind: "hole", span: { start: endOf(token), end: endOf(token) } }, span: spanOf(token) };
        }
        return { kind: "compare", op, operand, span: { start: token.startOffset, end: operand.span.end } };
      });
    } },
    { ALT: (): Part => {
      const token = this.CONSUME(PlusMinus);
      let by: Part | undefined;
      this.OPTION1(() => { by = this.SUBRULE1(this.sum); });
      return this.ACTION(() => this.tolerance(undefined, token, by));
    } },
    { ALT: (): Part => {
      const token = this.CONSUME(To);
      let high: Part | undefined;
      this.OPTION2(() => { high = this.SUBRULE2(this.sum); });
      return this.ACTION(() => range(undefined, token, high));
    } },
    { ALT: (): Part => {
      const centre = this.SUBRULE3(this.sum);
      let part = centre;
      this.OPTION3(() => {
        part = this.OR1([
          { ALT: (): Part => {
            const token = this.CONSUME1(To);
            let high: Part | undefined;
            this.OPTION4(() => { high = this.SUBRULE4(this.sum); });
            return this.ACTION(() => range(centre, token, high));
          } },
          { ALT: (): Part => {
            const token = this.CONSUME1(PlusMinus);
            let by: Part | undefined;
            this.OPTION5(() => { by = this.SUBRULE5(this.sum); });
            return this.ACTION(() => this.tolerance(centre, token, by));
          } },
          { ALT: (): Part => {
            const token = this.CONSUME(Asym);
            let unit: UnitRef | undefined;
            this.OPTION6(() => { const found = this.CONSUME(Unit); unit = textOf(found); });
            return this.ACTION(() => asymmetric(centre, token, unit));
          } },
        ]);
      });
      return part;
    } },
  ]));

  /** Sums and products in one flat rule; precedence is settled afterwards. */
  private readonly sum = this.RULE("sum", (): Part => {
    const first = this.SUBRULE(this.operand);
    let operators: IToken[] | undefined;
    let operands: Part[] | undefined;
    this.MANY({
      GATE: () => (operators?.length ?? 0) < DEPTH_LIMIT && this.isBinary(this.LA(1)),
      DEF: () => {
        const operator = this.CONSUME(Operator);
        let operand: Part | undefined;
        this.OPTION(() => { operand = this.SUBRULE1(this.operand); });
        this.ACTION(() => {
          if (operand === undefined) {
            this.problems.push(messages.missingAfter(operator.image, spanOf(operator)));
            operand = { kind: "hole", span: { start: endOf(operator), end: endOf(operator) } };
          }
          (operators ??= []).push(operator);
          (operands ??= [first]).push(operand);
        });
      },
    });
    return this.ACTION(() => {
      if (operators === undefined || operands === undefined) return first;
      const next = this.LA(1);
      if (operators.length === DEPTH_LIMIT && (next.tokenType.CATEGORIES ?? []).includes(Operator)) this.problems.push(messages.tooLong(DEPTH_LIMIT, spanOf(next)));
      return grouped(operands, operators);
    });
  });

  private readonly operand = this.RULE("operand", (): Part => {
    let signs: IToken[] | undefined;
    let part: Part | undefined;
    this.OR([
      { ALT: () => { part = this.SUBRULE(this.atom); } },
      { ALT: () => {
        this.AT_LEAST_ONE(() => { const sign = this.CONSUME(Sign); this.ACTION(() => (signs ??= []).push(sign)); });
        this.OPTION(() => { part = this.SUBRULE1(this.atom); });
      } },
    ]);
    return this.ACTION((): Part => {
      if (signs === undefined) return part as Part;
      const nearest = signs[signs.length - 1] as IToken;
      let operand: Part = part ?? { kind: "hole", span: { start: endOf(nearest), end: endOf(nearest) } };
      if (part === undefined) this.problems.push(messages.missingAfter(nearest.image, spanOf(nearest)));
      // Signs beyond the first say nothing more than it does; a long run of them stays flat.
      const sign = signs.filter((token) => token.tokenType === Minus).length % 2 === 1 ? "-" : "+";
      operand = { kind: "signed", sign, operand, span: { start: (signs[0] as IToken).startOffset, end: operand.span.end } };
      return operand;
    });
  });

  private readonly atom = this.RULE("atom", (): Part => this.OR([
    { ALT: (): Part => {
      const token = this.CONSUME(DigitRun);
      let unit: UnitRef | undefined;
      this.OPTION(() => { const found = this.CONSUME(Unit); unit = textOf(found); });
      return this.ACTION(() => this.digitRun(token, unit));
    } },
    { ALT: (): Part => { const token = this.CONSUME(Word); return { kind: "word", text: token.image, span: spanOf(token) }; } },
    { ALT: (): Part => { const token = this.CONSUME(TextToken); return this.ACTION(() => this.string(token)); } },
    { ALT: (): Part => { const token = this.CONSUME(MetricThread); return { kind: "thread", text: token.image, span: spanOf(token) }; } },
    { ALT: (): Part => { const token = this.CONSUME(Print); return { kind: "print", text: token.image, span: spanOf(token) }; } },
    { ALT: (): Part => {
      // A figure that is still to come may have its unit already.
      const token = this.CONSUME(Hole);
      let end = endOf(token);
      this.OPTION1(() => { end = endOf(this.CONSUME1(Unit)); });
      return { kind: "hole", span: { start: token.startOffset, end } };
    } },
    { ALT: (): Part => this.SUBRULE(this.group) },
  ]));

  private readonly group = this.RULE("group", (): Part => {
    const left = this.CONSUME(LeftParen);
    const inner: Part[] = [];
    this.MANY(() => this.OR([
      { ALT: () => { const part = this.SUBRULE(this.part); this.ACTION(() => inner.push(part)); } },
      { ALT: () => { this.CONSUME(Comma); } },
    ]));
    let end = 0;
    let closed = false;
    let unit: UnitRef | undefined;
    this.ACTION(() => { end = endOf(this.LA(0)); });
    this.OPTION(() => {
      end = endOf(this.CONSUME(RightParen));
      closed = true;
      this.OPTION1(() => { const found = this.CONSUME(Unit); unit = textOf(found); end = endOf(found); });
    });
    return this.ACTION((): Part => {
      if (!closed) this.problems.push(messages.unclosedParen(spanOf(left)));
      const group = { kind: "group" as const, inner, span: { start: left.startOffset, end } };
      return unit === undefined ? group : { ...group, unit };
    });
  });

  private readonly row = this.RULE("row", (): Row => {
    const cells: Cell[] = [];
    const first = this.CONSUME(Pipe);
    let end = endOf(first);
    let filled = false;
    this.ACTION(() => this.dropDocs());
    this.MANY(() => this.OR([
      { ALT: () => {
        const pipe = this.CONSUME1(Pipe);
        this.ACTION(() => {
          if (!filled) cells.push({ parts: [], words: [], none: false, span: { start: end, end: pipe.startOffset } });
          filled = false;
          end = endOf(pipe);
        });
      } },
      { ALT: () => {
        const cell = this.SUBRULE(this.cell);
        this.ACTION(() => { cells.push(cell); filled = true; end = cell.span.end; });
      } },
    ]));
    return { kind: "row", cells, span: { start: first.startOffset, end } };
  });

  private readonly cell = this.RULE("cell", (): Cell => {
    const parts: Part[] = [];
    const words: Text[] = [];
    let unit: UnitRef | undefined;
    let none: IToken | undefined;
    const start = this.ACTION(() => this.LA(1).startOffset);
    this.AT_LEAST_ONE(() => this.OR([
      { GATE: () => this.isLoneDash(), ALT: () => { none = this.CONSUME(Minus); }, IGNORE_AMBIGUITIES: true },
      { GATE: () => this.isNote(), IGNORE_AMBIGUITIES: true, ALT: () => {
        const left = this.CONSUME(LeftParen);
        this.OPTION(() => { const found = this.CONSUME(Unit); unit = textOf(found); });
        this.MANY(() => { const word = this.CONSUME(Word); this.ACTION(() => words.push(textOf(word))); });
        let closed = false;
        this.OPTION1(() => { this.CONSUME(RightParen); closed = true; });
        this.ACTION(() => { if (!closed) this.problems.push(messages.unclosedParen(spanOf(left))); });
      } },
      { IGNORE_AMBIGUITIES: true, ALT: () => { const part = this.plainPart() ?? this.SUBRULE(this.part); this.ACTION(() => parts.push(part)); } },
      { IGNORE_AMBIGUITIES: true, ALT: () => {
        const from = this.CONSUME(CellRest);
        let to = from;
        this.MANY1({ GATE: () => !this.startsPart(this.LA(1)), DEF: () => { to = this.CONSUME1(CellRest); } });
        this.ACTION(() => {
          const span = { start: from.startOffset, end: endOf(to) };
          this.problems.push(this.leftOver(from, span, "cell"));
        });
      } },
    ]));
    return this.ACTION((): Cell => {
      const cell = { parts, words, none: none !== undefined && parts.length === 0, span: { start, end: endOf(this.LA(0)) } };
      return unit === undefined ? cell : { ...cell, unit };
    });
  });

  // --- what the rules above need to know -----------------------------------------------------------------------------

  /**
   * The part that stands alone at the caret of the parser: a word, text, date or figure with no sign after it. Most parts are
   * such, and taking them here instead of through four rules halves the time of reading.
   */
  private plainPart(): Part | undefined {
    if (this.RECORDING_PHASE) return undefined;
    const token = this.LA(1);
    const type = token.tokenType;
    if (type === DigitRun) {
      const second = this.LA(2);
      const unit = second.tokenType === Unit ? second : undefined;
      if (leadsOn(unit === undefined ? second : this.LA(3))) return undefined;
      this.SKIP_TOKEN();
      if (unit !== undefined) this.SKIP_TOKEN();
      return this.digitRun(token, unit === undefined ? undefined : textOf(unit));
    }
    if (type === Hole) {
      const second = this.LA(2);
      const unit = second.tokenType === Unit ? second : undefined;
      if (leadsOn(unit === undefined ? second : this.LA(3))) return undefined;
      this.SKIP_TOKEN();
      if (unit !== undefined) this.SKIP_TOKEN();
      return { kind: "hole", span: { start: token.startOffset, end: endOf(unit ?? token) } };
    }
    if ((type !== Word && type !== TextToken) || leadsOn(this.LA(2))) return undefined;
    this.SKIP_TOKEN();
    return type === Word ? { kind: "word", text: token.image, span: spanOf(token) } : this.string(token);
  }

  /** A plus or minus is binary when it is set apart, or glued, on both sides; `3 -2` are two figures. */
  private isBinary(token: IToken): boolean {
    if (token.tokenType !== Minus && token.tokenType !== Plus) return true;
    return isBlank(this.text, token.startOffset - 1) === isBlank(this.text, endOf(token));
  }

  private isLoneDash(): boolean {
    if (this.LA(1).tokenType !== Minus || this.LA(0).tokenType !== Pipe) return false;
    const next = this.LA(2).tokenType;
    return next === Pipe || next === RightBrace || next === LayoutClose || (next.CATEGORIES ?? []).includes(End) || next.name === "EOF";
  }

  private isNote(): boolean {
    if (this.LA(1).tokenType !== LeftParen) return false;
    const next = this.LA(2).tokenType;
    return next === Unit || next === Word || next === RightParen;
  }

  private startsPart(token: IToken): boolean {
    const type = token.tokenType;
    return type === DigitRun || type === Word || type === TextToken || type === Hole || type === LeftParen || type === MetricThread || type === Print;
  }

  private takeDocs(): Text[] {
    if (this.docs.length === 0) return NO_DOCS;
    const docs = this.docs.map(docOf);
    this.docs = [];
    return docs;
  }

  private dropDocs(): void {
    if (this.docs.length === 0) return;
    for (const one of this.docs) this.looseDocs.push(one);
    this.docs = [];
  }

  private misfit(first: IToken, span: Span): SyntaxProblem {
    if (first.tokenType === StrayBrace) return first.image === "{" ? messages.strayOpen(spanOf(first)) : messages.strayClose(spanOf(first));
    if (first.tokenType === Then) return messages.reservedStart("then", spanOf(first));
    if (first.tokenType === Colon) return messages.keyWithoutColon(spanOf(first));
    return messages.doesNotFit(this.text.slice(span.start, span.end), span);
  }

  private leftOver(first: IToken, span: Span, where: "value" | "head" | "cell" | "row"): SyntaxProblem {
    if (first.tokenType === StrayBrace) return first.image === "{" ? messages.strayOpen(spanOf(first)) : messages.strayClose(spanOf(first));
    return messages.restDoesNotFit(this.text.slice(span.start, span.end), span, where);
  }

  /** Two figures with nothing between them, such as 12.5.3, are a slip of the fingers. */
  private separate(left: Part, right: Part): void {
    if (left.kind === "figure" && right.kind === "figure" && left.span.end === right.span.start) this.problems.push(messages.gluedFigures(over(left, right)));
  }

  private string(token: IToken): Part {
    const part = stringOf(token);
    if (part.kind === "string" && !part.closed) this.problems.push(messages.unclosedString(part.span, part.span.end));
    return part;
  }

  private digitRun(token: IToken, unit: UnitRef | undefined): Part {
    const span = spanOf(token);
    switch (token.payload as string) {
      case "date": return { kind: "date", text: token.image, span };
      case "thread": return { kind: "thread", text: token.image, span };
      case "mark": return { kind: "mark", text: token.image, span };
      default: return figureOf(token.image, span, token.payload as Figure["form"], unit, this.problems);
    }
  }

  private tolerance(centre: Part | undefined, sign: IToken, by: Part | undefined): Part {
    const end = endOf(sign);
    if (by === undefined) this.problems.push(messages.missingAfter(sign.image, spanOf(sign)));
    const half: Part = by ?? { kind: "hole", span: { start: end, end } };
    const tolerance = { kind: "tolerance" as const, plus: half, minus: half, span: { start: centre?.span.start ?? sign.startOffset, end: half.span.end } };
    return centre === undefined ? tolerance : { ...tolerance, centre };
  }
}

const NO_DOCS: Text[] = [];

/** Whether a token may carry on the part before it. */
function leadsOn(token: IToken): boolean {
  const type = token.tokenType;
  return type === To || type === PlusMinus || type === Asym || type === Minus || type === Plus || type === Star || type === Slash;
}

function isBlank(text: string, offset: number): boolean {
  const code = text.charCodeAt(offset);
  return offset < 0 || offset >= text.length || code === 32 || code === 9 || code === 10 || code === 13 || code === 0xa0;
}

let parser: DeclarationParser | undefined;

/** The names of the grammar's rules, for the test that compares them with the grammar as stated above. */
export function ruleNames(): string[] {
  return Object.keys((parser ??= new DeclarationParser(false)).getGAstProductions());
}

/** What the parser toolkit finds wrong with the grammar itself; empty when it is sound. Left out of every start for its cost; a test runs it. */
export function grammarErrors(): string[] {
  try {
    return new DeclarationParser(true).declaration === undefined ? ["no rules"] : [];
  } catch (error) {
    return [String(error)];
  }
}

function contentSpan(text: string): Span {
  const start = text.length - text.trimStart().length;
  return { start, end: Math.max(start, text.trimEnd().length) };
}

/** Longer than anything that stands in a build file: what is, is damage, and would be answered in its thousands. In code units. */
export const LONGEST_DECLARATION = 256 * 1024;

/** A tree for text that is not read: kept as it is, with one problem on its first line. */
export function unreadDeclaration(text: string, problemAt: (span: Span) => SyntaxProblem): DeclarationTree {
  const span = contentSpan(text);
  const first = text.slice(span.start, span.end).search(/[\r\n]/);
  return { text, stray: [{ kind: "junk", span }], comments: [], problems: [problemAt({ start: span.start, end: first < 0 ? span.end : span.start + first })] };
}

/** The tree of one declaration's text. Never throws: an unexpected failure becomes one problem and one junk item. */
export function parseDeclaration(text: string): DeclarationTree {
  if (text.length > LONGEST_DECLARATION) return unreadDeclaration(text, (span) => messages.longDeclaration(LONGEST_DECLARATION, span));
  const lexed = lex(text);
  const laidOut = layOut(text, lexed.tokens);
  parser ??= new DeclarationParser(false);
  const problems = [...laidOut.problems];
  parser.text = text;
  parser.problems = problems;
  parser.looseDocs = [];
  let items: Item[];
  try {
    parser.input = laidOut.tokens;
    items = parser.declaration();
    if (parser.errors.length > 0) throw parser.errors[0];
  } catch {
    const span = contentSpan(text);
    return { text, stray: [{ kind: "junk", span }], comments: lexed.comments.map(commentOf), problems: [messages.unreadable(span)] };
  }
  for (const token of lexed.comments) {
    if (token.image.startsWith("/*") && !blockCommentEnd(token.image, 0).closed) problems.push(messages.unclosedComment(spanOf(token)));
  }
  const comments = [...lexed.comments, ...laidOut.comments, ...parser.looseDocs].sort((a, b) => a.startOffset - b.startOffset).map(commentOf);
  return declarationOf(text, items, comments, problems);
}

