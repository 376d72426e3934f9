// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.
// What is taken where a field is absent, by its type in types/brief.d.ts.

export const Brief = { strip_direction: 'crosswise', stitch: 'overlock', rounding: 'millimetre' };
export const Half = { centre: 'fold', shoulder_slope_deg: 20 };
export const Knit = { thickness_mm: 0.8 };
export const StretchPercent = { recovery_percent: 90 };
export const Band = { layers: 'folded', point: 'mitre', join_allowance_mm: 6 };
export const Bound = { layers: 'single', turn_under_mm: 0, join_allowance_mm: 6 };
export const Tape = { turn_under_mm: 0, join_allowance_mm: 6 };
export const Facing = { understitch_mm: 1.6, edge_allowance_mm: 0 };
export const Head = { margin_mm: 20 };
export const Stays = { tape_width_mm: 9.5, catch_mm: 1, shoulders: true };
export const StayEdge = { pieces: 1 };
export const Tolerances = { reading_mm: 2, stretch_points: 5, recovery_points: 10, allowance_mm: 1, poisson_ratio: 0.1, slope_deg: 2, width_mm: 1, roundness_points: 8 };
export const Rules = { hold_share: 0.1, comfort_share: 0.6, tape_hold: 0.02, pull_share: 0.8, mark_tolerance_mm: 3, passing_rise_mm: 2, passing_lean_deg: 60, clip_opening_mm: 4, turn_per_thickness: 1.5707963267948966 };

/** By the kind of a shape. Percent. */
export const ROUNDNESS = { round: 55.2, scoop: 68, boat: 60 };
