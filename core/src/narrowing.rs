//! Narrowing: a strip that is stretched along itself gets narrower, by Poisson's ratio of its knit.
//!
//! Its width as sewn is its width at rest times b = lambda^-nu (1 + (k w)(e_s + 2 e_f)/6), lambda = 1 + (e_s + e_f)/2: Hencky's law for
//! the mean stretch, and what a strip widens on the inside of a curve. Within 0.1 mm of a plane model of 15 mm on circles, up to
//! nu 0.5 and k w 0.2. Nothing is cut narrower than it is asked for what a curve widens.

use serde::Serialize;

use crate::brief::{Direction, Knit, KnitKind, Stretch, SwatchWidth};
use crate::knit::OneWay;

/// A ratio taken where none was read. Hand-knit swatches at 20 percent stretch came to 0.42 to 0.50 one way and 0.49 to 0.57 the
/// other for stockinette, about 0 and up to 0.35 for a 1x1 rib (Singal et al. 2024, Nature Communications 15:2622, worked out from
/// its public data; few, and clamped at their ends, which shows 72 percent or more of it). For an interlock none was found: a
/// jersey's is taken. Thin evidence: a reading is better.
fn usual(kind: Option<KnitKind>, direction: Direction) -> f64 {
    let [crosswise, lengthwise] = match kind {
        Some(KnitKind::Rib) => [0.0, 0.35],
        None | Some(KnitKind::Jersey | KnitKind::Interlock) => [0.45, 0.5],
    };
    of_ways(direction, crosswise, lengthwise)
}

/// On the bias, the mean of both ways: our judgement.
fn of_ways(direction: Direction, crosswise: f64, lengthwise: f64) -> f64 {
    match direction {
        Direction::Crosswise => crosswise,
        Direction::Lengthwise => lengthwise,
        Direction::Diagonal => 0.5 * (crosswise + lengthwise),
    }
}

/// Where a Poisson's ratio comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum NarrowingFrom {
    /// The brief says it.
    Given,
    /// A swatch's width, stretched and at rest.
    Read,
    /// Taken by kind of knit, on thin evidence.
    Taken,
    /// Records of strips' widths as sewn, and one of the others.
    Learned,
}

/// Poisson's ratio along a strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Poisson {
    pub ratio: f64,
    pub from: NarrowingFrom,
    /// What was read of a swatch: width over width at rest, length over length at rest.
    pub read: Option<[f64; 2]>,
    pub learned: Option<LearnedPoisson>,
}

/// What records of widths as sewn tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct LearnedPoisson {
    /// How many tell a width.
    pub records: usize,
    /// The mean of the ratios they tell.
    pub mean: f64,
    /// What is given, read or taken without them.
    pub usual: f64,
}

impl Poisson {
    /// Of a knit, one way.
    pub(crate) fn of(knit: &Knit, direction: Direction) -> Self {
        let both = [Direction::Crosswise, Direction::Lengthwise];
        match direction {
            Direction::Diagonal => {
                let [crosswise, lengthwise] = both.map(|way| Self::of(knit, way));
                let ratio = of_ways(direction, crosswise.ratio, lengthwise.ratio);
                let taken = [crosswise, lengthwise].into_iter().find(|way| way.from == NarrowingFrom::Taken);
                Self { ratio, from: taken.map_or(crosswise.from, |way| way.from), read: None, learned: None }
            }
            way => Self::one_way(knit, way),
        }
    }

    fn one_way(knit: &Knit, way: Direction) -> Self {
        let (stretch, given, swatch) = match way {
            Direction::Lengthwise => (
                knit.lengthwise,
                knit.poisson_ratio.and_then(|ratio| ratio.lengthwise),
                knit.swatch_width.and_then(|width| width.lengthwise),
            ),
            _ => (
                Some(knit.crosswise),
                knit.poisson_ratio.and_then(|ratio| ratio.crosswise),
                knit.swatch_width.and_then(|width| width.crosswise),
            ),
        };
        if let Some(ratio) = given {
            return Self { ratio, from: NarrowingFrom::Given, read: None, learned: None };
        }
        match stretch.zip(swatch).and_then(|(stretch, swatch)| read(&stretch, &swatch)) {
            Some(read @ [narrower, longer]) => Self {
                ratio: poisson_ratio(narrower, longer),
                from: NarrowingFrom::Read,
                read: Some(read),
                learned: None,
            },
            None => Self { ratio: usual(knit.kind, way), from: NarrowingFrom::Taken, read: None, learned: None },
        }
    }
}

/// A swatch's width over its width at rest, and its length over its length at rest; none where it was not stretched.
fn read(stretch: &Stretch, swatch: &SwatchWidth) -> Option<[f64; 2]> {
    let longer = 1.0 + OneWay::from_brief(stretch).stretch;
    (longer > 1.0).then(|| [swatch.stretched_mm / swatch.rest_mm, longer])
}

/// Poisson's ratio from a swatch's width and length, each over that at rest: -ln(width)/ln(length), 0 to 1. Hencky's law.
#[must_use]
pub fn poisson_ratio(width: f64, length: f64) -> f64 {
    (-width.ln() / length.ln()).clamp(0.0, 1.0)
}

/// A strip sewn to a line, or a part of it, as far as its width goes. mm and radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SewnPart {
    /// Line, and relaxed strip along it.
    pub line: f64,
    pub strip: f64,
    /// How much shorter its free edge's place is than the line, by a width: w times the turning toward it.
    pub shorter: f64,
}

impl SewnPart {
    /// lambda: the mean of both edges' lengths over the strip's.
    pub(crate) fn stretched(&self) -> f64 {
        (self.line - 0.5 * self.shorter) / self.strip
    }

    /// What the part widens on the inside of its curve: (k w)(e_s + 2 e_f)/6, not under 0.
    pub(crate) fn widened(&self) -> f64 {
        let seam = self.line / self.strip - 1.0;
        let free = (self.line - self.shorter) / self.strip - 1.0;
        (self.shorter / self.line * (seam + 2.0 * free) / 6.0).max(0.0)
    }

    /// b: its width as sewn over its width at rest, at most 1.
    pub(crate) fn keeps(&self, poisson: f64) -> f64 {
        (self.stretched().max(f64::MIN_POSITIVE).powf(-poisson) * (1.0 + self.widened())).min(1.0)
    }
}

/// How a strip narrows, and what is cut wider for it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Narrowing {
    /// Poisson's ratio along the strip.
    pub poisson_ratio: f64,
    /// Where that comes from.
    pub from: NarrowingFrom,
    /// Where records of widths as sewn were used: how many.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub records: Option<usize>,
    /// The strip's mean stretch once sewn. Percent.
    pub stretch_percent: f64,
    /// The finished width as cut, at rest: what the cut width is made of. mm.
    pub width_at_rest_mm: f64,
    /// The finished width as sewn: what the brief asks. mm.
    pub width_as_sewn_mm: f64,
    /// The width that such a strip would have as sewn did its knit not narrow at all: for a record of what it came to. mm.
    pub width_unnarrowed_mm: f64,
}

#[cfg(test)]
mod tests {
    use super::{SewnPart, poisson_ratio};

    /// A strip 15 mm wide at rest on a circle of this width over radius, cut so that its free edge keeps 6.32 percent.
    fn on_a_circle(bend: f64) -> SewnPart {
        SewnPart { line: 15.0 / bend, strip: 15.0 / bend * (1.0 - bend) / 1.0632, shorter: 15.0 }
    }

    #[test]
    fn on_a_circle_a_strip_narrows_as_a_plane_model_has_it() {
        // A finite-strain strip on circles by collocation, worked out apart from this project: within its 0.1 mm.
        for (bend, poisson, sewn) in [(0.1, 0.3, 14.553), (0.2, 0.5, 13.829)] {
            let width = 15.0 * on_a_circle(bend).keeps(poisson);
            assert!((width - sewn).abs() < 0.1, "w/R {bend}, nu {poisson}: {width} and not {sewn} mm");
        }
        // The same model has it widen where the knit does not narrow: 15.08 and 15.24 mm; nothing is cut narrower for that.
        for (bend, sewn) in [(0.1, 15.08), (0.2, 15.24)] {
            let part = on_a_circle(bend);
            assert!((15.0 * (1.0 + part.widened()) - sewn).abs() < 0.1, "w/R {bend} widens to {sewn} mm");
            assert!((part.keeps(0.0) - 1.0).abs() < 1e-12, "and is cut as wide as it is worn");
        }
    }

    #[test]
    fn a_swatch_tells_its_ratio() {
        // Hencky's law by hand: 100 mm stretched to 120, 50 mm wide drawn in to 45.6: ln(50 / 45.6) / ln(1.2) = 0.505.
        assert!((poisson_ratio(45.6 / 50.0, 1.2) - 0.505).abs() < 5e-4, "{}", poisson_ratio(45.6 / 50.0, 1.2));
        assert_eq!([poisson_ratio(1.1, 1.2), poisson_ratio(0.5, 1.2)], [0.0, 1.0], "no less than 0, no more than 1");
    }
}
