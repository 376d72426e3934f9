// Unit, language, the way back and the class view, at the head of the page.

import { byId, fill, h } from './dom.js';
import { LANGUAGES } from './languages.js';
import { UNITS } from './settings.js';

/** @import { State } from './state.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/**
 * @param {HTMLElement} container
 * @param {{ state: State, words: import('./words.js').Words, onUnit: (unit: Unit) => void, onLanguage: (language: string) => void,
 *   onClassView: () => void }} parts
 */
export function showToolbar(container, { state, words, onUnit, onLanguage, onClassView }) {
  const focused = document.activeElement?.id;
  /** @param {Unit} name */
  const unit = (name) => {
    const radio = h('input', {
      type: 'radio',
      name: 'unit',
      id: `unit-${name}`,
      value: name,
      autocomplete: 'off',
      onchange: () => onUnit(name),
    });
    radio.checked = state.unit === name;
    return h(
      'label',
      { class: 'pick', for: `unit-${name}` },
      radio,
      h('span', { 'aria-hidden': 'true', text: name }),
      h('span', { class: 'unseen', text: words.t(`unit.${name}`) }),
    );
  };
  const language = h(
    'select',
    { id: 'language', 'aria-label': words.t('tools.language'), autocomplete: 'off' },
    Object.entries(LANGUAGES).map(([code, name]) => h('option', { value: code, lang: code, text: name })),
  );
  language.addEventListener('change', () => onLanguage(language.value));
  language.value = state.language;
  /** @param {string} id @param {string} sign @param {boolean} isPossible @param {() => void} act @param {string} label */
  const step = (id, sign, isPossible, act, label) =>
    h(
      'button',
      { type: 'button', id, disabled: !isPossible, onclick: act, title: label, 'aria-label': label },
      h('span', { 'aria-hidden': 'true', text: sign }),
    );
  /** @param {string} name @param {string} label */
  const named = (name, label) => (label ? words.t(`tools.${name}_what`, { what: label }) : words.t(`tools.${name}`));
  fill(
    container,
    h('fieldset', { class: 'units' }, h('legend', { class: 'unseen', text: words.t('tools.unit') }), UNITS.map(unit)),
    step('undo', '↶', state.canUndo, () => state.undo(), named('undo', state.undoLabel)),
    step('redo', '↷', state.canRedo, () => state.redo(), named('redo', state.redoLabel)),
    language,
    h('button', { type: 'button', id: 'open-class-view', onclick: onClassView, text: words.t('class_view.open') }),
  );
  if (!focused || !container.querySelector(`#${focused}`)) return;
  const again = byId(focused);
  /** @type {HTMLElement | null} */
  const other = again.matches(':disabled') ? container.querySelector('#undo:enabled, #redo:enabled') : null;
  (other ?? again).focus();
}
