// A ruler on the screen for the stretch test, set true against a bank card or a ruler held to the screen.

import { fill, h, s } from '../common/dom.js';
import { isModified } from '../common/keys.js';
import { known } from '../common/known.js';
import { recall, remember } from '../common/settings.js';

/** @import { Values, Words } from '../common/words.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/** ISO/IEC 7810 ID-1, the size of bank cards, mm. */
const CARD = { width: 85.6, height: 53.98, corner: 3.18 };
/** What the other way of setting it true compares: a line of this length, mm. */
const HELD = 50;
/** CSS pixels in a millimetre where nobody has set the ruler true: 96 to the inch by CSS's own definition. */
const NOMINAL = 96 / 25.4;
/** How far real screens stray from that, as multiples. */
const RANGE = [0.5, 2];
/** The dialog's padding, px, both sides and some air. */
const SIDES = 48;
const MM_PER_INCH = 25.4;
/** How many of its finest steps a key moves the slide that sets the ruler true. */
const KEYS = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 20, PageDown: -20 };

/** @typedef {{ rest: number, stretched: number, released: number }} Readings mm */
/** @typedef {(key: string, values?: Values) => string} Say */

/**
 * @param {{ words: () => Words, unit: () => Unit, onUse: (knit: string, readings: Readings) => void }} parts
 */
export function createRuler({ words, unit, onUse }) {
  const kept = Number(recall('px_per_mm'));
  // What no slider could have set was not set by the person.
  let isTrue = kept >= NOMINAL * RANGE[0] && kept <= NOMINAL * RANGE[1];
  let scale = isTrue ? kept : NOMINAL;
  let knit = 'garment';
  /** @type {Readings} */
  const readings = { rest: 50, stretched: 70, released: 52 };
  let dialog = h('dialog');

  /** @param {string} which */
  function open(which) {
    knit = which;
    dialog.remove();
    const opened = h('dialog', { class: 'ruler', 'aria-labelledby': 'ruler-title' });
    opened.addEventListener('close', () => opened.remove());
    dialog = opened;
    document.body.append(dialog);
    dialog.showModal();
    draw();
    dialog.querySelector('button')?.focus();
  }

  /** @param {string} [focusId] */
  function draw(focusId) {
    /** @type {Say} */
    const t = (key, values) => words().t(`ruler.${key}`, values);
    const longest = Math.max(60, Math.floor((Math.min(innerWidth, 1000) - 48) / scale));
    fill(
      dialog,
      h(
        'div',
        { class: 'heading-row' },
        h('h2', { id: 'ruler-title', text: t('heading') }),
        h('button', { type: 'button', class: 'quiet', onclick: () => dialog.close(), text: t('close') }),
      ),
      h('p', { text: t('lead') }),
      h('details', { open: !isTrue }, h('summary', { text: t(isTrue ? 'set_again' : 'set_first') }), setting(t)),
      face(longest),
      h('p', { class: 'hint', text: t('how') }),
      /** @type {const} */ (['rest', 'stretched', 'released']).map((name) => reading(name, longest, t)),
      h('div', { class: 'buttons' }, h('button', { type: 'button', class: 'primary', disabled: !isTrue, onclick: use, text: t('use') })),
      !isTrue && h('p', { class: 'hint', text: t('not_yet') }),
    );
    if (focusId) document.getElementById(focusId)?.focus();
  }

  /** @param {Say} t */
  function setting(t) {
    const card = s('rect', { x: 1, y: 1, class: 'card-shape' });
    const held = s('path', { class: 'held-line' });
    const shapes = s('svg', { 'aria-hidden': 'true', class: 'true-shapes' }, card, held);
    /** @param {Element} shape @param {Record<string, number>} sizes */
    const set = (shape, sizes) => {
      for (const [name, px] of Object.entries(sizes)) shape.setAttribute(name, String(px));
    };
    const size = () => {
      // On a narrow screen the card stands upright: lying, it would be cut off.
      const lies = CARD.width * scale + 4 <= dialog.clientWidth - SIDES;
      const [width, height] = (lies ? [CARD.width, CARD.height] : [CARD.height, CARD.width]).map((mm) => mm * scale);
      set(card, { width, height, rx: CARD.corner * scale });
      held.setAttribute('d', `M1 ${height + 8}v16 M1 ${height + 16}h${HELD * scale} m0 -8v16`);
      set(shapes, { width: Math.max(width, HELD * scale) + 4, height: height + 28 });
    };
    const slide = h('input', {
      type: 'range',
      id: 'ruler-scale',
      min: NOMINAL * RANGE[0],
      max: NOMINAL * RANGE[1],
      step: 'any',
      value: scale,
      'aria-valuetext': t('scale_value', { percent: words().percent((100 * scale) / NOMINAL) }),
    });
    /** @param {number} value */
    const setTrue = (value) => {
      scale = Math.min(Math.max(value, NOMINAL * RANGE[0]), NOMINAL * RANGE[1]);
      slide.value = String(scale);
      slide.setAttribute('aria-valuetext', t('scale_value', { percent: words().percent((100 * scale) / NOMINAL) }));
      size();
    };
    slide.addEventListener('input', () => setTrue(Number(slide.value)));
    // A range's own key steps are too coarse to lay an edge on an edge.
    slide.addEventListener('keydown', (event) => {
      const by = known(KEYS, event.key);
      if (!by || isModified(event)) return;
      event.preventDefault();
      setTrue(scale * (1 + by / 500));
    });
    size();
    const done = () => {
      isTrue = true;
      remember('px_per_mm', String(scale));
      draw('ruler-rest');
    };
    return h(
      'div',
      { class: 'folded' },
      h('p', { text: t('card') }),
      h('div', { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': t('shapes') }, shapes),
      h('label', { for: 'ruler-scale', text: t('scale') }),
      slide,
      h('button', { type: 'button', onclick: done, text: t('is_true') }),
    );
  }

  /** @param {number} longest */
  function face(longest) {
    const inches = unit() === 'in';
    const step = inches ? MM_PER_INCH / 8 : 1;
    const ticks = Array.from({ length: Math.floor(longest / step) + 1 }, (_, i) => {
      const [long, middle] = inches ? [i % 8 === 0, i % 4 === 0] : [i % 10 === 0, i % 5 === 0];
      return {
        x: i * step * scale,
        height: long ? 26 : middle ? 18 : 11,
        label: long ? [inches ? i / 8 : unit() === 'cm' ? i / 10 : i] : [],
      };
    });
    return h(
      'div',
      { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': words().t('ruler.face') },
      s(
        'svg',
        { class: 'face', width: longest * scale + 24, height: 52, 'aria-hidden': 'true' },
        s('path', { d: ticks.map(({ x, height }) => `M${x + 2} 0v${height}`).join('') }),
        ticks.flatMap(({ x, label }) => label.map((figure) => s('text', { x: x + 4, y: 44 }, words().number(figure)))),
        Object.values(readings).map((mm, i) => s('path', { class: `reading reading-${i}`, d: `M${mm * scale + 2} 0v34` })),
      ),
    );
  }

  /** @param {keyof Readings} name @param {number} longest @param {Say} t */
  function reading(name, longest, t) {
    const id = `ruler-${name}`;
    const shown = h('output', { for: id, text: words().length(readings[name], unit()) });
    const slide = h('input', {
      type: 'range',
      id,
      min: name === 'rest' ? 20 : 0,
      max: Math.max(longest, readings[name]),
      step: unit() === 'in' ? MM_PER_INCH / 16 : 0.5,
      value: readings[name],
      'aria-valuetext': words().length(readings[name], unit()),
    });
    slide.addEventListener('input', () => {
      readings[name] = Number(slide.value);
      shown.textContent = words().length(readings[name], unit());
      slide.setAttribute('aria-valuetext', shown.textContent);
      dialog.querySelector('.face')?.parentElement?.replaceWith(face(longest));
    });
    return h('div', { class: 'slide' }, h('label', { for: id, text: t(name) }), slide, shown);
  }

  function use() {
    dialog.close();
    onUse(knit, { ...readings });
  }

  return { open };
}
