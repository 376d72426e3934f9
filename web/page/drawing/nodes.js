// Elements that are kept and changed, never thrown away and built again: a drag repaints sixty times a second.

const SVG = 'http://www.w3.org/2000/svg';

/** @returns {SVGElement} */
export function svgElement(tag, attributes = {}) {
  const node = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  return node;
}

/** An HTML element with a class and, if given, text; text is never read as markup. */
export function element(tag, className = '', text = '') {
  const node = document.createElement(tag);
  if (className) node.className = className;
  if (text) node.textContent = text;
  return node;
}

/** Sets text only where it changes. */
export function setText(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/**
 * A group whose children are kept by key.
 * `paint(items)` takes `{ key, tag, text?, ...attributes }`; what is not named again is removed.
 * @param {Element} group
 */
export function keyed(group) {
  const kept = new Map();
  let turn = 0;
  return {
    paint(items) {
      turn += 1;
      for (const item of items) {
        let entry = kept.get(item.key);
        if (!entry || entry.tag !== item.tag) {
          entry?.node.remove();
          entry = { tag: item.tag, node: svgElement(item.tag), values: {}, turn };
          group.append(entry.node);
          kept.set(item.key, entry);
        }
        entry.turn = turn;
        change(entry, item);
      }
      for (const [key, entry] of kept) {
        if (entry.turn === turn) continue;
        entry.node.remove();
        kept.delete(key);
      }
    },
    node: (key) => kept.get(key)?.node,
  };
}

function change({ node, values }, item) {
  for (const name in item) {
    if (name === 'key' || name === 'tag' || values[name] === item[name]) continue;
    values[name] = item[name];
    if (name === 'text') node.textContent = item[name];
    else if (item[name] === null) node.removeAttribute(name);
    else node.setAttribute(name, item[name]);
  }
}
