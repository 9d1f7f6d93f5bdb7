// As much of papaparse as is used here. Its published types name Node and the DOM, which the floors below the doors compile without.
declare module "papaparse/papaparse.js" {
  interface Parsed {
    readonly data: readonly (readonly string[])[];
    readonly errors: readonly { readonly type: string; readonly code: string; readonly message: string; readonly row?: number }[];
    readonly meta: { readonly truncated: boolean };
  }
  /** Cuts text handed to it in pieces. `ignoreLastRow`: the last row may go on in the next piece; `meta.cursor` is where it begins. */
  interface RowParser {
    parse(text: string, base: number, ignoreLastRow: boolean): { readonly data: readonly (readonly string[])[]; readonly meta: { readonly cursor: number } };
  }
  interface Papa {
    readonly Parser: new (options: { readonly delimiter: string; readonly newline: string }) => RowParser;
    unparse(rows: readonly (readonly (string | number)[])[], options: { readonly newline: string; readonly escapeFormulae: boolean }): string;
    parse(text: string, options: { readonly delimiter: string; readonly header: false; readonly preview?: number; readonly skipEmptyLines?: false }): Parsed;
  }
  const papa: Papa;
  export default papa;
}
