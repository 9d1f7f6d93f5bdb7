// Which declaration took which one's place in its file, for those that were judged and have been edited since. Knows nothing of either.
import type { Declaration } from "../model/declaration.ts";

const judged = new WeakSet<Declaration>();
/** Only ever one step back: a state that nobody judged is passed over, and one that was judged is let go once its successor is. */
const earlier = new WeakMap<Declaration, Declaration>();

/** Notes that a declaration has taken another's place. */
export function succeeds(next: Declaration, before: Declaration): void {
  const last = judged.has(before) ? before : earlier.get(before);
  if (last) earlier.set(next, last);
}

/** The state of a declaration that was judged before it was edited; asked for once, when it is judged itself. */
export function judgedBefore(declaration: Declaration): Declaration | undefined {
  const before = earlier.get(declaration);
  earlier.delete(declaration);
  judged.add(declaration);
  return before;
}
