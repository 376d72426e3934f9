//! Whether the head passes: the rings and how far each can reach.

use serde::Serialize;

use crate::brief::{AdultGroup, Brief, ChildGroup, Direction, HeadGirth, Stitch};
use crate::girth::{Reach, Rings, Run};
use crate::source::Source;

/// Whether the head passes.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct OpeningPlan {
    /// The head's girth. mm.
    pub head_girth_mm: f64,
    /// Where the girth comes from.
    pub head_source: Source,
    /// The middle head of the same group: half of all are larger; none for a person's own measure. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub typical_head_mm: Option<f64>,
    /// Ease over it. mm.
    pub margin_mm: f64,
    /// How much of the knit's stretch is used while the head passes. Percent.
    pub pull_share_percent: f64,
    /// The greatest girth of the garment's seam line, stayed parts unstretched. mm.
    pub seam_line_girth_mm: f64,
    /// The greatest girth of the seam with the finish sewn to it: each piece as far as the shorter of the two reaches. mm.
    pub sewn_girth_mm: f64,
    /// The greatest girth of the strip where it is shortest across its width: at the free edge of a mitred or lapped
    /// band, else the same all across; none for a facing. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strip_girth_mm: Option<f64>,
    /// The smallest of them. mm.
    pub smallest_girth_mm: f64,
    /// How far the smallest would reach with all of the stretch used. mm.
    pub full_stretch_girth_mm: f64,
    /// Whether it is at least the head's girth and the margin.
    pub passes: bool,
    /// How much there is over the girth and margin; negative where it falls short. mm.
    pub spare_mm: f64,
    /// The stitch's own extension. Percent.
    pub stitch_extension_percent: f64,
    /// Where that comes from.
    pub stitch_source: Source,
    /// Where the stitch would break before the knit is stretched so far, and always for a straight stitch: what would
    /// serve.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stitch_advice: Option<StitchAdvice>,
    /// What would let the head pass where it does not, best first; empty where it passes, and in a plan without ranges.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "read-plan", serde(default))]
    pub remedies: Vec<Remedy>,
}

/// A stitch that gives as much as the seam is stretched: an overlock stitch, or a zigzag of this size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct StitchAdvice {
    /// How far the live part of the seam that stretches most is stretched while the head passes. Percent.
    pub seam_asks_percent: f64,
    /// The zigzag's stitch width. mm.
    pub zigzag_width_mm: f64,
    /// Its greatest stitch length. mm.
    pub zigzag_length_mm: f64,
}

/// What would let a head pass that does not.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
#[serde(rename_all = "snake_case")]
pub enum Remedy {
    /// An envelope shoulder, the front and back overlapping there: for children's tops.
    EnvelopeShoulder,
    /// A larger neck: the seam line cut this much lower all round.
    LargerNeck {
        /// How much lower, at right angles to the line. mm.
        by_mm: f64,
        /// The seam line's length then, all round. mm.
        seam_line_mm: f64,
        /// Whether what is to be stayed stays so; where not, it is left live as far as the head needs.
        stayed: bool,
    },
    /// A narrower strip: at most this finished width. mm.
    Narrower(f64),
    /// A stretchier strip: at least this stretch in its length. Percent.
    Stretchier(f64),
    /// The strip cut with its length another way in its knit.
    OtherDirection(Direction),
    /// A stitch that gives more.
    AnotherStitch,
    /// An opening in a shoulder seam, closed by a button or the like, at least this long. mm.
    ShoulderOpening(f64),
    /// A placket or slit from the neckline down, at least this long. mm.
    Placket(f64),
}

/// Extension of a lockstitch seam of usual stitch length, fraction: from memory. One technical text gives about 30
/// percent; others call the stitch unsuitable for knits, since its thread breaks, so the lower figure is taken.
const STRAIGHT: f64 = 0.10;
/// Extension of an overedge seam, fraction: from memory; so large that the knit decides.
const OVERLOCK: f64 = 1.0;

/// Head circumference for age, months: girls' median and +2 sd, boys' median and +2 sd, cm.
/// Source: WHO Child Growth Standards, head circumference for age (2007).
const CHILD_HEADS: [(f64, [f64; 2], [f64; 2]); 9] = [
    (0.0, [33.9, 36.2], [34.5, 37.0]),
    (3.0, [39.5, 42.0], [40.5, 42.9]),
    (6.0, [42.2, 44.8], [43.3, 45.8]),
    (12.0, [44.9, 47.6], [46.1, 48.6]),
    (18.0, [46.2, 49.0], [47.4, 50.0]),
    (24.0, [47.2, 50.0], [48.2, 51.0]),
    (36.0, [48.5, 51.3], [49.5, 52.3]),
    (48.0, [49.3, 52.2], [50.2, 53.1]),
    (60.0, [49.9, 52.8], [50.7, 53.7]),
];

/// A head girth in mm and where it comes from.
#[must_use]
pub fn head_girth(girth: HeadGirth) -> (f64, Source) {
    match girth {
        HeadGirth::OwnMm(mm) => (mm, Source::OwnMeasure),
        HeadGirth::Adult(AdultGroup::Women) => (597.0, Source::Ansur),
        HeadGirth::Adult(AdultGroup::Men) => (601.0, Source::Ansur),
        HeadGirth::Child { group, age_months } => {
            let (from, to) = head_rows(group, age_months, 1);
            (between(from, to, age_months), Source::Who)
        }
    }
}

/// The middle head of a group, mm; none for a person's own measure. ANSUR II: 50th percentiles; WHO: medians.
#[must_use]
pub fn typical_head(girth: HeadGirth) -> Option<f64> {
    match girth {
        HeadGirth::OwnMm(_) => None,
        HeadGirth::Adult(AdultGroup::Women) => Some(560.0),
        HeadGirth::Adult(AdultGroup::Men) => Some(574.0),
        HeadGirth::Child { group, age_months } => {
            let (from, to) = head_rows(group, age_months, 0);
            Some(between(from, to, age_months))
        }
    }
}

/// The two rows of the table that an age lies between, age in months and girth in mm: medians (column 0), or heads two
/// standard deviations larger (column 1).
pub(crate) fn head_rows(group: ChildGroup, age: f64, column: usize) -> ((f64, f64), (f64, f64)) {
    let of = |row: &(f64, [f64; 2], [f64; 2])| {
        let heads = match group {
            ChildGroup::Girls => row.1,
            ChildGroup::Boys => row.2,
        };
        (row.0, 10.0 * heads.get(column).copied().unwrap_or(0.0))
    };
    let mut pairs = CHILD_HEADS.iter().zip(CHILD_HEADS.iter().skip(1));
    let around = pairs.clone().find(|(_, b)| age <= b.0).or_else(|| pairs.next_back());
    around.map_or(((0.0, 0.0), (1.0, 0.0)), |(a, b)| (of(a), of(b)))
}

/// Linear between two rows; an age past the table's ends takes the nearer end.
fn between(from: (f64, f64), to: (f64, f64), age: f64) -> f64 {
    let share = ((age - from.0) / (to.0 - from.0)).clamp(0.0, 1.0);
    from.1 + share * (to.1 - from.1)
}

/// How far a seam of this stitch extends, as a fraction, and where that comes from.
///
/// A zigzag lays sqrt(w^2 + p^2) of thread in a swing of width w and advance p, so it extends by
/// sqrt(1 + (w/p)^2) - 1: its own geometry.
#[must_use]
pub fn stitch_extension(stitch: Stitch) -> (f64, Source) {
    match stitch {
        Stitch::Straight => (STRAIGHT, Source::LockstitchFromMemory),
        Stitch::Zigzag { width_mm, advance_mm } => ((width_mm / advance_mm).hypot(1.0) - 1.0, Source::ZigzagGeometry),
        Stitch::Overlock => (OVERLOCK, Source::OveredgeFromMemory),
    }
}

/// Stitch width of the zigzag that is named where a stitch would break, mm: judgement, within what home machines sew.
const ZIGZAG_WIDTH_MM: f64 = 3.0;
/// The longest and shortest stitch of such a zigzag, mm: judgement.
const ZIGZAG_LENGTHS_MM: [f64; 2] = [0.5, 2.5];

/// Girth of a ring that lets the head pass: the head and its margin, mm.
pub(crate) fn needed(brief: &Brief) -> f64 {
    head_girth(brief.head.girth).0 + brief.head.margin_mm
}

/// Compares the rings with the head. `stayed` is what is held along the half seam line.
pub(crate) fn opening(brief: &Brief, rings: &Rings, reach: &Reach, stayed: &[Run]) -> OpeningPlan {
    let (head_girth_mm, head_source) = head_girth(brief.head.girth);
    let (extension, stitch_source) = stitch_extension(brief.stitch);
    let smallest_girth_mm = reach.smallest();
    let spare_mm = smallest_girth_mm - needed(brief);
    let share = brief.rules.pull_share;
    OpeningPlan {
        head_girth_mm,
        head_source,
        typical_head_mm: typical_head(brief.head.girth),
        margin_mm: brief.head.margin_mm,
        pull_share_percent: 100.0 * share,
        seam_line_girth_mm: reach.seam.mm(),
        sewn_girth_mm: reach.sewn.mm(),
        strip_girth_mm: reach.free_edge,
        smallest_girth_mm,
        full_stretch_girth_mm: rings.reach(1.0, stayed).smallest(),
        passes: spare_mm >= 0.0,
        spare_mm,
        stitch_extension_percent: 100.0 * extension,
        stitch_source,
        stitch_advice: stitch_advice(brief.stitch, share * rings.liveliest(stayed)),
        remedies: Vec::new(),
    }
}

/// What would serve where the stitch breaks before the knit is stretched by `asks`, a fraction. A straight stitch is
/// always warned of: its thread breaks in a knit (seen in several sewing texts; common practice). An overlock is
/// reckoned with as giving what the knit does.
fn stitch_advice(stitch: Stitch, asks: f64) -> Option<StitchAdvice> {
    let breaks = match stitch {
        Stitch::Straight => true,
        Stitch::Zigzag { .. } => stitch_extension(stitch).0 + 1e-9 < asks,
        Stitch::Overlock => false,
    };
    breaks.then(|| StitchAdvice {
        seam_asks_percent: 100.0 * asks,
        zigzag_width_mm: ZIGZAG_WIDTH_MM,
        zigzag_length_mm: zigzag_length(asks),
    })
}

/// The longest stitch, in half millimetres, of a zigzag that gives this much: p = w / sqrt((1 + e)^2 - 1), the
/// zigzag's own geometry turned round.
fn zigzag_length(extension: f64) -> f64 {
    let [least, most] = ZIGZAG_LENGTHS_MM;
    let exact = ZIGZAG_WIDTH_MM / ((1.0 + extension).powi(2) - 1.0).sqrt().max(f64::MIN_POSITIVE);
    ((2.0 * exact + 1e-9).floor() / 2.0).clamp(least, most)
}
