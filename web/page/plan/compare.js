// Two plans side by side: one pinned, one being changed, and the difference.

import { olderNote } from './notices.js';
import { fill, h, s, table } from '../common/dom.js';
import { fieldsOf, isAsked } from '../form/fields.js';
import { fullName } from '../form/names.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { HalfLine, HalfName, Outcome, Plan, StripPlan } from '../types/plan.d.ts' */
/** @import { Field } from '../form/fields.js' */
/** @import { Form } from '../form/form.js' */
/** @import { FormValue } from '../form/values.js' */
/** @import { State } from '../common/state.js' */
/** @import { NumberStyle, Words } from '../common/words.js' */

/** @typedef {{ brief: Brief, plan: Plan }} Planned */
/** @typedef {'percent' | 'count'} Kind of a figure; of a length, none */

/**
 * Figures worth comparing: a name and how to find it in a plan; lengths in mm unless a kind is given.
 * @type {[name: string, get: (plan: Plan) => number | undefined, kind?: Kind][]}
 */
const FIGURES = [
  ['cut_length', (plan) => plan.strip?.cut_length.cut_mm],
  ['cut_width', (plan) => (plan.strip ?? plan.facing)?.cut_width.cut_mm],
  ['ratio', (plan) => plan.strip?.ratio_percent, 'percent'],
  ['widest', (plan) => plan.strip?.widest_mm],
  ['quartering', (plan) => plan.strip?.quartered.error_mm],
  ['seam_line', (plan) => plan.seam_line.whole_length_mm],
  // Nothing where no length is known: that is not no stay tape.
  ['stay_tape', (plan) => plan.stays.total_tape_mm || undefined],
  ['clips', (plan) => plan.clips?.count, 'count'],
  ['smallest', (plan) => plan.opening.smallest_girth_mm],
  ['spare', (plan) => plan.opening.spare_mm],
];

/** Differences under this are rounding, in every unit. */
const NOTHING = 0.05;

/**
 * @param {HTMLElement} container
 * @param {{ state: State, form: Form, words: () => Words, onChange: () => void }} parts
 */
export function createCompare(container, { state, form, words, onChange }) {
  /** @type {Planned | null} */
  let pinned = null;
  const show = () => {
    container.hidden = !pinned;
    if (!pinned || !state.plan) return;
    const now = { brief: state.planned, plan: state.plan };
    fill(
      container,
      heading(words(), unpin),
      olderNote(words()),
      changes(pinned, now),
      figures(pinned, now),
      outlines(pinned, now, words()),
    );
  };
  const unpin = () => {
    pinned = null;
    show();
    onChange();
  };
  /** Pins a brief with its plan. @param {Planned} what */
  const pin = (what) => {
    pinned = what;
    show();
    onChange();
    container.querySelector('h2')?.focus();
  };

  /** @param {Planned} before @param {Planned} now */
  function changes(before, now) {
    const [a, b] = [before, now].map(({ brief }) => form.valuesOf(brief));
    const differ = fieldsOf(b).filter((field) => isAsked(field, b) && (a[field.key] ?? null) !== (b[field.key] ?? null));
    if (!differ.length) return h('p', { text: words().t('compare.same') });
    return h(
      'div',
      {},
      h('p', { text: words().t('compare.changed') }),
      h(
        'ul',
        {},
        differ.map((field) =>
          h('li', {
            text: words().t('compare.from_to', {
              name: fullName(field, words(), b),
              from: shown(field, a[field.key]),
              to: shown(field, b[field.key]),
            }),
          }),
        ),
      ),
    );
  }

  /** @param {Field} field @param {FormValue} value */
  function shown(field, value) {
    if (value === null || value === undefined || value === '') return words().t('compare.empty');
    if (field.kind === 'length') return words().length(Number(value), field.unit === 'mm' ? 'mm' : state.unit);
    if (field.kind === 'share') return words().percent(100 * Number(value));
    if (field.kind === 'choice') return words().t(`${field.words}.options.${value}`);
    if (field.kind === 'check') return words().t(value ? 'compare.yes' : 'compare.no');
    return typeof value === 'number' ? words().number(value, { digits: 2 }) : textOf(String(value));
  }

  /** A text, or, in place of one that is too long for a line, that it is a path. @param {string} text */
  const textOf = (text) => (text.length > 40 ? words().t('compare.a_path') : text);

  /** A row of what the strip does. @param {string} name @param {(strip: StripPlan) => Outcome} of @param {Planned[]} both */
  function outcomes(name, of, ...both) {
    const [was, is] = both.map(({ plan }) => (plan.strip ? words().t(`outcome.${of(plan.strip)}`) : '—'));
    return [words().t(`compare.figure.${name}`), was, is, words().t(was === is ? 'compare.none' : 'compare.differs')];
  }

  /** @param {Planned} before @param {Planned} now */
  function figures(before, now) {
    /** @param {number | undefined} value @param {Kind | undefined} kind @param {NumberStyle} [options] */
    const write = (value, kind, options) => {
      if (value === undefined) return '—';
      if (kind === 'percent') return words().percent(value, options);
      return kind === 'count' ? words().number(value, options) : words().length(value, state.unit, options);
    };
    const rows = FIGURES.map(([name, get, kind]) => ({ name, kind, a: get(before.plan), b: get(now.plan) }))
      .filter(({ a, b }) => a !== undefined || b !== undefined)
      .map(({ name, kind, a, b }) => {
        const apart = a === undefined || b === undefined ? undefined : b - a;
        const difference =
          apart !== undefined && Math.abs(apart) < NOTHING ? words().t('compare.none') : write(apart, kind, { sign: true });
        return [words().t(`compare.figure.${name}`), write(a, kind), write(b, kind), difference];
      });
    rows.push(outcomes('outcome', (strip) => strip.outcome, before, now));
    rows.push(outcomes('quartered', (strip) => strip.quartered.outcome, before, now));
    const heads = ['figure_heading', 'pinned', 'now', 'difference'].map((name) => words().t(`compare.${name}`));
    return h(
      'div',
      { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': words().t('compare.caption') },
      table(words().t('compare.caption'), heads, rows),
    );
  }

  state.addEventListener('plan', show);
  return {
    pin,
    unpin,
    refresh: show,
    get isPinned() {
      return pinned !== null;
    },
  };
}

/** @param {Words} words @param {() => void} unpin */
const heading = (words, unpin) =>
  h(
    'div',
    { class: 'heading-row' },
    h('h2', { tabindex: '-1', text: words.t('compare.heading') }),
    h('button', { type: 'button', class: 'quiet', onclick: unpin, text: words.t('compare.unpin') }),
  );

/**
 * A half with its neck point at nought and its finished centre line at nought, the back turned up above it: so they meet, wherever their own frames begin.
 * @param {HalfLine} line @param {HalfName} half @returns {[number, number][]}
 */
function laidFlat({ seam_line: points, centre_line_x_mm: centre }, half) {
  const neck = points[points.length - 1][1];
  return points.map(([x, y]) => [x - centre, half === 'back' ? neck - y : y - neck]);
}

/**
 * Both seam lines laid over each other, on the centre line and the neck points' level.
 * @param {Planned} before @param {Planned} now @param {Words} words
 */
function outlines(before, now, words) {
  const [was, is] = [before, now].map(({ plan }) =>
    /** @type {HalfName[]} */ (['front', 'back']).map((half) => laidFlat(plan.seam_line[half], half)),
  );
  const all = [was, is].flat(2);
  const width = Math.max(...all.map(([x]) => x)) + 12;
  const [high, low] = [12 - Math.min(...all.map(([, y]) => y)), 12 + Math.max(...all.map(([, y]) => y))];
  /** @param {[number, number][][]} halves @param {string} look */
  const lines = (halves, look) =>
    halves.flatMap((half) =>
      [1, -1].map((side) =>
        s('polyline', {
          class: look,
          points: half.map(([x, y]) => `${side * x},${y}`).join(' '),
        }),
      ),
    );
  return h(
    'figure',
    { class: 'overlay' },
    s(
      'svg',
      { viewBox: `${-width} ${-high} ${2 * width} ${low + high}`, role: 'img', 'aria-label': words.t('compare.drawing') },
      lines(was, 'pinned-line'),
      lines(is, 'now-line'),
    ),
    h(
      'figcaption',
      {},
      h(
        'span',
        { class: 'key' },
        s('svg', { viewBox: '0 0 30 8', width: 30, height: 8, 'aria-hidden': 'true' }, s('path', { d: 'M0 4H30', class: 'pinned-line' })),
        words.t('compare.pinned'),
      ),
      h(
        'span',
        { class: 'key' },
        s('svg', { viewBox: '0 0 30 8', width: 30, height: 8, 'aria-hidden': 'true' }, s('path', { d: 'M0 4H30', class: 'now-line' })),
        words.t('compare.now'),
      ),
    ),
  );
}
