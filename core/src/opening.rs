//! Whether the head passes: the rings and how far each can reach.

use crate::brief::{AdultGroup, ChildGroup, HeadGirth, Stitch};
use crate::plan::OpeningPlan;
use crate::source::Source;

/// Extension of a lockstitch seam, fraction. Source: one technical text, a weak source (about 30 percent).
const STRAIGHT: f64 = 0.30;
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
            let (from, to) = child_heads(group, age_months);
            (between(from, to, age_months), Source::Who)
        }
    }
}

/// The two rows of the table that an age lies between: age in months, girth in mm.
pub(crate) fn child_heads(group: ChildGroup, age: f64) -> ((f64, f64), (f64, f64)) {
    let of = |row: &(f64, [f64; 2], [f64; 2])| {
        let large = match group {
            ChildGroup::Girls => row.1[1],
            ChildGroup::Boys => row.2[1],
        };
        (row.0, 10.0 * large)
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
        Stitch::Straight => (STRAIGHT, Source::OneTechnicalText),
        Stitch::Zigzag { width_mm, advance_mm } => ((width_mm / advance_mm).hypot(1.0) - 1.0, Source::ZigzagGeometry),
        Stitch::Overlock => (OVERLOCK, Source::OveredgeFromMemory),
    }
}

/// Compares the rings with the head.
pub(crate) fn opening(brief: &crate::Brief, seam_line_girth_mm: f64, strip_girth_mm: Option<f64>) -> OpeningPlan {
    let (head_girth_mm, head_source) = head_girth(brief.head.girth);
    let (extension, stitch_source) = stitch_extension(brief.stitch);
    let smallest_girth_mm = strip_girth_mm.map_or(seam_line_girth_mm, |strip| strip.min(seam_line_girth_mm));
    let spare_mm = smallest_girth_mm - head_girth_mm - brief.head.margin_mm;
    OpeningPlan {
        head_girth_mm,
        head_source,
        margin_mm: brief.head.margin_mm,
        seam_line_girth_mm,
        strip_girth_mm,
        smallest_girth_mm,
        passes: spare_mm >= 0.0,
        spare_mm,
        stitch_extension_percent: 100.0 * extension,
        stitch_source,
    }
}
