// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.
// The fields of a brief by its types: 0 is a plain value, a name another type, a list what is in the list.

export const Shape = { kind: 0, roundness_percent: 0, corner_radius_mm: 0, leg_hollow_percent: 0 };
export const Measured = { half_length_mm: 0, half_width_mm: 0, depth_mm: 0, shape: Shape };
export const Drafted = { half_width_mm: 0, depth_mm: 0, shape: Shape };
export const Drawn = { path_mm: 0, uncertainty_mm: 0 };
export const Outline = { measured: Measured, drafted: Drafted, drawn: Drawn };
export const Centre = { seam: { allowance_mm: 0 } };
export const Half = { outline: Outline, centre: Centre, shoulder_allowance_mm: 0, shoulder_slope_deg: 0 };
export const Neckline = { readings_at: 0, neckline_allowance_mm: 0, front: Half, back: Half };
export const Stretch = { readings: { rest_mm: 0, stretched_mm: 0, released_mm: 0 }, percent: { stretch_percent: 0, recovery_percent: 0 } };
export const PoissonRatio = { crosswise: 0, lengthwise: 0 };
export const SwatchWidth = { rest_mm: 0, stretched_mm: 0 };
export const SwatchWidths = { crosswise: SwatchWidth, lengthwise: SwatchWidth };
export const SewnWidth = { sewn_mm: 0, unnarrowed_mm: 0, stretch_percent: 0 };
export const SewnRecord = { finish: 0, held_line_mm: 0, strip_mm: 0, outcome: 0, by_mm: 0, width: SewnWidth, recorded: 0 };
export const Knit = { name: 0, crosswise: Stretch, lengthwise: Stretch, diagonal: Stretch, kind: 0, poisson_ratio: PoissonRatio, swatch_width: SwatchWidths, thickness_mm: 0, elastane_percent: 0, learned: [SewnRecord] };
export const Band = { width_mm: 0, layers: 0, point: 0, join_allowance_mm: 0, ratio_percent: 0 };
export const Bound = { width_mm: 0, layers: 0, turn_under_mm: 0, join_allowance_mm: 0, ratio_percent: 0 };
export const Tape = { width_mm: 0, turn_under_mm: 0, join_allowance_mm: 0, ratio_percent: 0 };
export const Facing = { width_mm: 0, understitch_mm: 0, edge_allowance_mm: 0, topstitch_mm: 0 };
export const Finish = { band: Band, bound: Bound, tape: Tape, facing: Facing };
export const Stitch = { zigzag: { width_mm: 0, advance_mm: 0 } };
export const HeadGirth = { own_mm: 0, adult: 0, child: { group: 0, age_months: 0 } };
export const Head = { girth: HeadGirth, margin_mm: 0 };
export const StayEdge = { name: 0, part: 0, length_mm: 0, gathered_from_mm: 0, direction: 0, allowance_mm: 0, pieces: 0 };
export const Stays = { tape_width_mm: 0, catch_mm: 0, shoulders: 0, shoulder_length_mm: 0, edges: [StayEdge] };
export const PatternAsks = { crosswise_percent: 0, lengthwise_percent: 0 };
export const Tolerances = { reading_mm: 0, stretch_points: 0, recovery_points: 0, allowance_mm: 0, poisson_ratio: 0, slope_deg: 0, width_mm: 0, roundness_points: 0 };
export const Rules = { hold_share: 0, comfort_share: 0, tape_hold: 0, pull_share: 0, mark_tolerance_mm: 0, passing_rise_mm: 0, passing_lean_deg: 0, clip_opening_mm: 0, turn_per_thickness: 0 };
export const Brief = { schema: 0, version: 0, title: 0, neckline: Neckline, garment_knit: Knit, strip_knit: Knit, strip_direction: 0, finish: Finish, stitch: Stitch, head: Head, stays: Stays, pattern_asks: PatternAsks, rounding: 0, tolerances: Tolerances, rules: Rules };
