// A table as comma-separated text that a spreadsheet opens without running anything.

/** Signs that begin a formula, and those that a spreadsheet may fold to one: full-width, small, raised and lowered forms. */
const SIGN = '[=+\\-@|%＝＋－＠｜％﹦﹢﹣﹫﹪⁺⁻⁼₊₋₌]';
/** What may stand before the sign and shows as nothing or is taken off: spaces, marks, controls, quotes. */
const PASSED_OVER = '[\\s\\p{C}\\p{Z}\\p{M}\\p{Default_Ignorable_Code_Point}"]*';
/** Where a cell begins: at its start, and behind what parts cells where a spreadsheet is set for another country. */
const FORMULA = new RegExp(`(^|[,;\\t\\r\\n])(?=${PASSED_OVER}${SIGN})|^(?=\\s*[\\t\\r])`, 'gu');

/** Nothing but a number with its sign, as a size is named by its steps from the base. */
const SIGNED = /^[+\-−]\d+(?:\.\d+)?$/;

/**
 * A cell as text. Text that a spreadsheet would take for a formula gets an
 * apostrophe in front, which shows it as it is; numbers stay numbers, and a text that is nothing but one with its sign is one.
 * @param {string | number | undefined} given @param {{ separator: string, decimal: string }} how
 */
function cell(given, { separator, decimal }) {
  const value = typeof given === 'string' && SIGNED.test(given) ? Number(given.replace('−', '-')) : given;
  if (typeof value === 'number') return Number.isFinite(value) ? String(value).replace('.', decimal) : '';
  const safe = String(value ?? '').replace(FORMULA, "$1'");
  return /["\r\n]/.test(safe) || safe.includes(separator) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/**
 * @param {(string | number)[][]} rows
 * @param {string} language - where a comma marks decimals, columns are parted by semicolons
 */
export function toCsv(rows, language) {
  const decimal = new Intl.NumberFormat(language).formatToParts(1.5).find(({ type }) => type === 'decimal')?.value ?? '.';
  const how = decimal === ',' ? { separator: ';', decimal } : { separator: ',', decimal: '.' };
  return `${rows.map((row) => row.map((value) => cell(value, how)).join(how.separator)).join('\r\n')}\r\n`;
}
