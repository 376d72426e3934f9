// What a projector's screen is worth: pixels to a millimetre across and down, from one or two known lengths laid on the table.

/** @typedef {{ dx: number, dy: number, mm: number }} Known a known length: how far apart its ends are on the screen, px, and on the table, mm */
/** @typedef {'across' | 'down'} Way */
/** @typedef {Partial<Record<Way, Known>>} Knowns */
/** @typedef {[across: number, down: number]} Scale px to a millimetre */

/** Two lengths whose directions are closer together than this say too little of the two ways: the sine of the angle. Our judgement. */
const LEAST_SINE = 0.5;

/**
 * The scale that makes each known length as long as it is. One alone is taken for both ways; of two, whichever way they run,
 * (dx / across)² + (dy / down)² = mm² holds for each.
 * @param {Knowns} knowns
 * @returns {{ scale: Scale } | { problem: 'none' | 'alike' }}
 */
export function scaleOf({ across, down }) {
  const [one, other] = [across ?? down, across && down];
  if (!one) return { problem: 'none' };
  if (!other) {
    const both = Math.hypot(one.dx, one.dy) / one.mm;
    return { scale: [both, both] };
  }
  const cross = one.dx * other.dy - one.dy * other.dx;
  const sine = Math.abs(cross) / (Math.hypot(one.dx, one.dy) * Math.hypot(other.dx, other.dy));
  const [a, b, c, d] = [one.dx ** 2, one.dy ** 2, other.dx ** 2, other.dy ** 2];
  const whole = a * d - b * c;
  const squares = [one.mm ** 2 * d - other.mm ** 2 * b, other.mm ** 2 * a - one.mm ** 2 * c].map((part) => whole / part);
  if (!(sine >= LEAST_SINE) || !squares.every((square) => square > 0 && Number.isFinite(square))) return { problem: 'alike' };
  return { scale: [Math.sqrt(squares[0]), Math.sqrt(squares[1])] };
}

/** How much longer one way is than the other on the table, percent; 0 where they are alike. @param {Scale} scale */
export const differsBy = ([across, down]) => 100 * Math.abs(across / down - 1);

/** What a kept scale holds for: a screen and its zoom. */
const screenNow = () => [screen.width, screen.height, devicePixelRatio, visualViewport?.scale ?? 1].join(' ');

/** @param {unknown} one @returns {one is Known} */
const isKnown = (one) => {
  const { dx, dy, mm } = /** @type {Known} */ (one ?? {});
  return [dx, dy, mm].every(Number.isFinite) && mm > 0 && Math.hypot(dx, dy) > 0;
};

/** As text that is kept on the device. @param {Knowns} knowns */
export const written = (knowns) => JSON.stringify({ screen: screenNow(), ...knowns });

/**
 * What was kept, if it is for this screen as it is now; `changed` where it was for another.
 * @param {string | null} text @returns {{ knowns: Knowns, changed: boolean }}
 */
export function readAgain(text) {
  try {
    const { screen: kept, across, down } = JSON.parse(text ?? '{}');
    if (kept === undefined) return { knowns: {}, changed: false };
    if (kept !== screenNow()) return { knowns: {}, changed: true };
    return { knowns: { ...(isKnown(across) && { across }), ...(isKnown(down) && { down }) }, changed: false };
  } catch {
    return { knowns: {}, changed: false };
  }
}
