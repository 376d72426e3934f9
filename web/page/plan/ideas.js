// The working as a lesson: its lines in the order that a teacher follows, under a heading each, the main ones told from the finer.

/** @import { Step } from '../types/plan.d.ts' */

/**
 * Topics in the order of the lesson, each with the figures of its main lines, in their order, by their paths without numbers. A path that
 * ends in a point stands for all that begin so, which are finer lines where no topic names them by themselves.
 */
const LESSON = /** @type {const} */ ({
  line: {
    main: [
      'seam_line.front.length_mm',
      'seam_line.back.length_mm',
      'seam_line.whole_length_mm',
      'seam_line.whole_turning_deg',
      'strip.stitch_line.length_mm',
    ],
    finer: ['seam_line.', 'strip.stitch_line.', 'strip.trim_mm'],
  },
  knit: {
    main: ['garment_knit.crosswise_percent', 'garment_knit.recovery_percent'],
    finer: ['garment_knit.', 'strip_knit.'],
  },
  length: {
    main: [
      'strip.hold_percent',
      'strip.relaxed_length_mm',
      'strip.ratio_percent',
      'strip.end_extra_mm',
      'strip.cut_length.exact_mm',
      'strip.cut_length.cut_mm',
    ],
    finer: [
      'strip.comfort_percent',
      'strip.straight_hold_percent',
      'strip.learned.',
      'strip.held_line_mm',
      'strip.ends.',
      'strip.back_ends.',
      'strip.cut_length.',
    ],
  },
  width: {
    main: ['finish.width_mm', 'strip.cut_width.exact_mm', 'strip.cut_width.cut_mm'],
    finer: [
      'finish.',
      'strip.narrowing.',
      'strip.cut_width.',
      'strip.rows.',
      'strip.topstitch_mm',
      'strip.widest_mm',
      'strip.understitch_stops_mm',
    ],
  },
  facing: {
    main: [
      'facing.front.seam_edge.cut_mm',
      'facing.front.outer_edge.exact_mm',
      'facing.front.outer_edge.cut_mm',
      'facing.back.seam_edge.cut_mm',
      'facing.back.outer_edge.cut_mm',
      'facing.cut_width.exact_mm',
      'facing.cut_width.cut_mm',
      'facing.favour_mm',
      'facing.understitch_length_mm',
    ],
    finer: ['facing.'],
  },
  marks: {
    main: ['strip.marks.on_strip_mm', 'strip.quartered.error_mm'],
    finer: ['strip.marks.', 'strip.spans.strip_mm', 'strip.spans.ratio_percent'],
  },
  lies: {
    main: ['strip.parts.stands_off_mm', 'strip.parts.drawn_in_percent'],
    finer: ['strip.spans.', 'strip.parts.', 'strip.quartered.'],
  },
  stays: { main: ['stays.zones.tape_each_mm', 'stays.zones.from_edge_mm', 'stays.total_tape_mm'], finer: ['stays.'] },
  clips: { main: ['clips.opens_mm', 'clips.knit_gives_mm', 'clips.count'], finer: ['clips.'] },
  head: {
    main: [
      'opening.head_girth_mm',
      'opening.seam_line_girth_mm',
      'opening.sewn_girth_mm',
      'opening.strip_girth_mm',
      'opening.smallest_girth_mm',
      'opening.spare_mm',
    ],
    finer: ['opening.'],
  },
});

/** @typedef {keyof typeof LESSON} Topic */
/** @typedef {{ topic: Topic, step: Step, isMain: boolean }} Idea one line of the working in its place */

/** @param {readonly string[]} paths @param {string} path */
const placeIn = (paths, path) => paths.findIndex((one) => path === one || (one.endsWith('.') && path.startsWith(one)));

/** Where a figure belongs: as a main line before all that a topic has as finer ones. @param {string} figure @returns {{ topic: Topic, at: number, isMain: boolean } | undefined} */
function placeOf(figure) {
  const path = figure.replace(/\.\d+/g, '');
  const topics = /** @type {Topic[]} */ (Object.keys(LESSON));
  for (const isMain of [true, false])
    for (const topic of topics) {
      const at = placeIn(LESSON[topic][isMain ? 'main' : 'finer'], path);
      if (at >= 0) return { topic, at, isMain };
    }
  return undefined;
}

/**
 * The lines of a working as a lesson.
 * @param {Step[]} steps @returns {Idea[]} topic by topic, of each the main lines and then the finer; what stands side by side stays together
 */
export function ideasOf(steps) {
  const topics = Object.keys(LESSON);
  const placed = steps.flatMap((step, i) => {
    const place = placeOf(step.figure);
    return place ? [{ ...place, step, i, of: Number(/\.(\d+)/.exec(step.figure)?.[1] ?? -1) }] : [];
  });
  // Of marks, spans and stays one after the other is told whole.
  const order = (/** @type {typeof placed[number]} */ a, /** @type {typeof placed[number]} */ b) =>
    topics.indexOf(a.topic) - topics.indexOf(b.topic) ||
    Number(b.isMain) - Number(a.isMain) ||
    (a.isMain ? (a.of >= 0 && b.of >= 0 ? a.of - b.of || a.at - b.at : a.at - b.at) : a.i - b.i);
  return placed.sort(order).map(({ topic, step, isMain }) => ({ topic, step, isMain }));
}

/** What of the drawing a figure is of, by how its path begins; what begins otherwise is of no one part. */
const LIT = Object.entries({
  'seam_line.': 'seam',
  'strip.stitch_line.': 'seam',
  'strip.marks.': 'marks',
  'strip.quartered.': 'marks',
  'strip.': 'strip',
  'finish.': 'strip',
  'opening.strip_girth_mm': 'strip',
  'opening.head': '',
  'opening.typical': '',
  'opening.stitch': '',
  'opening.': 'seam',
  'facing.': 'facing',
  'stays.': 'stays',
  'clips.': 'clips',
});

/** The part of the drawing that a figure is of: a word for the styles; none where it is of no one part. @param {string} figure */
export const litBy = (figure) => LIT.find(([start]) => figure.startsWith(start))?.[1] ?? '';
