// After a change between metric and inches: what is still usual in the other system is offered, and never taken by itself. What a
// brief holds was reckoned with and may stand on a pattern; a unit changes how it is shown, and nothing else.

import { byId, fill, h } from '../common/dom.js';
import { fieldsOf, isAsked } from './fields.js';
import { fullName } from './names.js';

/** @import { Field } from './fields.js' */
/** @import { Form } from './form.js' */
/** @import { FormValue } from './values.js' */
/** @import { Unit } from '../plan/reckoner.js' */
/** @import { Words } from '../common/words.js' */

const ID = 'usual';

/** What would be usual in the person's unit, of values in a brief that are still usual in the other. @param {Form} form @param {Unit} unit */
function usualIn(form, unit) {
  const { values } = form;
  const wanted = form.usualIn(unit);
  const fields = fieldsOf(values).filter((field) => field.key in wanted && isAsked(field, values));
  return fields.map((field) => ({ field, value: wanted[field.key] }));
}

/** Above the form, where its problems stand. */
function place() {
  const before = byId('problems');
  const there = document.getElementById(ID);
  if (there) return there;
  const made = h('div', { class: 'note', id: ID, role: 'status' });
  before.before(made);
  return made;
}

/**
 * Says what a change of unit did and what it leaves to the person.
 * @param {{ form: Form, words: Words, unit: Unit, isExample: boolean }} what whether it changed the example that nobody touched
 */
export function showUsual({ form, words, unit, isExample }) {
  const changed = form.isFresh ? 'own' : isExample ? 'example' : undefined;
  const wanted = changed ? [] : usualIn(form, unit);
  if (!changed && !wanted.length) {
    document.getElementById(ID)?.remove();
    return;
  }
  const there = place();
  /** @param {string} key */
  const t = (key) => words.t(`usual.${key}`, { unit: words.t(`unit.${unit}`) });
  const leave = () => there.remove();
  /** @param {() => void} act */
  const thenLeave = (act) => () => {
    leave();
    act();
  };
  // What is usual then: the brief may have changed since.
  const take = () => form.change(Object.fromEntries(usualIn(form, unit).map(({ field, value }) => [field.key, value])), t('step'));
  const button = (/** @type {string} */ key, /** @type {() => void} */ act) =>
    h('button', { type: 'button', id: `${ID}-${key}`, onclick: thenLeave(act), text: t(key) });
  /** @param {Field} field @param {FormValue} value */
  const said = (field, value) =>
    typeof value === 'number'
      ? words.read(value, unit) + (words.told(value, unit).exactly ? '' : `\u00a0${unit}`)
      : words.t(`${field.words}.options.${value}`);
  /** @param {{ field: Field, value: FormValue }} one */
  const line = ({ field, value }) => {
    const name = fullName(field, words, form.values);
    return h('li', { text: words.t('usual.instead', { name, now: said(field, form.values[field.key]), usual: said(field, value) }) });
  };
  fill(
    there,
    h('p', { text: t(changed ? `changed_${changed}` : 'offer') }),
    wanted.length > 0 && h('ul', {}, wanted.map(line)),
    h(
      'div',
      { class: 'buttons' },
      wanted.length > 0 && button('take', take),
      button('leave', () => {}),
    ),
  );
}
