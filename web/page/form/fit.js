// Whether the page can show a brief, wrong values and all.

/**
 * Where an error stands that no field of the form could mend: the brief is none, or not of this version, or one of its
 * lists has more in it than a brief may hold. How many that is the core says.
 */
export const UNFIT = ['', 'schema', 'version', 'stays.edges', 'garment_knit.learned', 'strip_knit.learned'];

/** @param {import('../plan/reckoner.js').Answer} answer the core's to the brief */
export const isFit = ({ errors }) => !errors?.some(({ field }) => UNFIT.includes(field));
