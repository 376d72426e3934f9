// The order of sewing as short steps, made from the plan, with cautions where they belong.

import { inert } from './inert.js';

/** Words for hands that hold a blade or an iron; said once each, at the first step they belong to. */
const CAUTIONS = { cut: ['blade'], press: ['iron'], stay: ['ends'] };

/**
 * @param {{ plan: object, brief: object, words: import('./words.js').Words, unit: string }} what
 * @returns {{ text: string, cautions: string[] }[]}
 */
export function steps(what) {
  const { brief, words } = what;
  const finish = Object.keys(brief.finish)[0];
  const child = Boolean(brief.head.girth.child);
  const order = [sample, cut, stay, shoulders, join, mark, trim, sew, clip, understitch, press, topstitch];
  return order.flatMap((make) => {
    const step = make({ ...what, finish });
    if (!step) return [];
    const [name, text] = step;
    const cautions = [...(CAUTIONS[name] ?? []), ...(name === 'sew' && child ? ['child'] : [])];
    return [{ text, cautions: cautions.map((caution) => words.t(`caution.${caution}`)) }];
  });
}

const sizes = ({ words, unit }) => (mm) => words.length(mm, unit);

const sample = ({ words }) => ['sample', words.t('steps.sample')];

function cut(what) {
  const { plan, words, finish, brief } = what;
  const size = sizes(what);
  if (plan.facing) return ['cut', words.t('steps.cut.facing', { width: size(plan.facing.cut_width.cut_mm) })];
  const direction = words.t(`steps.runs.${brief.strip_direction ?? 'crosswise'}`);
  const { cut_length: length, cut_width: width } = plan.strip;
  const one = words.t(`steps.cut.${finish}`, { length: size(length.cut_mm), width: size(width.cut_mm), direction });
  return ['cut', plan.strip.pieces === 2 ? `${one} ${words.t('ticket.two')}` : one];
}

function stay({ plan, words }) {
  const { zones } = plan.stays;
  if (!zones.length) return null;
  const parts = zones.map((zone) => inert(zone.name ?? '') || words.t(`part.${zone.part}`));
  return ['stay', words.t('steps.stay', { parts: words.list([...new Set(parts)]) })];
}

const shoulders = ({ words, finish }) => ['shoulders', words.t(finish === 'facing' ? 'steps.shoulders_facing' : 'steps.shoulders')];

function join(what) {
  const { plan, words } = what;
  if (!plan.strip) return null;
  const { ends } = plan.strip;
  const kind = typeof ends === 'string' ? ends : Object.keys(ends)[0];
  const size = sizes(what);
  const data = ends[kind] ?? {};
  return ['join', words.t(`steps.join.${kind}`, {
    allowance: size(plan.strip.end_extra_mm),
    over: data.overhang_mm === undefined ? '' : size(data.overhang_mm),
    lap: data.lap_width_mm === undefined ? '' : size(data.lap_width_mm),
  })];
}

function mark(what) {
  const { plan, words } = what;
  if (!plan.strip) return ['mark', words.t('steps.mark_facing')];
  const size = sizes(what);
  const names = markWords(plan.strip, words);
  const places = plan.strip.marks.map((one, index) => `${size(one.on_strip_mm)} (${names[index]})`);
  return ['mark', words.t('steps.mark', { places: places.join(words.t('list.semicolon')) })];
}

/** Each mark's name, those in between numbered from centre back as on the drawing. */
export function markWords(strip, words) {
  let between = 0;
  return strip.marks.map(({ place }) => {
    if (place === 'between') between += 1;
    return words.t(`place.${place}`, { n: words.number(between) });
  });
}

function trim(what) {
  const { plan, words } = what;
  if (!plan.strip?.trim_mm) return null;
  return ['trim', words.t('steps.trim', { trim: sizes(what)(plan.strip.trim_mm) })];
}

function sew(what) {
  const { words, finish, brief } = what;
  const width = brief.finish[finish].width_mm;
  return ['sew', words.t(`steps.sew.${finish}`, { allowance: sizes(what)(brief.neckline.neckline_allowance_mm), width: sizes(what)(width) })];
}

function clip({ plan, words }) {
  if (!plan.clips || !plan.clips.count) return null;
  return ['clip', words.count('steps.clip', plan.clips.count)];
}

function understitch(what) {
  const { plan, words, finish } = what;
  if (plan.facing) {
    return ['understitch', words.t('steps.understitch', { distance: sizes(what)(plan.facing.understitch_distance_mm), length: sizes(what)(plan.facing.understitch_length_mm) })];
  }
  return finish === 'tape' ? ['understitch', words.t('steps.understitch_tape')] : null;
}

const press = ({ words, finish }) => ['press', words.t(`steps.press.${finish}`)];

function topstitch(what) {
  const { words, finish, brief } = what;
  const own = brief.finish[finish];
  if (finish === 'tape') return ['topstitch', words.t('steps.topstitch.tape', { width: sizes(what)(own.width_mm) })];
  if (finish === 'bound') return ['topstitch', words.t('steps.topstitch.bound')];
  if (finish === 'facing') {
    return own.topstitch_mm ? ['topstitch', words.t('steps.topstitch.facing', { distance: sizes(what)(own.topstitch_mm) })] : ['tack', words.t('steps.tack')];
  }
  return ['topstitch', words.t('steps.topstitch.band')];
}
