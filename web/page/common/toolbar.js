// Unit, language, the way back and the class view, at the head of the page.

import { fill, h } from './dom.js';
import { LANGUAGES } from './languages.js';

const UNITS = ['mm', 'cm', 'in'];

/**
 * @param {HTMLElement} container
 * @param {{ state: object, words: import('./words.js').Words, onLanguage: (language: string) => void, onClassView: () => void }} parts
 */
export function showToolbar(container, { state, words, onLanguage, onClassView }) {
  const focused = document.activeElement?.id;
  const unit = (name) => {
    const radio = h('input', {
      type: 'radio',
      name: 'unit',
      id: `unit-${name}`,
      value: name,
      autocomplete: 'off',
      onchange: () => {
        state.unit = name;
      },
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
    { id: 'language', 'aria-label': words.t('tools.language'), autocomplete: 'off', onchange: () => onLanguage(language.value) },
    Object.entries(LANGUAGES).map(([code, name]) => h('option', { value: code, lang: code, text: name })),
  );
  language.value = state.language;
  const step = (id, sign, isPossible, act, label) =>
    h(
      'button',
      { type: 'button', id, disabled: !isPossible, onclick: act, title: label, 'aria-label': label },
      h('span', { 'aria-hidden': 'true', text: sign }),
    );
  const named = (name, label) => (label ? words.t(`tools.${name}_what`, { what: label }) : words.t(`tools.${name}`));
  fill(
    container,
    h('fieldset', { class: 'units' }, h('legend', { class: 'unseen', text: words.t('tools.unit') }), UNITS.map(unit)),
    step('undo', '↶', state.canUndo, () => state.undo(), named('undo', state.undoLabel)),
    step('redo', '↷', state.canRedo, () => state.redo(), named('redo', state.redoLabel)),
    language,
    h('button', { type: 'button', id: 'open-class-view', onclick: onClassView, text: words.t('class_view.open') }),
  );
  const again = focused && container.querySelector(`#${focused}`);
  if (again) (again.disabled ? (container.querySelector('#undo:enabled, #redo:enabled') ?? again) : again).focus();
}
