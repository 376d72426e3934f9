// Whose a key is: one pressed in a field, a list or a dialog is theirs, and the page leaves it alone.

const TEXTS = 'input:not([type=radio], [type=checkbox], [type=range], [type=file]), textarea';

/** Where a key was pressed, within a part of the page's own too. @param {KeyboardEvent} event */
function placeOf(event) {
  const [place] = event.composedPath();
  return place instanceof HTMLElement ? place : undefined;
}

/** Whether a key is pressed where text is written, and so the browser's. @param {KeyboardEvent} event as the window hears it */
export const isInText = (event) => event.isComposing || Boolean(placeOf(event)?.isContentEditable || placeOf(event)?.matches(TEXTS));

/** Whether a key is the page's own to act on. @param {KeyboardEvent} event as the window hears it */
export const isForPage = (event) =>
  !event.defaultPrevented &&
  !isInText(event) &&
  !placeOf(event)?.matches('select, [type=range], [type=file]') &&
  !document.querySelector('dialog[open]');

/** Whether a key comes with another that makes it the browser's or the system's. @param {KeyboardEvent | MouseEvent} event */
export const isModified = (event) => event.ctrlKey || event.metaKey || event.altKey;
