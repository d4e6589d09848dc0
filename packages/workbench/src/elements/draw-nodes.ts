import type { PictureNode } from "@fuelwright/table-core";

/**
 * Makes the children of `parent` those of a picture: elements that are there are kept, and changed where they differ.
 *
 * For an `svg` that nothing else draws in, from `updated`.
 */
export function drawNodes(parent: Element, nodes: readonly PictureNode[]): void {
  let next = parent.firstElementChild;
  const drop = (gone: Element) => {
    next = gone.nextElementSibling;
    gone.remove();
  };
  for (const { tag, attributes, children, text } of nodes) {
    while (next && next.localName !== tag) drop(next);
    const element: Element = next ?? parent.appendChild(document.createElementNS("http://www.w3.org/2000/svg", tag));
    next = element.nextElementSibling;
    for (const name of element.getAttributeNames()) if (!(name in attributes)) element.removeAttribute(name);
    for (const name in attributes) {
      const value = String(attributes[name]);
      if (element.getAttribute(name) !== value) element.setAttribute(name, value);
    }
    if (tag !== "text") drawNodes(element, children);
    else if (element.textContent !== text) element.textContent = text;
  }
  while (next) drop(next);
}
