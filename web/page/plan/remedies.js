// What would let a head pass that does not, and a stitch that serves, in words.

/** What would serve where the stitch would break; nothing where it gives enough. */
export function stitchAdvice({ stitch_advice: advice }, brief, words, unit) {
  if (!advice) return null;
  return words.t(`codes.stitch_advice.${brief.stitch === 'straight' ? 'straight' : 'zigzag'}`, {
    percent: words.percent(advice.seam_asks_percent),
    width: words.length(advice.zigzag_width_mm, unit),
    length: words.length(advice.zigzag_length_mm, unit),
  });
}

/** What would let the head pass, a line each, best first; nothing where it does. */
export function remedies({ remedies: all = [] }, brief, words, unit) {
  if (all.length === 0) return null;
  const lines = all.map((remedy) => remedyText(remedy, words, unit));
  if (brief.head.girth.child) lines.push(words.t('codes.remedy.children'));
  return lines;
}

function remedyText(remedy, words, unit) {
  const size = (mm) => words.length(mm, unit);
  const [code, value] = typeof remedy === 'string' ? [remedy] : Object.entries(remedy)[0];
  const say = (key, values) => words.t(`codes.remedy.${key}`, values);
  switch (code) {
    case 'larger_neck':
      return say(value.stayed ? 'larger_neck_stayed' : 'larger_neck_live', { length: size(value.by_mm), line: size(value.seam_line_mm) });
    case 'stretchier':
      return say(code, { percent: words.percent(value) });
    case 'other_direction':
      return say(`other_direction_${value}`);
    default:
      return say(code, { length: value === undefined ? '' : size(value) });
  }
}
