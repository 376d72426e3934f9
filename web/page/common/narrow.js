// On a narrow screen parts stand folded at first; on paper they do not.

/** Whether the screen is too narrow to show at once what is not looked at first. */
export const isNarrow = () => matchMedia('(max-width: 46rem)').matches;

/** Opens for the printer what a narrow screen had folded, and folds it again after. @param {string} selector of folds */
export function unfoldInPrint(selector) {
  /** @type {HTMLDetailsElement[]} */
  let opened = [];
  /** @param {boolean} open */
  const turn = (open) => {
    for (const fold of opened) fold.open = open;
  };
  addEventListener('beforeprint', () => {
    opened = isNarrow() ? [.../** @type {NodeListOf<HTMLDetailsElement>} */ (document.querySelectorAll(`${selector}:not([open])`))] : [];
    turn(true);
  });
  addEventListener('afterprint', () => turn(false));
}
