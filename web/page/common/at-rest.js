// What is begun once the page is at rest, in one file: sheets, and all that keeps and shares.

export { startKeeping } from '../keep/start.js';
export { createSheetsPanel } from '../sheets/sheets-panel.js';
