/** Makes one tree of elements like another, touching only what differs, so that focus, scroll and what a reader opened stay. Knows no sheet. */

/** Attributes that belong to the reader's side: what was opened, and what is marked. */
const READERS_OWN = ["open", "aria-current"];

/** Makes the children of `now` like those of `next`. Children with the same `data-key` or `data-value` are the same, wherever they stand. */
export function morph(now: Element, next: Element): void {
  const have = new Map<string, Element>();
  for (const child of now.children) {
    const key = keyOf(child);
    if (key !== undefined && !have.has(key)) have.set(key, child);
  }
  // What has a key and is not wanted any more goes first: then nothing that stays has to be moved past it.
  const wanted = new Set([...next.children].map(keyOf));
  for (const [key, child] of have) {
    if (wanted.has(key)) continue;
    child.remove();
    have.delete(key);
  }
  let at: ChildNode | null = now.firstChild;
  for (const child of [...next.childNodes]) {
    const key = keyOf(child);
    const twin: ChildNode | undefined = key !== undefined ? have.get(key) : at && keyOf(at) === undefined && isSameKind(at, child) ? at : undefined;
    if (key !== undefined) have.delete(key);
    if (!twin || !isSameKind(twin, child) || isOtherPicture(twin, child)) {
      const fresh = document.importNode(child, true);
      if (twin) {
        if (twin === at) at = at.nextSibling;
        twin.replaceWith(fresh);
      } else now.insertBefore(fresh, at);
      continue;
    }
    if (twin === at) at = at.nextSibling;
    else now.insertBefore(twin, at);
    if (twin instanceof Element && child instanceof Element) {
      morphAttributes(twin, child);
      morph(twin, child);
    } else if (twin.nodeValue !== child.nodeValue) twin.nodeValue = child.nodeValue;
  }
  while (at) {
    const after: ChildNode | null = at.nextSibling;
    at.remove();
    at = after;
  }
}

function keyOf(node: ChildNode): string | undefined {
  return node instanceof Element ? (node.getAttribute("data-key") ?? node.getAttribute("data-value") ?? undefined) : undefined;
}

function isSameKind(a: ChildNode, b: ChildNode): boolean {
  return a.nodeType === b.nodeType && (!(a instanceof Element) || !(b instanceof Element) || a.tagName === b.tagName);
}

/** A drawing that differs is put in whole: its parts have no names to tell which became which. */
function isOtherPicture(a: ChildNode, b: ChildNode): boolean {
  return a instanceof SVGSVGElement && !a.isEqualNode(b);
}

function morphAttributes(now: Element, next: Element): void {
  for (const { name, value } of next.attributes) if (now.getAttribute(name) !== value) now.setAttribute(name, value);
  for (const { name } of [...now.attributes]) if (!next.hasAttribute(name) && !READERS_OWN.includes(name)) now.removeAttribute(name);
}
