// Elements without markup text: what a person typed is only ever text here.

/** @typedef {{ hear(event: Event): unknown }['hear']} Listener */
/** @typedef {Record<string, string | number | boolean | null | undefined | Listener>} Props */
/** @typedef {Node | string | null | undefined | false | Child[]} Child */

/**
 * Makes an element. `props` are attributes; `on…` functions become listeners, `text` its text, true an empty attribute,
 * and false, null or undefined leave the attribute out.
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Props} [props]
 * @param {Child[]} children
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function h(tag, props = {}, ...children) {
  return dress(document.createElement(tag), props, children);
}

/**
 * The same for SVG.
 * @template {keyof SVGElementTagNameMap} Tag
 * @param {Tag} tag @param {Props} [props] @param {Child[]} children
 * @returns {SVGElementTagNameMap[Tag]}
 */
export function s(tag, props = {}, ...children) {
  return dress(document.createElementNS('http://www.w3.org/2000/svg', tag), props, children);
}

/** @template {Element} Made @param {Made} element @param {Props} props @param {Child[]} children */
function dress(element, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (value === null || value === undefined || value === false) continue;
    if (name === 'text') element.textContent = String(value);
    else if (typeof value === 'function') element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? '' : String(value));
  }
  append(element, children);
  return element;
}

/** @param {ParentNode} element @param {Child[]} children */
function append(element, children) {
  for (const child of children) {
    if (Array.isArray(child)) append(element, child);
    else if (child !== null && child !== undefined && child !== false) element.append(child);
  }
}

/** Puts new children in place of the old. @template {Element} Filled @param {Filled} element @param {Child[]} children */
export function fill(element, ...children) {
  element.replaceChildren();
  append(element, children);
  return element;
}

/**
 * Brings an element's children to new ones and keeps those that are alike: only what differs is written, so that the
 * browser lays out no more than that. For parts without listeners, which would stay with the old.
 * @param {Element} element @param {Child[]} children
 */
export function settle(element, ...children) {
  const wanted = document.createDocumentFragment();
  append(wanted, children);
  match(element, wanted);
  return element;
}

/**
 * The same for one element and another of its kind, attributes and all; an open fold stays open.
 * @param {Element} element @param {Element} wanted
 */
export function settleInto(element, wanted) {
  matchAttributes(element, wanted);
  match(element, wanted);
}

/** @param {ParentNode & Node} now @param {ParentNode & Node} wanted */
function match(now, wanted) {
  const [old, fresh] = [[...now.childNodes], [...wanted.childNodes]];
  for (const [index, node] of fresh.entries()) {
    const at = old[index];
    if (!at) now.append(node);
    else if (at.isEqualNode(node)) continue;
    else if (!isAlike(at, node)) at.replaceWith(node);
    else if (at instanceof Text && node instanceof Text) {
      if (at.data !== node.data) at.data = node.data;
    } else if (at instanceof Element && node instanceof Element) {
      matchAttributes(at, node);
      match(at, node);
    }
  }
  for (const extra of old.slice(fresh.length)) extra.remove();
}

/** @param {ChildNode} a @param {ChildNode} b */
const isAlike = (a, b) => a.nodeName === b.nodeName && idOf(a) === idOf(b);
/** @param {Node} node */
const idOf = (node) => (node instanceof Element ? node.id : '');

// Whether a fold is open is the person's own.
/** @param {Element} now @param {Element} wanted */
function matchAttributes(now, wanted) {
  for (const { name } of [...now.attributes]) if (name !== 'open' && !wanted.hasAttribute(name)) now.removeAttribute(name);
  for (const { name, value } of wanted.attributes) if (now.getAttribute(name) !== value) now.setAttribute(name, value);
}

/** An element that the page's own markup has. @param {string} id */
export const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

/**
 * A table with a caption, a header row and row headers. Rows are arrays of text; a row's first entry heads it.
 * @param {string} caption @param {string[]} head @param {Child[][]} rows
 */
export function table(caption, head, rows) {
  return h(
    'table',
    {},
    h('caption', { text: caption }),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        head.map((text) => h('th', { scope: 'col', text })),
      ),
    ),
    h(
      'tbody',
      {},
      rows.map(([first, ...rest]) =>
        h(
          'tr',
          {},
          h('th', { scope: 'row' }, first),
          rest.map((cell) => h('td', {}, cell)),
        ),
      ),
    ),
  );
}

/** Prints nodes alone, outside the page's own layout; they are gone afterwards. @param {Node[]} nodes */
export function printAlone(nodes) {
  const sheet = h('div', { class: 'print-only' }, nodes);
  document.body.append(sheet);
  document.body.classList.add('prints-alone');
  const done = () => {
    sheet.remove();
    document.body.classList.remove('prints-alone');
  };
  addEventListener('afterprint', done, { once: true });
  print();
}
