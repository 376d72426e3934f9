// Small pictures beside the choices: shapes of necklines, ways to tell one, finishes in section. Decoration only.

import { s } from '../common/dom.js';
import { known } from '../common/known.js';

/** Paths in a 48 by 36 box; `thin` is what the eye should take second, `fill` what is filled. @type {Record<string, string[][]>} */
const PICTURES = {
  'shape.round': [['M6 6 C8 26 40 26 42 6']],
  'shape.scoop': [['M6 5 C6 40 42 40 42 5']],
  'shape.v': [['M7 5 L24 31 L41 5']],
  'shape.square': [['M8 5 L9 27 L39 27 L40 5']],
  'shape.boat': [['M2 9 C14 19 34 19 46 9']],
  'way.measured': [['M6 8 C8 28 40 28 42 8'], ['M9 20 l-4 2 M15 27 l-3 4 M24 29 v5 M33 27 l3 4 M39 20 l4 2', 'thin']],
  'way.drafted': [['M10 6 C10 22 20 30 38 30'], ['M10 6 V30 M10 30 H38', 'thin'], ['M6 6 h8 M6 30 h4 M38 26 v8', 'thin']],
  'way.drawn': [['M10 30 C26 30 38 22 38 6'], ['M10 30 H28 M38 6 V18', 'thin'], ['M25 27 h6 v6 h-6 z M35 15 h6 v6 h-6 z', 'fill']],
  'finish.band': [['M4 30 H24'], ['M24 30 V10 q2 -4 4 0 V30'], ['M20 33 h10', 'thin']],
  'finish.bound': [['M4 24 H30'], ['M22 18 H31 q5 0 5 6 q0 6 -5 6 H22'], ['M25 14 v20', 'thin']],
  'finish.tape': [['M4 24 H34'], ['M34 24 q4 5 -2 5 H14'], ['M18 20 v13', 'thin']],
  'finish.facing': [['M4 22 H38'], ['M38 22 q4 6 -2 6 H6'], ['M33 18 v14', 'thin']],
};

/** @param {string} name @returns {SVGElement | null} */
export function picture(name) {
  const lines = known(PICTURES, name);
  if (!lines) return null;
  return s(
    'svg',
    { viewBox: '0 0 48 36', width: 48, height: 36, 'aria-hidden': 'true', class: 'picture' },
    lines.map(([d, look]) => s('path', { d, class: look ?? 'main' })),
  );
}
