// As much of papaparse as is used here. Its published types name Node and the DOM, which the floors below the doors compile without.
declare module "papaparse/papaparse.js" {
  interface Parsed {
    readonly data: readonly (readonly string[])[];
    readonly errors: readonly { readonly type: string; readonly code: string; readonly message: string; readonly row?: number }[];
    readonly meta: { readonly truncated: boolean };
  }
  interface Papa {
    parse(text: string, options: { readonly delimiter: string; readonly header: false; readonly preview?: number; readonly skipEmptyLines?: false }): Parsed;
  }
  const papa: Papa;
  export default papa;
}
