// A table as comma-separated text that a spreadsheet opens without running anything.

/**
 * A cell as text. Text that a spreadsheet would take for a formula gets an
 * apostrophe in front, which shows it as it is; numbers stay numbers.
 */
function cell(value, { separator, decimal }) {
  if (typeof value === 'number') return Number.isFinite(value) ? String(value).replace('.', decimal) : '';
  const text = String(value ?? '');
  const safe = /^[\s]*[=+\-@\t\r|%]/.test(text) ? `'${text}` : text;
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
