// The little of js-quantities that the tests use; the package brings no types.
declare module "js-quantities" {
  export default class Qty {
    constructor(value: number | string, unit?: string);
    readonly scalar: number;
    toBase(): Qty;
    to(unit: string): Qty;
  }
}
