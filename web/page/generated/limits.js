// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.
// The least and the greatest that a field takes, of a list how many it takes, by its type in types/brief.d.ts.

export const Neckline = { neckline_allowance_mm: [0, 60] };
export const Half = { shoulder_allowance_mm: [0, 60], shoulder_slope_deg: [0, 45] };
export const Measured = { half_length_mm: [20, 1500], half_width_mm: [10, 600], depth_mm: [2, 700] };
export const Shape = { roundness_percent: [20, 90], corner_radius_mm: [0, 200], leg_hollow_percent: [-8, 8] };
export const Drafted = { half_width_mm: [10, 600], depth_mm: [2, 700] };
export const Drawn = { uncertainty_mm: [0, 20] };
export const CentreSeam = { allowance_mm: [0, 60] };
export const Knit = { thickness_mm: [0, 10], elastane_percent: [0, 50], learned: [0, 200] };
export const StretchReadings = { rest_mm: [20, 1000], stretched_mm: [20, 5000] };
export const StretchPercent = { stretch_percent: [0, 400], recovery_percent: [1, 100] };
export const PoissonRatio = { crosswise: [0, 1], lengthwise: [0, 1] };
export const SwatchWidth = { rest_mm: [5, 1000] };
export const SewnRecord = { held_line_mm: [100, 4000] };
export const SewnWidth = { unnarrowed_mm: [2, 200], stretch_percent: [1, 200] };
export const Band = { width_mm: [3, 150], join_allowance_mm: [0, 60], ratio_percent: [30, 120] };
export const Bound = { width_mm: [3, 40], turn_under_mm: [0, 30], join_allowance_mm: [0, 60], ratio_percent: [30, 120] };
export const Tape = { width_mm: [3, 80], turn_under_mm: [0, 30], join_allowance_mm: [0, 60], ratio_percent: [30, 120] };
export const Facing = { width_mm: [20, 200], understitch_mm: [0.5, 6], edge_allowance_mm: [0, 30], topstitch_mm: [1, 100] };
export const StitchZigzag = { width_mm: [0.1, 10], advance_mm: [0.2, 10] };
export const Head = { margin_mm: [0, 200] };
export const HeadGirthOwnMm = { own_mm: [250, 800] };
export const HeadGirthChild = { age_months: [0, 60] };
export const Stays = { tape_width_mm: [3, 40], catch_mm: [0, 10], shoulder_length_mm: [20, 400], edges: [0, 12] };
export const StayEdge = { length_mm: [10, 2000], allowance_mm: [0, 60], pieces: [1, 8] };
export const PatternAsks = { crosswise_percent: [0, 400], lengthwise_percent: [0, 400] };
export const Tolerances = { reading_mm: [0, 50], stretch_points: [0, 100], recovery_points: [0, 100], allowance_mm: [0, 20], poisson_ratio: [0, 1], slope_deg: [0, 20], width_mm: [0, 20], roundness_points: [0, 30] };
export const Rules = { hold_share: [0, 0.5], comfort_share: [0.1, 1], tape_hold: [0, 0.2], pull_share: [0.1, 1], mark_tolerance_mm: [0.5, 50], passing_rise_mm: [0, 20], passing_lean_deg: [0, 90], clip_opening_mm: [1, 20], turn_per_thickness: [0, 4] };

/** How many segments a drawn path has. */
export const PATH_SEGMENTS = [1, 200];
