//! What the person may change of how things are reckoned: rounding, tolerances, the constants of the rules.

use serde::{Deserialize, Serialize};

use crate::limits::Limits;

/// How far a reading may be off. mm.
pub(crate) const READING_OFF_MM: Limits = [0.0, 50.0];
/// How far a percentage may be off. Percent points.
pub(crate) const PERCENT_OFF_POINTS: Limits = [0.0, 100.0];
/// How far sewing may be off. mm.
pub(crate) const SEWN_OFF_MM: Limits = [0.0, 20.0];
pub(crate) const POISSON_OFF: Limits = [0.0, 1.0];
pub(crate) const SLOPE_OFF_DEG: Limits = [0.0, 20.0];
/// How far a shape's fullness may be off. Percent points.
pub(crate) const ROUNDNESS_OFF_POINTS: Limits = [0.0, 30.0];
/// The constants of the rules, each beside its field below.
pub(crate) const HOLD_SHARE: Limits = [0.0, 0.5];
pub(crate) const COMFORT_SHARE: Limits = [0.1, 1.0];
pub(crate) const TAPE_HOLD: Limits = [0.0, 0.2];
pub(crate) const PULL_SHARE: Limits = [0.1, 1.0];
pub(crate) const MARK_TOLERANCE_MM: Limits = [0.5, 50.0];
/// How high a free edge may rise off the flat and still pass. mm.
pub(crate) const PASSING_RISE_MM: Limits = [0.0, 20.0];
/// How far a standing strip may lean off the flat and still pass. Degrees.
pub(crate) const PASSING_LEAN_DEG: Limits = [0.0, 90.0];
pub(crate) const CLIP_OPENING_MM: Limits = [1.0, 20.0];
pub(crate) const TURN_PER_THICKNESS: Limits = [0.0, 4.0];

/// What cut figures are rounded to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Rounding {
    /// Whole millimetres.
    #[default]
    Millimetre,
    /// Eighths of an inch.
    EighthInch,
    /// Sixteenths of an inch.
    SixteenthInch,
}

impl Rounding {
    /// The step of rounding in mm.
    #[must_use]
    pub const fn step_mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::EighthInch => crate::length::MM_PER_INCH / 8.0,
            Self::SixteenthInch => crate::length::MM_PER_INCH / 16.0,
        }
    }

    /// Rounds a length to the nearest step. A plan's cut figures also keep within their ranges, see [`crate::plan::Figure`].
    #[must_use]
    pub fn round_mm(self, mm: f64) -> f64 {
        (mm / self.step_mm()).round() * self.step_mm()
    }
}

/// How far readings may be off, either way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Tolerances {
    /// A tape reading of the neckline, and a draft's width or depth. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(READING_OFF_MM)))]
    pub reading_mm: f64,
    /// A stretch percentage, in points.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(PERCENT_OFF_POINTS)))]
    pub stretch_points: f64,
    /// A recovery percentage, in points.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(PERCENT_OFF_POINTS)))]
    pub recovery_points: f64,
    /// A seam allowance as sewn. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(SEWN_OFF_MM)))]
    pub allowance_mm: f64,
    /// Poisson's ratio of the strip. A ratio.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(POISSON_OFF)))]
    pub poisson_ratio: f64,
    /// A shoulder's slope. Degrees.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(SLOPE_OFF_DEG)))]
    pub slope_deg: f64,
    /// A finished width as sewn. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(SEWN_OFF_MM)))]
    pub width_mm: f64,
    /// The fullness of an assumed shape, in points of roundness.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(ROUNDNESS_OFF_POINTS)))]
    pub roundness_points: f64,
}

impl Default for Tolerances {
    /// A tape reading about 2 mm and stretch about 5 points (the design's); the rest our judgement.
    fn default() -> Self {
        Self {
            reading_mm: 2.0,
            stretch_points: 5.0,
            recovery_points: 10.0,
            allowance_mm: 1.0,
            poisson_ratio: 0.1,
            slope_deg: 2.0,
            width_mm: 1.0,
            roundness_points: 8.0,
        }
    }
}

/// The constants of the rules. Each is a judgement stated with its ground; none is a published value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Rules {
    /// h: the part of the strip's stretch that its free edge keeps as hold, before recovery. Fraction.
    ///
    /// 0.10 puts ribs of 100 percent at two thirds to three quarters of a round neck for widths of
    /// about 15 to 20 mm, which is the published range (see the reference checks).
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(HOLD_SHARE)))]
    pub hold_share: f64,
    /// phi: the part of a knit's stretch that an edge may keep for good. Fraction.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(COMFORT_SHARE)))]
    pub comfort_share: f64,
    /// `hold_t`: the strain a facing strip's seam edge keeps, so that it is cut a little shorter. Fraction.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(TAPE_HOLD)))]
    pub tape_hold: f64,
    /// The part of a knit's stretch that is used when the head passes. Fraction.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(PULL_SHARE)))]
    pub pull_share: f64,
    /// How far an even spread between two marks may be off before another mark is set. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(MARK_TOLERANCE_MM)))]
    pub mark_tolerance_mm: f64,
    /// How high a strip's free edge may rise off the flat and still pass: by ripples anywhere, and in front in any way. mm.
    ///
    /// Steam and the knit's own give take up about 2 mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(PASSING_RISE_MM)))]
    pub passing_rise_mm: f64,
    /// How far a strip may lean off the flat where it stands up at the neck points and at the back, and still pass. Degrees.
    ///
    /// The neck itself rises there, and a crew's band stands along it.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(PASSING_LEAN_DEG)))]
    pub passing_lean_deg: f64,
    /// How far one clip opens. mm.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(CLIP_OPENING_MM)))]
    pub clip_opening_mm: f64,
    /// Turn of cloth for one layer folded over, as a multiple of its thickness.
    ///
    /// pi/2 is the length of the middle of the layer round a fold with no gap: a half circle of
    /// radius half the thickness.
    #[cfg_attr(feature = "schema", schemars(transform = crate::limits::within(TURN_PER_THICKNESS)))]
    pub turn_per_thickness: f64,
}

impl Default for Rules {
    fn default() -> Self {
        Self {
            hold_share: 0.10,
            comfort_share: 0.60,
            tape_hold: 0.02,
            pull_share: 0.80,
            mark_tolerance_mm: 3.0,
            passing_rise_mm: 2.0,
            passing_lean_deg: 60.0,
            clip_opening_mm: 4.0,
            turn_per_thickness: core::f64::consts::FRAC_PI_2,
        }
    }
}
