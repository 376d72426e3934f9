// What the person says about a pattern's sizes, as the core wants it. Nothing is
// reckoned here: the core makes a brief of each size.

/** Readings of a half that can differ from size to size, by how the half is told. */
export function readingsOf(half) {
  const [way] = Object.keys(half.outline);
  if (way === 'drafted' || way === 'drawn') return ['half_width_mm', 'depth_mm'];
  const given = half.outline.measured;
  return ['half_length_mm', 'half_width_mm', 'depth_mm'].filter((name) => typeof given[name] === 'number');
}

/** A table to begin with: the base and one size either way, nothing growing yet. */
export function firstSizes() {
  return { mode: 'growth', smaller: 1, larger: 1, names: {}, backs: {}, growth: { front: {}, back: {}, head_mm: undefined }, readings: {} };
}

/** The steps from the base, smallest size first. */
export function stepsOf({ smaller, larger }) {
  return Array.from({ length: smaller + larger + 1 }, (_, i) => i - smaller);
}

const present = (values) => Object.fromEntries(Object.entries(values ?? {}).filter(([, value]) => typeof value === 'number'));

/**
 * The core's table of sizes.
 * @param {ReturnType<typeof firstSizes>} sizes
 * @param {object} brief
 * @param {(step: number) => string} nameOf
 */
export function sizeSet(sizes, brief, nameOf) {
  const { front, back } = brief.neckline;
  const only = (values, half) => {
    const names = readingsOf(half);
    return Object.fromEntries(Object.entries(present(values)).filter(([name]) => names.includes(name)));
  };
  const byGrowth = sizes.mode === 'growth';
  return {
    growth: byGrowth
      ? { front: only(sizes.growth.front, front), back: only(sizes.growth.back, back), head_mm: sizes.growth.head_mm ?? 0 }
      : {},
    sizes: stepsOf(sizes).map((step) => {
      const backStep = sizes.backs[step] ?? step;
      return {
        name: nameOf(step),
        front: byGrowth ? { steps: step } : { readings: only(sizes.readings[step]?.front, front) },
        back: byGrowth ? { steps: backStep } : { readings: only(sizes.readings[backStep]?.back, back) },
      };
    }),
  };
}

/**
 * The cut figures of a plan, each with the key of its words and, in its order, the same for every size.
 * @returns {{ key: string, values?: object, mm: number }[]}
 */
export function cutFigures(plan) {
  const figures = [{ key: 'seam_line', mm: plan.seam_line.whole_length_mm }];
  const { strip, facing, stays, opening } = plan;
  if (strip) {
    // With a point in front and at the back the strip is cut twice.
    figures.push(
      { key: strip.pieces === 2 ? 'cut_length_each' : 'cut_length', mm: strip.cut_length.cut_mm },
      { key: 'cut_width', mm: strip.cut_width.cut_mm },
    );
    for (const { place, number, on_strip_mm: mm } of strip.marks) {
      if (place === 'centre_back') continue;
      figures.push({ key: `mark_${place}`, ...(number && { values: { count: number } }), mm });
    }
  }
  if (facing) {
    for (const half of ['front', 'back']) {
      figures.push(
        { key: `facing_${half}_seam`, mm: facing[half].seam_edge.cut_mm },
        { key: `facing_${half}_outer`, mm: facing[half].outer_edge.cut_mm },
      );
    }
    figures.push({ key: 'facing_width', mm: facing.cut_width.cut_mm });
  }
  if (stays.total_tape_mm > 0) figures.push({ key: 'stay_tape', mm: stays.total_tape_mm });
  figures.push({ key: 'spare', mm: opening.spare_mm });
  return figures;
}
