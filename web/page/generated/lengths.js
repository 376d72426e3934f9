// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.
// How lengths are shown.

/** mm in one of each unit. */
export const UNIT_MM = { mm: 1, cm: 10, in: 25.4 };
/** The steps that each unit is shown in, finest first: the least length shown so, mm, and the parts of the unit. */
export const STEPS = { mm: [[0, 10]], cm: [[0, 100], [10, 10]], in: [[0, 32], [3.175, 16]] };
/** The finest parts of an inch that are shown where a length is exactly so many. */
export const EXACT_INCH_PARTS = 64;
/** A fraction of an inch that is this near is the length. mm. */
export const CLOSE_MM = 0.005;
/** What is less than this is nothing. mm. */
export const NOTHING_MM = 0.001;
/** Two lengths this near are one. mm. */
export const SAME_MM = 0.000001;
