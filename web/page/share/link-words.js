// The words that links write as a number: names and choices of the brief. The
// number is the place in this list, so words are only ever added, at the end:
// a link made today must be read by every later version.

/** @type {readonly string[]} */
export const WORDS = Object.freeze(
  `
schema version title neckline readings_at neckline_allowance_mm front back outline measured drafted drawn
half_length_mm half_width_mm depth_mm path_mm shape kind roundness_percent corner_radius_mm leg_hollow_percent
centre fold seam allowance_mm shoulder_allowance_mm shoulder_slope_deg garment_knit strip_knit strip_direction name
crosswise lengthwise diagonal readings percent rest_mm stretched_mm released_mm stretch_percent recovery_percent
thickness_mm elastane_percent finish band tape facing bound width_mm layers folded single point mitre lap
join_allowance_mm ratio_percent turn_under_mm understitch_mm edge_allowance_mm topstitch_mm stitch straight zigzag
overlock advance_mm head girth own_mm adult women men child group girls boys age_months margin_mm stays
tape_width_mm catch_mm shoulders shoulder_length_mm edges part length_mm gathered_from_mm direction
centre_front_seam centre_back_seam shoulder gathered other pattern_asks crosswise_percent lengthwise_percent
rounding millimetre eighth_inch tolerances reading_mm stretch_points recovery_points roundness_points rules
hold_share comfort_share tape_hold pull_share mark_tolerance_mm clip_opening_mm turn_per_thickness
cut_edge seam_line round scoop v square boat lieflat.brief
learned held_line_mm strip_mm outcome lay_flat stood_away pulled_in by_mm recorded pieces
passing_rise_mm passing_lean_deg
jersey rib interlock poisson_ratio swatch_width slope_deg width sewn_mm unnarrowed_mm uncertainty_mm
`
    .trim()
    .split(/\s+/),
);
