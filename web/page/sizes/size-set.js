// What the person says about a pattern's sizes, as the core wants it. Nothing is
// reckoned here: the core makes a brief of each size.

/** @import { Brief, Half } from '../types/brief.d.ts' */
/** @import { Plan } from '../types/plan.d.ts' */

/** @typedef {'half_length_mm' | 'half_width_mm' | 'depth_mm'} ReadingName */
/** @typedef {Partial<Record<ReadingName, number | null>>} Readings mm; none where nothing was read */
/**
 * @typedef {object} Sizes what the person says about a pattern's sizes; the base is step 0
 * @property {'growth' | 'readings'} mode
 * @property {number} smaller
 * @property {number} larger
 * @property {Record<number, string>} names
 * @property {Record<number, number>} backs from which step the back is, where it is another's
 * @property {{ front: Readings, back: Readings, head_mm?: number | null }} growth from one size to the next
 * @property {Record<number, { front: Readings, back: Readings, head_mm?: number | null }>} readings
 * @property {boolean} [asBrought] whether each size is the line that was brought of it, in place of both modes
 * @property {Brought} [brought]
 */
/** @typedef {{ path_mm: string, uncertainty_mm: number }} Line a half's outline of one size, as a brief's drawn one */
/** @typedef {{ front?: Line[], back?: Line[] }} Brought the lines of a pattern's sizes, the smallest size first */
/** @typedef {{ key: string, values?: Record<string, number>, mm: number }} CutFigure */
/** @typedef {{ steps: number } | { readings: Readings }} HalfOfSize */
/**
 * @typedef {object} SizeSet the core's table of sizes
 * @property {{ front?: Readings, back?: Readings, head_mm?: number }} growth
 * @property {{ name: string, front: HalfOfSize, back: HalfOfSize, head_girth_mm?: number }[]} sizes
 */

/** @type {ReadingName[]} */
const READINGS = ['half_length_mm', 'half_width_mm', 'depth_mm'];

/** Readings of a half that can differ from size to size, by how the half is told. @param {Half} half @returns {ReadingName[]} */
export function readingsOf(half) {
  const given = half.outline.measured;
  if (!given) return ['half_width_mm', 'depth_mm'];
  return READINGS.filter((name) => typeof given[name] === 'number');
}

/** A table to begin with: the base and one size either way, nothing growing yet. @returns {Sizes} */
export function firstSizes() {
  return { mode: 'growth', smaller: 1, larger: 1, names: {}, backs: {}, growth: { front: {}, back: {}, head_mm: undefined }, readings: {} };
}

/** The steps from the base, smallest size first. @param {Pick<Sizes, 'smaller' | 'larger'>} sizes */
export function stepsOf({ smaller, larger }) {
  return Array.from({ length: smaller + larger + 1 }, (_, i) => i - smaller);
}

/**
 * The core's table of sizes.
 * @param {Sizes} sizes
 * @param {Brief} brief
 * @param {(step: number) => string} nameOf
 * @returns {SizeSet}
 */
export function sizeSet(sizes, brief, nameOf) {
  const { front, back } = brief.neckline;
  /** @param {Readings | undefined} values @param {Half} half @returns {Readings} */
  const only = (values, half) =>
    Object.fromEntries(readingsOf(half).flatMap((name) => (typeof values?.[name] === 'number' ? [[name, values[name]]] : [])));
  const byGrowth = sizes.mode === 'growth';
  return {
    growth: byGrowth
      ? { front: only(sizes.growth.front, front), back: only(sizes.growth.back, back), head_mm: sizes.growth.head_mm ?? 0 }
      : {},
    sizes: stepsOf(sizes).map((step) => {
      const backStep = sizes.backs[step] ?? step;
      return {
        name: nameOf(step),
        ...(!byGrowth && { head_girth_mm: sizes.readings[step]?.head_mm ?? undefined }),
        front: byGrowth ? { steps: step } : { readings: only(sizes.readings[step]?.front, front) },
        back: byGrowth ? { steps: backStep } : { readings: only(sizes.readings[backStep]?.back, back) },
      };
    }),
  };
}

/**
 * The brief of one size whose lines were brought; a half that was not brought is the base's.
 * @param {Sizes} sizes @param {Brief} brief @param {number} step @param {string} name @returns {Brief}
 */
export function broughtBrief({ brought, smaller, backs }, brief, step, name) {
  /** @param {'front' | 'back'} half @param {number} at */
  const halfOf = (half, at) => {
    const line = brought?.[half]?.[at + smaller];
    return line ? { ...brief.neckline[half], outline: { drawn: line } } : brief.neckline[half];
  };
  const neckline = { ...brief.neckline, front: halfOf('front', step), back: halfOf('back', backs[step] ?? step) };
  return { ...brief, title: [brief.title, name].filter(Boolean).join(', '), neckline };
}

/**
 * A table of the sizes that a pattern's file holds.
 * @param {Partial<Record<'front' | 'back', { name: string, edge: Line }[]>>} halves @param {number} base which of them the brief is
 * @returns {Sizes}
 */
export function sizesOf(halves, base) {
  const all = halves.front ?? halves.back ?? [];
  /** @param {{ name: string, edge: Line }[]} [lines] */
  const linesOf = (lines) => lines?.map(({ edge: { path_mm, uncertainty_mm } }) => ({ path_mm, uncertainty_mm }));
  return {
    ...firstSizes(),
    smaller: base,
    larger: all.length - 1 - base,
    names: Object.fromEntries(all.map(({ name }, i) => [i - base, name])),
    asBrought: true,
    brought: { front: linesOf(halves.front), back: linesOf(halves.back) },
  };
}

/**
 * Whether anything is told of a size that makes it another than the base: without that its figures would be the base's.
 * @param {Sizes} sizes @param {number} step
 */
export function isTold({ mode, growth, readings, asBrought }, step) {
  if (asBrought) return true;
  const { front, back, head_mm: head } = (mode === 'growth' ? growth : readings[step]) ?? { front: {}, back: {} };
  return step === 0 || [...Object.values(front), ...Object.values(back), head].some(Boolean);
}

/**
 * The cut figures of a plan, each with the key of its words and, in its order, the same for every size.
 * @param {Plan} plan
 * @returns {CutFigure[]}
 */
export function cutFigures(plan) {
  /** @type {CutFigure[]} */
  const figures = [];
  const { strip, facing, stays, opening } = plan;
  if (strip) {
    // With a point in front and at the back the strip is cut twice.
    figures.push(
      { key: strip.pieces === 2 ? 'cut_length_each' : 'cut_length', mm: strip.cut_length.cut_mm },
      { key: 'cut_width', mm: strip.cut_width.cut_mm },
    );
    for (const { place, number, on_strip_mm: mm } of strip.marks) {
      if (place === 'centre_back') continue;
      figures.push({ key: `mark_${place}`, ...(number !== undefined && { values: { count: number } }), mm });
    }
  }
  if (facing) {
    for (const half of /** @type {const} */ (['front', 'back'])) {
      figures.push(
        { key: `facing_${half}_seam`, mm: facing[half].seam_edge.cut_mm },
        { key: `facing_${half}_outer`, mm: facing[half].outer_edge.cut_mm },
      );
    }
    figures.push({ key: 'facing_width', mm: facing.cut_width.cut_mm });
  }
  // What is cut stands first, beside the size's name: on a phone the rest lies to the side.
  figures.push({ key: 'seam_line', mm: plan.seam_line.whole_length_mm });
  if (stays.total_tape_mm > 0) figures.push({ key: 'stay_tape', mm: stays.total_tape_mm });
  figures.push({ key: 'spare', mm: opening.spare_mm });
  return figures;
}
