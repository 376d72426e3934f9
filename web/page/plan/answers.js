// The rest of the plan as cards: marks, stays, clips, the order of sewing, the head, the knit, the seam line, what was assumed.

import { h, settleInto, table } from '../common/dom.js';
import { isNarrow } from '../common/narrow.js';
import { setApart } from '../common/foreign-text.js';
import { quarteredTold, spanDoes } from './lies.js';
import { suitsTold } from './suits.js';
import { passMark, verdictLine } from './ticket.js';
import { remedies, stitchAdvice } from './remedies.js';
import { source } from './sources.js';
import { nameOf } from '../common/known.js';
import { markWords, steps } from './steps.js';

/** @import { Child, Props } from '../common/dom.js' */
/** @import { Ends, HalfLine, KnitReport, OpeningPlan, Span, StayZone, StripPlan } from '../types/plan.d.ts' */
/** @import { What } from './ticket.js' */
/** @import { Unit } from './reckoner.js' */
/** @import { Words } from '../common/words.js' */

/** The cards in their order, each by its id. */
const CARDS = { order, marks, stays, clips, spans, head, knit: knits, line: seamLine, assumptions };

/**
 * What brings the cards up to a plan: a job for each, to be done in turn. A card that does not apply is left out.
 * @param {HTMLElement} container
 * @param {What} what
 * @returns {(() => void)[]}
 */
export function answerJobs(container, what) {
  return Object.entries(CARDS).map(([name, make], index, all) => () => {
    const wanted = make(what);
    const old = container.querySelector(`:scope > #card-${name}`);
    if (!wanted) old?.remove();
    else if (old) settleInto(old, wanted);
    else
      container.insertBefore(
        wanted,
        firstOf(
          container,
          all.slice(index + 1).map(([next]) => next),
        ),
      );
  });
}

/** @param {Element} container @param {string[]} names */
const firstOf = (container, names) => names.map((name) => container.querySelector(`:scope > #card-${name}`)).find(Boolean) ?? null;

/** Where the strip's marks fall is an answer as its length is: it stands open on every screen. */
const IN_SIGHT = 'marks';

/** @param {string} id @param {string} title @param {Child[]} children */
const card = (id, title, ...children) =>
  h(
    'details',
    { class: 'card fold', id: `card-${id}`, open: id === IN_SIGHT || !isNarrow() },
    h('summary', {}, h('h3', { text: title })),
    children,
  );

/** @param {Child[]} items @param {'ul' | 'ol'} [tag] @param {Props} [props] */
const list = (items, tag = 'ul', props = {}) =>
  h(
    tag,
    props,
    items.map((item) => h('li', {}, item)),
  );

/** @param {What} what */
function order(what) {
  const { words } = what;
  return card(
    'order',
    words.t('order.heading'),
    list(
      steps(what).map(({ text, cautions }) => [
        h('p', { text }),
        cautions.map((caution) => h('p', { class: 'caution' }, h('strong', { text: words.t('order.caution') }), ' ', caution)),
      ]),
      'ol',
      { class: 'order' },
    ),
  );
}

/** @param {What} what */
function marks(what) {
  const { plan, words, unit } = what;
  const { strip } = plan;
  if (!strip) return null;
  /** @param {number} mm */
  const size = (mm) => words.length(mm, unit);
  const names = markWords(strip, words);
  // A span's ratio stands beside the mark it ends at.
  /** @param {Span | undefined} span */
  const ratio = (span) => (span ? words.percent(span.ratio_percent) : '');
  const rows = strip.marks.map((mark, index) => [
    names[index],
    size(mark.on_strip_mm),
    size(mark.on_seam_line_mm),
    ratio(strip.spans[index - 1]),
  ]);
  return card(
    'marks',
    words.t('marks.heading'),
    h('p', { text: words.t(strip.own_ratio ? 'marks.lead_own' : 'marks.lead') }),
    h(
      'div',
      { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': words.t('marks.heading') },
      table(
        words.t(strip.own_ratio ? 'marks.caption_own' : 'marks.caption'),
        // A bound edge's strip is sewn on a line of its own, beneath the seam line.
        ['place', 'on_strip', strip.stitch_line ? 'on_stitch' : 'on_seam', 'ratio'].map((name) => words.t(`marks.${name}`)),
        rows,
      ),
    ),
    // By a ratio of one's own it is spread evenly all along, which is what quartering does.
    !strip.own_ratio && h('p', { text: quarteredTold(strip, words, unit) }),
    h('p', { text: endsText(strip.ends, what, strip.join_at === 'centre_back' ? 'back' : 'front') }),
    strip.back_ends && h('p', { text: words.t('ends.at_back', { ends: endsText(strip.back_ends, what, 'back') }) }),
  );
}

/** Ends that carry nothing. @type {{ mitre?: undefined, lap?: undefined, overhang?: undefined }} */
const NONE = {};

/** How a strip's ends meet at the centre of a half: open ends are caught in its seam, or cross where it is cut on a fold. @param {Ends} ends @param {What} what @param {'front' | 'back'} half */
function endsText(ends, { brief, words, unit }, half) {
  const { mitre, lap, overhang } = typeof ends === 'string' ? NONE : ends;
  /** @param {number | undefined} mm */
  const size = (mm) => (mm === undefined ? undefined : words.length(mm, unit));
  return words.t(`ends.${nameOf(ends)}${overhang ? `.${nameOf(brief.neckline[half].centre ?? 'fold')}` : ''}`, {
    angle: mitre && `${words.number(mitre.angle_deg, { digits: 1 })}°`,
    shorter: size((mitre ?? lap)?.free_edge_shorter_mm),
    lap: size(lap?.lap_width_mm),
    over: size(overhang?.overhang_mm),
  });
}

/** @param {What} what */
function stays({ plan, words, unit }) {
  const { zones, given_up: givenUp, stable, total_tape_mm: total } = plan.stays;
  /** @param {number} mm */
  const size = (mm) => words.length(mm, unit);
  /** @param {StayZone} one */
  const zone = (one) => {
    const where = setApart(one.name ?? '') || words.t(`part.${one.part}`);
    const lines = [
      h('strong', { text: where }),
      h('br'),
      layingOf(one, words, size),
      ' ',
      words.t(`stays.reason.${one.reason}`, { stretch: words.percent(one.stretch_percent) }),
    ];
    if (one.gathering_ratio) lines.push(' ', words.t('stays.gathered', { ratio: words.number(one.gathering_ratio, { digits: 2 }) }));
    if (one.at_centre && words.has(`stays.at_centre.${one.at_centre}`)) lines.push(' ', words.t(`stays.at_centre.${one.at_centre}`));
    if (one.snips) lines.push(' ', words.count('stays.snips', one.snips));
    else if (one.snip_or_bias) lines.push(' ', words.t('stays.snip'));
    return lines;
  };
  const drawn = (plan.strip?.parts ?? []).flatMap(({ part, drawn_in_percent: share }) => {
    if (share === undefined) return [];
    return words.t('stays.drawn_in_part', { where: words.t(`verdict.at.${part}`), share: words.percent(share, { digits: 0 }) });
  });
  return card(
    'stays',
    words.t('stays.heading'),
    // Numbered as on the drawing.
    zones.length ? list(zones.map(zone), 'ol', { class: 'spaced' }) : h('p', { text: words.t('stays.none') }),
    total > 0 && h('p', { class: 'sum', text: words.t('stays.total', { length: size(total) }) }),
    givenUp.length > 0 &&
      h('p', { text: words.t('stays.given_up', { parts: words.list(givenUp.map((one) => words.t(`part.${one.part}`))) }) }),
    drawn.length > 0 && h('p', { text: words.t('stays.drawn_in', { parts: words.list(drawn) }) }),
    stable.length > 0 && h('p', { text: words.t('stays.stable', { names: words.list(stable.map(({ name }) => setApart(name))) }) }),
  );
}

/**
 * How a tape is laid: its length, its width, its place, and whether one so wide fits there.
 * @param {StayZone} zone @param {Words} words @param {(mm: number) => string} size
 */
function layingOf(zone, words, size) {
  const { tape_each_mm: each, measured_from: edge, fit } = zone;
  const tape = each === undefined ? words.t('stays.length_of_seam') : words.count('stays.pieces', zone.pieces, { length: size(each) });
  if (fit === 'none_fits') return words.t('stays.fit.none_fits', { tape });
  const laid = words.t(`stays.laid.${edge}`, {
    tape,
    width: size(zone.tape_width_mm),
    from: size(zone.from_edge_mm),
    clear: size(Math.abs(zone.past_stitching_mm)),
  });
  if (fit === 'fits') return laid;
  return `${laid} ${words.t(`stays.fit.too_wide.${edge}`, { past: size(zone.past_stitching_mm), widest: size(zone.widest_tape_mm) })}`;
}

/** @param {What} what */
function clips({ plan, words, unit }) {
  if (!plan.clips) return null;
  const {
    trim_to_mm: trim,
    opens_mm: opens,
    knit_gives_mm: gives,
    least_apart_mm: apart,
    places_mm: places,
    count,
    into_corners: corners,
    lines,
  } = plan.clips;
  /** @param {number} mm */
  const size = (mm) => words.length(mm, unit);
  /** @param {number} index */
  const kind = (index) => (lines[index].kind === 'curve' ? '' : ` (${words.t(`clips.kind.${lines[index].kind}`)})`);
  return card(
    'clips',
    words.t('clips.heading'),
    h('p', { class: 'sum', text: count ? words.count('clips.count', count) : words.t('clips.none') }),
    corners > 0 && h('p', { text: words.count('clips.corners', corners) }),
    trim !== undefined && h('p', { text: words.t('clips.trim', { width: size(trim) }) }),
    opens > 0 && h('p', { text: words.t('clips.opens', { opens: size(opens), gives: size(gives) }) }),
    count > corners && h('p', { text: words.t('clips.apart', { apart: size(apart) }) }),
    places.length > 0 &&
      h('p', {
        text: words.t('clips.places', { places: places.map((mm, index) => size(mm) + kind(index)).join(words.t('list.semicolon')) }),
      }),
  );
}

/** @param {What} what */
function spans({ plan: { strip }, words, unit }) {
  if (!strip) return null;
  /** @param {number} mm */
  const size = (mm) => words.length(mm, unit);
  const names = markWords(strip, words);
  const rows = strip.spans.map((span, index) => [
    words.t('spans.from_to', { from: names[index], to: names[index + 1] }),
    spanDoes(span, words, unit),
    spread(span, words),
    words.percent(span.ripples_from_percent),
    words.percent(span.ratio_percent),
    size(span.width_mm),
    size(span.seam_line_mm),
    size(span.strip_mm),
  ]);
  const heads = ['span', 'does', 'free_edge', 'takes', 'ratio', 'width', 'seam_line', 'strip'].map((name) => words.t(`spans.${name}`));
  return h(
    'details',
    { class: 'card', id: 'card-spans' },
    h('summary', { text: words.t('spans.heading') }),
    h('p', { text: words.t('spans.lead') }),
    h(
      'div',
      { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': words.t('spans.heading') },
      table(words.t('spans.caption'), heads, rows),
    ),
  );
}

/** @param {Span} span @param {Words} words */
function spread({ free_edge_least_percent: least, free_edge_most_percent: most }, words) {
  const [low, high] = [words.number(least, { digits: 1 }), words.percent(most)];
  return words.percent(least) === high ? high : words.t('list.spread', { least: low, most: high });
}

/** @param {What} what */
function head({ plan: { opening }, brief, words, unit }) {
  /** @param {number} mm */
  const size = (mm) => words.length(mm, unit);
  /** @type {(string[] | false)[]} */
  const rows = [
    [words.t('head.girth'), size(opening.head_girth_mm)],
    opening.typical_head_mm !== undefined && [words.t('head.typical'), size(opening.typical_head_mm)],
    [words.t('head.margin'), size(opening.margin_mm)],
    [words.t('head.seam_line'), size(opening.seam_line_girth_mm)],
    [words.t('head.sewn'), size(opening.sewn_girth_mm)],
    opening.strip_girth_mm !== undefined && [words.t('head.strip'), size(opening.strip_girth_mm)],
    [words.t('head.smallest'), size(opening.smallest_girth_mm)],
    [words.t(opening.passes ? 'head.spare' : 'head.short'), size(Math.abs(opening.spare_mm))],
  ];
  const [advice, help] = [stitchAdvice(opening, brief, words), remedies(opening, brief, words, unit)];
  return card(
    'head',
    words.t('head.heading'),
    table(
      words.t('head.caption'),
      [words.t('table.what'), words.t('table.figure')],
      rows.filter((row) => row !== false),
    ),
    advice && h('p', { class: 'caution', text: advice }),
    help && h('div', { id: 'remedies' }, h('h4', { text: words.t('codes.remedy.heading') }), list(help)),
    h('p', { class: 'cushions', text: cushions(opening, words, unit) }),
    h('p', { class: 'source', text: words.t('head.source', { source: source(opening.head_source, words) }) }),
    h('p', {
      class: 'source',
      text: words.t('head.stitch', {
        extension: words.percent(opening.stitch_extension_percent),
        source: source(opening.stitch_source, words),
      }),
    }),
  );
}

/** What the margin is made of: its parts add up. @param {OpeningPlan} opening @param {Words} words @param {Unit} unit */
function cushions(opening, words, unit) {
  /** @param {number} mm */
  const size = (mm) => words.length(mm, unit);
  const values = {
    ease: size(opening.margin_mm),
    share: words.percent(opening.pull_share_percent),
    full: size(opening.full_stretch_girth_mm),
  };
  // Where all of the stretch opens no ring further, none is held back.
  const only = size(opening.smallest_girth_mm) === values.full ? '_ease' : '';
  if (opening.typical_head_mm === undefined) return words.t(`head.cushions.own${only}`, values);
  return words.t(`head.cushions.group${only}`, { ...values, larger: size(opening.head_girth_mm - opening.typical_head_mm) });
}

/** How the strip narrows once it is sewn, and where that is known from. @param {StripPlan} strip @param {Words} words @param {Unit} unit */
function narrows({ narrowing }, words, unit) {
  const [rest, sewn] = [narrowing.width_at_rest_mm, narrowing.width_as_sewn_mm].map((mm) => words.length(mm, unit));
  const stretch = words.percent(narrowing.stretch_percent);
  const ratio = words.number(narrowing.poisson_ratio, { digits: 2 });
  return h(
    'p',
    {},
    words.t(rest === sewn ? 'narrowing.none' : 'narrowing.cut', { stretch, rest, sewn }),
    ' ',
    words.t(`narrowing.from.${narrowing.from}`, { ratio }),
  );
}

/** @param {What} what */
function knits({ plan, words, unit }) {
  const { garment_knit: garment, strip_knit: strip, suitability } = plan;
  /** @param {string} name @param {(knit: KnitReport) => string} get */
  const row = (name, get) => [words.t(`knits.${name}`), get(garment), get(strip)];
  const rows = [
    row('crosswise', (knit) => words.percent(knit.crosswise_percent)),
    row('lengthwise', (knit) => words.percent(knit.lengthwise_percent)),
    row('diagonal', (knit) => words.percent(knit.diagonal_percent)),
    row('recovery', (knit) => words.percent(knit.recovery_percent)),
    row('growth', (knit) => (knit.growth_percent === undefined ? words.t('knits.not_read') : words.percent(knit.growth_percent))),
  ];
  rows.unshift(row('class', (knit) => words.t(`codes.class.${knit.class}`)));
  const notes = plan.fibre_notes.map((code) => words.t(`codes.fibre.${code}`));
  return card(
    'knit',
    words.t('knits.heading'),
    suitability.map((one) => verdictLine(passMark(one.suits), suitsTold(one, words))),
    suitability.some((one) => !one.suits && one.suits_turned) && h('p', { text: words.t('knits.suits_turned') }),
    table(
      words.t('knits.caption'),
      [words.t('table.what'), words.t('knits.garment'), words.t(plan.finish.shaped ? 'knits.facing' : 'knits.strip')],
      rows,
    ),
    h('p', { text: words.t(`knits.verdict.${strip.recovery}`) }),
    plan.strip && narrows(plan.strip, words, unit),
    strip.turns_on_the_other_grain && h('p', { text: words.t('knits.either_grain') }),
    notes.map((text) => h('p', { class: 'source', text })),
  );
}

/** @param {What} what */
function seamLine({ plan: { seam_line: line }, words, unit }) {
  /** @param {number} mm */
  const size = (mm) => words.length(mm, unit);
  /** @param {number} deg */
  const turn = (deg) => `${words.number(deg, { digits: 1 })}°`;
  /** @param {string} name @param {(half: HalfLine) => string} get */
  const row = (name, get) => [words.t(`line.${name}`), get(line.front), get(line.back)];
  const rows = [
    row('cut_edge', (half) => size(half.cut_edge_length_mm)),
    row('seam_line', (half) => size(half.length_mm)),
    row('half_width', (half) => size(half.half_width_mm)),
    row('depth', (half) => size(half.depth_mm)),
    row('turning', (half) => turn(half.turning_deg)),
    row('radius', (half) => (half.tightest_radius_mm === undefined ? words.t('line.straight') : size(half.tightest_radius_mm))),
  ];
  return card(
    'line',
    words.t('line.heading'),
    h('p', { class: 'sum', text: words.t('line.whole', { length: size(line.whole_length_mm), turning: turn(line.whole_turning_deg) }) }),
    table(words.t('line.caption'), [words.t('table.what'), words.t('half.front'), words.t('half.back')], rows),
  );
}

/** @param {What} what */
function assumptions({ plan, words }) {
  if (!plan.assumptions.length) return null;
  return card('assumptions', words.t('assumptions.heading'), list(plan.assumptions.map(({ code }) => words.t(`codes.assumption.${code}`))));
}
