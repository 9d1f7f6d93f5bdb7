// What a piece of work looks at while it is done, so that after an edit it is done again only where one of those things has changed. Whatever
// holds what may be looked at says so here; nobody lists by hand what he needs. Knows names of things, not what they are.

/** One name, with the last comparison that found what it stands for changed. */
interface Name {
  changed: number;
}

/** Names come from files without end (fasteners have any); past so many the table begins anew, and what was gathered before counts as changed. */
const MOST_NAMES = 20_000;

let names = new Map<string, Name>();
/** Counts comparisons; a name or a set of reads that bears the number was looked at in that one. */
let comparison = 0;
const nothing: readonly never[] = [];

function nameOf(text: string): Name {
  let name = names.get(text);
  if (name === undefined) {
    if (names.size >= MOST_NAMES) names = new Map();
    names.set(text, (name = { changed: 0 }));
  }
  return name;
}

/** What a comparison of two states found changed. */
export class Changes {
  readonly number = ++comparison;

  constructor(changed: Iterable<string>) {
    for (const text of changed) nameOf(text).changed = this.number;
  }
}

/** What was looked at: by itself, and through results that had been worked out before. */
export class Reads {
  readonly #table = names;
  #names: Name[] | readonly never[] = nothing;
  #through: Reads[] | readonly never[] = nothing;
  #unwatched = false;
  #compared = 0;
  #touched = false;

  look(text: string): void {
    const name = nameOf(text);
    const last = this.#names.length - 1;
    if (last < 0) this.#names = [name];
    // The same list is looked at again and again in one stretch.
    else if (this.#names[last] !== name) (this.#names as Name[]).push(name);
  }

  add(other: Reads): void {
    if (this.#through.length === 0) this.#through = [other];
    else (this.#through as Reads[]).push(other);
  }

  /** Takes in something that nobody watched: it is never known to be unchanged. */
  addUnwatched(): void {
    this.#unwatched = true;
  }

  /** True where any of it changed. Only for the newest comparison. */
  touches(changes: Changes): boolean {
    if (this.#compared !== changes.number) {
      this.#compared = changes.number;
      this.#touched = this.#isTouched(changes);
    }
    return this.#touched;
  }

  #isTouched(changes: Changes): boolean {
    if (this.#unwatched || this.#table !== names) return true;
    for (let i = 0; i < this.#names.length; i++) if ((this.#names[i] as Name).changed === changes.number) return true;
    for (let i = 0; i < this.#through.length; i++) if ((this.#through[i] as Reads).touches(changes)) return true;
    return false;
  }
}

let open: Reads | undefined;

/** Says to whoever is watched that something was looked at. */
export function looked(at: string): void {
  if (open !== undefined) open.look(at);
}

/** Says to whoever is watched that something was taken that had been worked out before. */
export function lookedThrough(reads: Reads): void {
  open?.add(reads);
}

/** Does a piece of work and tells what it looked at; whoever is watched meanwhile has looked at it too. */
export function watched<T>(work: () => T): { readonly result: T; readonly reads: Reads } {
  const around = open;
  const reads = new Reads();
  open = reads;
  try {
    return { result: work(), reads };
  } finally {
    open = around;
    around?.add(reads);
  }
}

/** Changes with every edit. */
export const WHOLE_TEXT = "text";

/** A declaration's tree, for whom more of it is to be looked at than the text of one fact. */
export function whole<T extends { readonly text: string }>(tree: T): T {
  looked(WHOLE_TEXT);
  return tree;
}

/** A result, and what it looked at where that was gathered. */
export interface Kept<V> {
  readonly value: V;
  readonly reads: Reads | undefined;
}

/** Work that is done once for each name. */
export interface KeptBy<K, V> {
  (key: K): V;
  /** What was done by now; whoever asks has looked at nothing. */
  known(key: K): Kept<V> | undefined;
}

/** Where nobody is watched, what a result looks at is not gathered: that costs more than the work itself. */
function keep<V>(work: () => V, always: boolean): Kept<V> {
  if (open === undefined && !always) return { value: work(), reads: undefined };
  const { result, reads } = watched(work);
  return { value: result, reads };
}

/** Says to whoever is watched that something was taken that rests on these reads, or that nobody watched. */
function take(reads: Reads | undefined): void {
  if (reads === undefined) open?.addUnwatched();
  else open?.add(reads);
}

/** Work that is done once for each thing, and for as long as that thing lives; who takes its result has looked at all that it rests on. */
export function keptFor<K extends object, V>(work: (key: K) => V): (key: K) => V {
  const known = new WeakMap<K, Kept<V>>();
  return (key) => {
    const before = known.get(key);
    if (before !== undefined) {
      take(before.reads);
      return before.value;
    }
    const kept = keep(() => work(key), true);
    known.set(key, kept);
    return kept.value;
  };
}

/** The same by name, and for as long as somebody holds the function. `earlier` may have a result that need not be worked out again. */
export function keptBy<K extends string, V>(work: (key: K) => V, earlier?: (key: K) => Kept<V> | undefined): KeptBy<K, V> {
  const values = new Map<K, V>();
  // Apart, as of most builds nothing is watched.
  const reads = new Map<K, Reads>();
  const get = (key: K): V => {
    const known = values.get(key);
    if (known !== undefined || values.has(key)) {
      if (open !== undefined) take(reads.get(key));
      return known as V;
    }
    const before = earlier?.(key);
    const kept = before ?? keep(() => work(key), false);
    values.set(key, kept.value);
    if (kept.reads !== undefined) reads.set(key, kept.reads);
    if (before !== undefined) take(before.reads);
    return kept.value;
  };
  return Object.assign(get, { known: (key: K) => (values.has(key) ? { value: values.get(key) as V, reads: reads.get(key) } : undefined) });
}

/** The same for work that is done once. */
export function keptOnce<V>(work: () => V): () => V {
  let known: Kept<V> | undefined;
  return () => {
    if (known !== undefined) take(known.reads);
    else known = keep(work, false);
    return known.value;
  };
}
