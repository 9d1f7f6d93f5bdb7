// How many steps a pattern takes on a text, counted rather than timed: a matcher that backtracks as the language's own does, without its shortcuts.
// Knows nothing of what a pattern is for.

/** A pattern in parts. `takes` is asked of one character. */
type Node =
  | { readonly sort: "char"; readonly source: string; readonly takes: (c: string) => boolean }
  | { readonly sort: "edge"; readonly source: string }
  | { readonly sort: "seq" | "alt"; readonly items: readonly Node[] }
  | { readonly sort: "group"; readonly item: Node; readonly index: number | undefined }
  | { readonly sort: "repeat"; readonly item: Node; readonly min: number; readonly max: number; readonly lazy: boolean }
  | { readonly sort: "look"; readonly item: Node; readonly behind: boolean; readonly not: boolean }
  | { readonly sort: "same"; readonly index: number };

/** Takes a pattern apart. Throws at what it does not know, so that no pattern passes unread. */
export function partsOf({ source, flags }: RegExp): Node {
  let at = 0;
  let groups = 0;
  const own = flags.replace(/[gyd]/g, "");
  const char = (atom: string): Node => {
    const one = new RegExp(`^(?:${atom})$`, own.replace("m", ""));
    const known = new Map<string, boolean>();
    return {
      sort: "char", source: atom,
      takes(c) {
        let so = known.get(c);
        if (so === undefined) known.set(c, (so = one.test(c)));
        return so;
      },
    };
  };
  const alternatives = (): Node => {
    const items = [sequence()];
    while (source[at] === "|") {
      at++;
      items.push(sequence());
    }
    return items.length === 1 ? (items[0] as Node) : { sort: "alt", items };
  };
  const sequence = (): Node => {
    const items: Node[] = [];
    while (at < source.length && source[at] !== "|" && source[at] !== ")") items.push(repeated(atom()));
    return { sort: "seq", items };
  };
  const repeated = (item: Node): Node => {
    const found = /^(?:([*+?])|\{(\d+)(?:(,)(\d*))?\})(\??)/.exec(source.slice(at));
    if (!found) return item;
    at += found[0].length;
    const [, sign, low, comma, high, lazy] = found;
    const min = sign ? (sign === "+" ? 1 : 0) : Number(low);
    const max = sign ? (sign === "?" ? 1 : Infinity) : comma ? (high ? Number(high) : Infinity) : min;
    return { sort: "repeat", item, min, max, lazy: lazy === "?" };
  };
  const atom = (): Node => {
    const rest = source.slice(at);
    const open = /^\((?:\?(?:(:)|(<?)([=!])|<(\w+)>))?/.exec(rest);
    if (open) {
      at += open[0].length;
      const [, plain, behind, look] = open;
      const index = plain || look ? undefined : ++groups;
      const item = alternatives();
      if (source[at++] !== ")") throw new Error(`${source}: a group without an end`);
      return look ? { sort: "look", item, behind: behind === "<", not: look === "!" } : { sort: "group", item, index };
    }
    const edge = /^(?:[$^]|\\[bB])/.exec(rest);
    if (edge) {
      at += edge[0].length;
      return { sort: "edge", source: edge[0] };
    }
    const same = /^\\([1-9])/.exec(rest);
    if (same) {
      at += same[0].length;
      return { sort: "same", index: Number(same[1]) };
    }
    const one = /^(?:\[(?:\\.|[^\]\\])*\]|\\u\{[0-9a-fA-F]+\}|\\u[0-9a-fA-F]{4}|\\x[0-9a-fA-F]{2}|\\[pP]\{[^}]*\}|\\.|[^*+?{}()|[\]\\]|[{}\]])/su.exec(rest);
    if (!one) throw new Error(`${source}: not understood at ${rest}`);
    at += one[0].length;
    return char(one[0]);
  };
  const whole = alternatives();
  if (at < source.length) throw new Error(`${source}: not understood from ${source.slice(at)}`);
  return whole;
}

export class TooMany extends Error {}

/** What is still to be matched, in its order; a list of its own rather than calls within calls, as a long text would go deeper than the stack. */
type Todo = { readonly next: Todo | undefined } & (
  | { readonly sort: "part"; readonly part: Node; readonly back: boolean }
  | { readonly sort: "close"; readonly index: number | undefined; readonly from: number }
  | { readonly sort: "again"; readonly part: Extract<Node, { sort: "repeat" }>; readonly back: boolean; readonly count: number; readonly from: number }
);

/** Steps of a search that begins at every place until it finds something; past `most` it is given up. */
export function stepsOf(node: Node, pattern: RegExp, text: string, most: number): number {
  const all = pattern.flags.includes("u") ? [...text] : text.split("");
  let steps = 0;
  let groups: readonly (readonly [number, number] | undefined)[] = [];
  const holds = (edge: string, i: number): boolean => {
    if (edge === "^") return i === 0 || (pattern.multiline && all[i - 1] === "\n");
    if (edge === "$") return i === all.length || (pattern.multiline && all[i] === "\n");
    const word = (c: string | undefined) => c !== undefined && /\w/.test(c);
    return (word(all[i - 1]) !== word(all[i])) === (edge === "\\b");
  };
  const matches = (part: Node, start: number, backwards: boolean): boolean => {
    const choices: { readonly todo: Todo | undefined; readonly i: number; readonly groups: typeof groups }[] = [];
    let todo: Todo | undefined = { sort: "part", part, back: backwards, next: undefined };
    let i = start;
    const choose = (ways: readonly (Todo | undefined)[]): void => {
      for (const way of ways.slice(1).toReversed()) choices.push({ todo: way, i, groups });
      todo = ways[0];
    };
    while (todo !== undefined) {
      const now: Todo = todo;
      const next: Todo | undefined = now.next;
      todo = next;
      let holding = true;
      if (now.sort === "close") {
        if (now.index !== undefined) groups = Object.assign([...groups], { [now.index]: [Math.min(now.from, i), Math.max(now.from, i)] as const });
      } else if (now.sort === "again") {
        const { part: { item, min, max, lazy }, back, count, from } = now;
        // A round that took nothing is the last.
        if (count > min && i === from) holding = false;
        else {
          const again: Todo[] = count < max ? [{ sort: "part", part: item, back, next: { ...now, count: count + 1, from: i } }] : [];
          const enough = count >= min ? [next] : [];
          const ways = lazy ? [...enough, ...again] : [...again, ...enough];
          holding = ways.length > 0;
          if (holding) choose(ways);
        }
      } else {
        if (++steps > most) throw new TooMany();
        const { part: one, back } = now;
        switch (one.sort) {
          case "char": {
            const c = all[back ? i - 1 : i];
            holding = c !== undefined && one.takes(c);
            i += back ? -1 : 1;
            break;
          }
          case "edge":
            holding = holds(one.source, i);
            break;
          case "alt":
            choose(one.items.map((item): Todo => ({ sort: "part", part: item, back, next })));
            break;
          case "seq":
            todo = (back ? one.items : one.items.toReversed()).reduce((rest: Todo | undefined, item): Todo => ({ sort: "part", part: item, back, next: rest }), next);
            break;
          case "group":
            todo = { sort: "part", part: one.item, back, next: { sort: "close", index: one.index, from: i, next } };
            break;
          case "repeat":
            todo = { sort: "again", part: one, back, count: 0, from: -1, next };
            break;
          case "look":
            holding = matches(one.item, i, one.behind) !== one.not;
            break;
          case "same": {
            const [from, to] = groups[one.index] ?? [0, 0];
            const said = all.slice(from, to);
            const at = back ? i - said.length : i;
            holding = said.every((c, n) => all[at + n] === c);
            i = back ? at : i + said.length;
          }
        }
      }
      if (holding) continue;
      const other = choices.pop();
      if (other === undefined) return false;
      ({ todo, i, groups } = other);
    }
    return true;
  };
  // A sticky one looks at the one place where it is asked.
  const last = pattern.sticky ? 0 : all.length;
  for (let start = 0; start <= last; start++) if (matches(node, start, false)) break;
  return steps;
}

const CHARACTERS = [..." \t\n\r0179aefimnrtxzAEXZ_-.,;:!?/\\|'\"`()[]{}<>=+*%#&~^$@°é½µ\u00a0…±"];

/** Texts that a pattern may come to grief on: what each of its repeated parts takes, again and again, after what comes before it and before what fits nowhere. */
export function* pumped(node: Node, times: number): Generator<string> {
  const units = new Set<string>();
  const heads = new Set<string>([""]);
  const shortest = (part: Node): string => {
    switch (part.sort) {
      case "char": return CHARACTERS.find((c) => part.takes(c)) ?? (/\\u\{?([0-9a-fA-F]+)/.exec(part.source) ? String.fromCodePoint(parseInt(/\\u\{?([0-9a-fA-F]+)/.exec(part.source)?.[1] ?? "0", 16)) : part.source.slice(-1));
      case "seq": return part.items.map(shortest).join("");
      case "alt": return shortest(part.items[0] as Node);
      case "group": return shortest(part.item);
      case "repeat": return shortest(part.item).repeat(part.min);
      default: return "";
    }
  };
  const look = (part: Node, head: string): void => {
    switch (part.sort) {
      case "seq": {
        let before = head;
        for (const item of part.items) {
          look(item, before);
          before += shortest(item);
        }
        return;
      }
      case "alt": return part.items.forEach((item) => look(item, head));
      case "group": case "look": return look(part.item, head);
      case "repeat":
        heads.add(head);
        units.add(head).add(head + shortest(part.item));
        units.add(shortest(part.item.sort === "repeat" ? part.item.item : part.item));
        for (const c of CHARACTERS) if (takesFirst(part.item, c)) units.add(c);
        return look(part.item, head);
      default:
    }
  };
  look(node, "");
  units.delete("");
  for (const head of heads) for (const unit of units) for (const end of ["", "\u0000", "\n\u0000", unit === "a" ? " " : "a"]) yield head + unit.repeat(times) + end;
}

function takesFirst(part: Node, c: string): boolean {
  switch (part.sort) {
    case "char": return part.takes(c);
    case "seq": return part.items.length > 0 && takesFirst(part.items[0] as Node, c);
    case "alt": return part.items.some((item) => takesFirst(item, c));
    case "group": case "repeat": return takesFirst(part.item, c);
    default: return false;
  }
}

/** A text on which the steps grow faster than the text, where there is one among those tried: three lengths, each twice the one before it. */
export function worstOf(pattern: RegExp): { readonly text: string; readonly steps: readonly number[] } | undefined {
  const node = partsOf(pattern);
  const lengths = [24, 48, 96].map((times) => [...pumped(node, times)]);
  for (let i = 0; i < (lengths[0]?.length ?? 0); i++) {
    const steps = lengths.map((texts) => {
      try {
        return stepsOf(node, pattern, texts[i] as string, 300_000);
      } catch (error) {
        if (error instanceof TooMany) return Infinity;
        throw error;
      }
    });
    const [a = 0, b = 0, c = 0] = steps;
    // Twice the text takes twice the steps where each character costs the same, and four times where each costs as much as there are.
    if (c === Infinity || (c > 3 * b && b > 3 * a)) return { text: lengths[0]?.[i] ?? "", steps };
  }
  return undefined;
}
