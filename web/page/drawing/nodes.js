// Elements that are kept and changed, never thrown away and built again: a drag repaints sixty times a second.

const SVG = 'http://www.w3.org/2000/svg';

/**
 * @template {keyof SVGElementTagNameMap} Tag
 * @param {Tag} tag @param {Record<string, string | number>} [attributes]
 * @returns {SVGElementTagNameMap[Tag]}
 */
export function svgElement(tag, attributes = {}) {
  const node = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, String(value));
  return node;
}

/**
 * An HTML element with a class and, if given, text; text is never read as markup.
 * @template {keyof HTMLElementTagNameMap} Tag @param {Tag} tag @param {string} [className] @param {string} [text]
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function element(tag, className = '', text = '') {
  const node = document.createElement(tag);
  if (className) node.className = className;
  if (text) node.textContent = text;
  return node;
}

/** Sets text only where it changes. @param {Node | null} node @param {string} text */
export function setText(node, text) {
  if (node && node.textContent !== text) node.textContent = text;
}

/** @typedef {{ key: string, tag: keyof SVGElementTagNameMap, [attribute: string]: string | number | null | undefined }} Item text under `text`, its transform under `moved` where it moves much */
/** @typedef {{ tag: string, node: SVGElement, outer: SVGElement, values: Record<string, unknown>, turn: number }} KeptNode */
/** @typedef {ReturnType<typeof keyed>} Keyed */

/**
 * A group whose children are kept by key.
 * `paint(items)` takes `{ key, tag, text?, ...attributes }`; what is not named again is removed.
 * @param {Element} group
 */
export function keyed(group) {
  /** @type {Map<string, KeptNode>} */
  const kept = new Map();
  let turn = 0;

  /** Paints these and leaves all others as they are. @param {Item[]} items */
  function put(items) {
    for (const item of items) {
      let entry = kept.get(item.key);
      if (!entry || entry.tag !== item.tag) {
        entry?.outer.remove();
        entry = { ...made(item), tag: item.tag, values: {}, turn };
        group.append(entry.outer);
        kept.set(item.key, entry);
      }
      entry.turn = turn;
      change(entry, item);
    }
  }

  return {
    put,
    /** @param {Item[]} items */
    paint(items) {
      turn += 1;
      put(items);
      for (const [key, entry] of kept) {
        if (entry.turn === turn) continue;
        entry.outer.remove();
        kept.delete(key);
      }
    },
    /** @param {string} key */
    node: (key) => kept.get(key)?.node,
  };
}

/**
 * What moves much stands in a group that moves: a browser then neither styles it nor lays it out anew, which for text takes four times
 * as long as all the rest.
 * @param {Item} item
 */
function made({ tag, moved }) {
  const node = svgElement(tag);
  if (moved === undefined) return { node, outer: node };
  const outer = svgElement('g');
  outer.append(node);
  return { node, outer };
}

/** @param {KeptNode} entry @param {Item} item */
function change({ node, outer, values }, item) {
  for (const name in item) {
    if (name === 'key' || name === 'tag' || values[name] === item[name]) continue;
    const value = item[name];
    values[name] = value;
    if (name === 'moved') outer.setAttribute('transform', String(value));
    else if (name === 'text') node.textContent = String(value);
    else if (value === null || value === undefined) node.removeAttribute(name);
    else node.setAttribute(name, String(value));
  }
}
