// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.
// What a new brief begins with, in metric and in inches, by its type in types/brief.d.ts.

export const Neckline = { neckline_allowance_mm: [10, 9.525] };
export const Half = { shoulder_allowance_mm: [10, 9.525] };
export const CentreSeam = { allowance_mm: [10, 9.525] };
export const StretchReadings = { rest_mm: [100, 101.6] };
export const Band = { width_mm: [15, 15.875], join_allowance_mm: [6, 6.35] };
export const Bound = { width_mm: [10, 9.525], turn_under_mm: [6, 6.35], join_allowance_mm: [6, 6.35] };
export const Tape = { width_mm: [12, 12.7], turn_under_mm: [0, 0], join_allowance_mm: [6, 6.35] };
export const Facing = { width_mm: [55, 57.15], understitch_mm: [1.6, 1.5875], edge_allowance_mm: [0, 0] };
export const Head = { margin_mm: [20, 19.05] };
export const Stays = { tape_width_mm: [9.5, 9.525], catch_mm: [1, 1.5875] };
export const StayEdge = { allowance_mm: [10, 9.525] };
export const Brief = { rounding: /** @type {const} */ (['millimetre', 'eighth_inch']) };
