// What a person has in hand: the field they are in, and what is selected there. The page that writes fields by itself leaves them there.

/** @param {Element | null} element @returns {element is HTMLInputElement} */
export const isText = (element) => element instanceof HTMLInputElement && ['text', 'search'].includes(element.type);

/**
 * Where a person is in a text, as a way to bring them there in another. What is selected as a whole stays so, and an empty field
 * counts as that: the next key is put in its place, never behind it.
 * @param {HTMLInputElement} input @returns {(other: HTMLInputElement) => void}
 */
export function selectionOf({ selectionStart, selectionEnd, value }) {
  const [start, end] = [selectionStart ?? 0, selectionEnd ?? 0];
  const isWhole = start === 0 && end === value.length;
  /** @param {number} at @param {number} length */
  const placeAt = (at, length) => (at === value.length ? length : Math.min(at, length));
  return (other) => {
    const { length } = other.value;
    other.setSelectionRange(isWhole ? 0 : placeAt(start, length), isWhole ? length : placeAt(end, length));
  };
}

/** Puts a text into a field; one who is in it stays there. @param {HTMLInputElement} input @param {string} text */
export function putText(input, text) {
  if (input.value === text) return;
  const back = input === document.activeElement ? selectionOf(input) : null;
  input.value = text;
  back?.(input);
}

/**
 * Has a part of the page written anew: one who is in a field of it is in the new field of that id then.
 * @param {Element} container @param {() => void} write
 */
export function keepPlace(container, write) {
  const root = /** @type {Document | ShadowRoot} */ (container.getRootNode());
  const before = root.activeElement;
  const id = before && container.contains(before) ? before.id : '';
  const back = isText(before) ? selectionOf(before) : null;
  write();
  const again = id ? root.getElementById(id) : null;
  if (!again || again === root.activeElement || !container.contains(again)) return;
  again.focus({ preventScroll: true });
  if (isText(again)) back?.(again);
}
