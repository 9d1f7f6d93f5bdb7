// The piece of papaparse that cuts text handed to it in pieces. Its published types name Node and the DOM, which the floors below the doors
// compile without.
declare module "papaparse/papaparse.js" {
  interface RowParser {
    /** `ignoreLastRow`: the last row may go on in the next piece; `meta.cursor` is where it begins. */
    parse(text: string, base: number, ignoreLastRow: boolean): { readonly data: readonly (readonly string[])[]; readonly meta: { readonly cursor: number } };
  }
  interface Papa {
    readonly Parser: new (options: { readonly delimiter: string; readonly newline: string }) => RowParser;
  }
  const papa: Papa;
  export default papa;
}
