// What a field is called away from its place in the form.

import { setApart } from '../common/foreign-text.js';
import { fieldAt } from './fields.js';

/** @import { Field } from './fields.js' */
/** @import { FormValues } from './values.js' */
/** @import { Words } from '../common/words.js' */

/**
 * A field's name with its half, knit or way, as it is called away from its place in the form.
 * @param {Field} field @param {Words} words @param {FormValues} [values]
 */
export function fullName(field, words, values) {
  const parts = [];
  if (field.half) parts.push(words.t(`half.${field.half}`));
  if (field.knit) parts.push(words.t(`knit.${field.knit}`));
  if (field.way) parts.push(words.t(`way_of_stretch.${field.way}`));
  if (field.edge !== undefined)
    parts.push(setApart(String(values?.[`edge${field.edge}.name`] ?? '')) || words.t('edges.nth', { n: words.number(field.edge + 1) }));
  parts.push(words.t(`${field.words}.label`));
  return parts.join(words.t('list.inside'));
}

/** Names the reading at a path of a brief. @param {string | undefined} path @param {Words} words @param {FormValues} [values] where the form is there */
export function nameAt(path, words, values) {
  const field = path && fieldAt(path, values);
  return field ? fullName(field, words, values) : '';
}
