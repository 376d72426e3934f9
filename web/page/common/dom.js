// Elements without markup text: what a person typed is only ever text here.

/**
 * Makes an element. `props` are attributes; `on…` functions become listeners, `text` its text, true an empty attribute,
 * and false, null or undefined leave the attribute out.
 * @param {string} tag
 * @param {Record<string, any>} [props]
 * @param {...(Node | string | null | undefined | false | any[])} children
 * @returns {HTMLElement}
 */
export function h(tag, props = {}, ...children) {
  return dress(document.createElement(tag), props, children);
}

/** The same for SVG. @returns {SVGElement} */
export function s(tag, props = {}, ...children) {
  return dress(document.createElementNS('http://www.w3.org/2000/svg', tag), props, children);
}

function dress(element, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (value === null || value === undefined || value === false) continue;
    if (name === 'text') element.textContent = value;
    else if (typeof value === 'function') element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? '' : String(value));
  }
  append(element, children);
  return element;
}

function append(element, children) {
  for (const child of children) {
    if (Array.isArray(child)) append(element, child);
    else if (child !== null && child !== undefined && child !== false) element.append(child);
  }
}

/** Puts new children in place of the old. */
export function fill(element, ...children) {
  element.replaceChildren();
  append(element, children);
  return element;
}

/**
 * Brings an element's children to new ones and keeps those that are alike: only what differs is written, so that the
 * browser lays out no more than that. For parts without listeners, which would stay with the old.
 */
export function settle(element, ...children) {
  const wanted = document.createDocumentFragment();
  append(wanted, children);
  match(element, wanted);
  return element;
}

/** The same for one element and another of its kind, attributes and all; an open fold stays open. */
export function settleInto(element, wanted) {
  matchAttributes(element, wanted);
  match(element, wanted);
}

function match(now, wanted) {
  const [old, fresh] = [[...now.childNodes], [...wanted.childNodes]];
  for (const [index, node] of fresh.entries()) {
    const at = old[index];
    if (!at) now.append(node);
    else if (!isAlike(at, node)) at.replaceWith(node);
    else if (at.nodeType === Node.TEXT_NODE) {
      if (at.data !== node.data) at.data = node.data;
    } else {
      matchAttributes(at, node);
      match(at, node);
    }
  }
  for (const extra of old.slice(fresh.length)) extra.remove();
}

const isAlike = (a, b) => a.nodeName === b.nodeName && a.id === b.id;

// Whether a fold is open is the person's own.
function matchAttributes(now, wanted) {
  for (const { name } of [...now.attributes]) if (name !== 'open' && !wanted.hasAttribute(name)) now.removeAttribute(name);
  for (const { name, value } of wanted.attributes) if (now.getAttribute(name) !== value) now.setAttribute(name, value);
}

/** @param {string} id @returns {HTMLElement} */
export const byId = (id) => document.getElementById(id);

/** A table with a caption, a header row and row headers. Rows are arrays of text; a row's first entry heads it. */
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
