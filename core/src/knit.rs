//! The knit: stretch, recovery and growth from readings, and stretch in any direction.

use serde::Serialize;

pub use crate::brief::knit::{USUAL_RECOVERY, USUAL_THICKNESS_MM};
use crate::brief::{Direction, Knit, PatternAsks, Rules, Stretch};

/// A knit as worked out.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct KnitReport {
    /// Crosswise stretch. Percent.
    pub crosswise_percent: f64,
    /// Lengthwise stretch. Percent.
    pub lengthwise_percent: f64,
    /// Stretch at 45 degrees. Percent.
    pub diagonal_percent: f64,
    /// Share of the crosswise stretch given back. Percent.
    pub recovery_percent: f64,
    /// Growth after release, of the length at rest, where a reading tells. Percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub growth_percent: Option<f64>,
    /// Turn of cloth. mm.
    pub turn_of_cloth_mm: f64,
    /// What the recovery means.
    pub recovery: RecoveryVerdict,
    /// Whether pieces may be cut with their wales running across: stretch alike both ways.
    pub turns_on_the_other_grain: bool,
    /// Its class by crosswise stretch.
    pub class: KnitClass,
}

/// Classes of knits by crosswise stretch: under 18 percent, 18, 25, 50 and 100 percent.
/// Source: H. J. Armstrong, 'Patternmaking for Fashion Design', chapter on knits (numbers from memory).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum KnitClass {
    /// Under 18 percent: hardly a stretch knit.
    Rigid,
    /// 18 to 25 percent.
    Stable,
    /// 25 to 50 percent.
    Moderate,
    /// 50 to 100 percent.
    Stretchy,
    /// 100 percent and more: super-stretch knits and ribs.
    SuperStretch,
}

/// What a fibre content tells: common practice, no published source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum FibreNote {
    /// No elastane: the knit's structure alone brings an edge back; a rib does, a plain jersey less so.
    NoElastane,
    /// Under 8 percent: rayon, bamboo and modal jerseys with about 5 percent tend to grow.
    LittleElastane,
    /// 8 percent and more: recovers better.
    AmpleElastane,
    /// The released reading contradicts what the elastane would lead one to expect: trust the reading.
    ReadingSaysPoor,
}

/// What a recovery means for an edge under strain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize))]
#[serde(rename_all = "snake_case")]
pub enum RecoveryVerdict {
    /// 90 percent or more comes back.
    Good,
    /// 75 to 90 percent.
    Fair,
    /// Less: an edge under strain grows.
    Poor,
    /// No reading.
    NotRead,
}

/// How a knit suits what the pattern asks one way.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct Suitability {
    /// Which way.
    pub direction: Direction,
    /// What the pattern asks. Percent.
    pub asked_percent: f64,
    /// What the knit has. Percent.
    pub has_percent: f64,
    /// Whether it is enough.
    pub suits: bool,
    /// How far it falls short, in percent points; 0 where it is enough.
    pub short_by_points: f64,
    /// Whether it would be enough with the pieces' wales running across.
    pub suits_turned: bool,
}

/// Lengthwise stretch taken where none was read, as a share of the crosswise: our judgement.
pub const USUAL_LENGTHWISE_SHARE: f64 = 0.5;
/// How near the stretch must be both ways for pieces to be cut with their wales running across, in points.
const ALIKE_POINTS: f64 = 5.0;

/// Stretch as a fraction: (B - A) / A, A at rest, B stretched.
/// Source: the elongation of ASTM D2594 and ISO 20932-1 (formulas from memory).
#[must_use]
pub fn stretch(rest: f64, stretched: f64) -> f64 {
    (stretched - rest) / rest
}

/// Recovery as the share of the stretch given back: (B - C) / (B - A), C after release.
/// Common practice of sewing texts, no published standard.
#[must_use]
pub fn recovery(rest: f64, stretched: f64, released: f64) -> f64 {
    (stretched - released) / (stretched - rest)
}

/// Growth as a fraction of the length at rest: (C - A) / A.
/// Source: ASTM D2594 growth, ISO 20932-1 permanent deformation (formulas from memory).
#[must_use]
pub fn growth(rest: f64, released: f64) -> f64 {
    (released - rest) / rest
}

/// Stretch, recovery and growth of one direction, fractions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct OneWay {
    pub stretch: f64,
    pub recovery: Option<f64>,
    pub growth: Option<f64>,
}

impl OneWay {
    pub(crate) fn from_brief(given: &Stretch) -> Self {
        match *given {
            Stretch::Readings { rest_mm, stretched_mm, released_mm } => Self {
                stretch: stretch(rest_mm, stretched_mm),
                recovery: released_mm
                    .filter(|_| stretched_mm > rest_mm)
                    .map(|released| recovery(rest_mm, stretched_mm, released)),
                growth: released_mm.map(|released| growth(rest_mm, released)),
            },
            Stretch::Percent { stretch_percent, recovery_percent } => {
                Self { stretch: stretch_percent / 100.0, recovery: recovery_percent.map(|r| r / 100.0), growth: None }
            }
        }
    }
}

/// A knit's stretch in every direction. Fractions and mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Cloth {
    pub crosswise: f64,
    pub lengthwise: f64,
    pub diagonal: f64,
    pub recovery: Option<f64>,
    pub growth: Option<f64>,
    pub thickness_mm: f64,
    pub turn_mm: f64,
}

impl Cloth {
    pub(crate) fn from_brief(knit: &Knit, rules: &Rules) -> Self {
        let crosswise = OneWay::from_brief(&knit.crosswise);
        let lengthwise =
            knit.lengthwise.map_or(crosswise.stretch * USUAL_LENGTHWISE_SHARE, |way| OneWay::from_brief(&way).stretch);
        let diagonal =
            knit.diagonal.map_or(0.5 * (crosswise.stretch + lengthwise), |way| OneWay::from_brief(&way).stretch);
        let thickness_mm = knit.thickness_mm.unwrap_or(USUAL_THICKNESS_MM);
        Self {
            crosswise: crosswise.stretch,
            lengthwise,
            diagonal,
            recovery: crosswise.recovery,
            growth: crosswise.growth,
            thickness_mm,
            turn_mm: rules.turn_per_thickness * thickness_mm,
        }
    }

    /// Stretch along a direction whose squared cosine to the courses is `c2`, by the orthotropic form
    /// Sx c^4 + Sy s^4 + (4 S45 - Sx - Sy) s^2 c^2 (any text on mechanics of composites; from memory).
    pub(crate) fn along(&self, c2: f64) -> f64 {
        let s2 = 1.0 - c2;
        self.by_means(c2 * c2, s2 * s2, s2 * c2)
    }

    /// The same from c^4, s^4 and s^2 c^2, or from their means along a run: the form is linear in them.
    pub(crate) fn by_means(&self, m4: f64, n4: f64, mn: f64) -> f64 {
        let mixed = 4.0 * self.diagonal - self.crosswise - self.lengthwise;
        (self.crosswise * m4 + self.lengthwise * n4 + mixed * mn).max(0.0)
    }

    pub(crate) fn one_way(&self, direction: Direction) -> f64 {
        match direction {
            Direction::Crosswise => self.crosswise,
            Direction::Lengthwise => self.lengthwise,
            Direction::Diagonal => self.diagonal,
        }
    }

    pub(crate) fn recovery_or_usual(&self) -> f64 {
        self.recovery.unwrap_or(USUAL_RECOVERY)
    }

    /// The verdict on recovery; its bounds are our judgement, no published source.
    pub(crate) fn verdict(&self) -> RecoveryVerdict {
        match self.recovery {
            None => RecoveryVerdict::NotRead,
            Some(r) if r >= 0.9 => RecoveryVerdict::Good,
            Some(r) if r >= 0.75 => RecoveryVerdict::Fair,
            Some(_) => RecoveryVerdict::Poor,
        }
    }

    pub(crate) fn report(&self) -> KnitReport {
        KnitReport {
            crosswise_percent: 100.0 * self.crosswise,
            lengthwise_percent: 100.0 * self.lengthwise,
            diagonal_percent: 100.0 * self.diagonal,
            recovery_percent: 100.0 * self.recovery_or_usual(),
            growth_percent: self.growth.map(|g| 100.0 * g),
            turn_of_cloth_mm: self.turn_mm,
            recovery: self.verdict(),
            turns_on_the_other_grain: 100.0 * (self.crosswise - self.lengthwise).abs() <= ALIKE_POINTS,
            class: class(self.crosswise),
        }
    }
}

/// The class of a knit by its crosswise stretch, fraction. Source: H. J. Armstrong, 'Patternmaking for Fashion
/// Design', chapter on knits (numbers from memory).
#[must_use]
pub fn class(crosswise: f64) -> KnitClass {
    // A hair under a bound is rounding.
    match 100.0 * crosswise + 1e-6 {
        p if p < 18.0 => KnitClass::Rigid,
        p if p < 25.0 => KnitClass::Stable,
        p if p < 50.0 => KnitClass::Moderate,
        p if p < 100.0 => KnitClass::Stretchy,
        _ => KnitClass::SuperStretch,
    }
}

/// What an elastane share tells: common practice, no published source, and never a measurement.
pub(crate) fn fibre_notes(knit: &Knit, cloth: &Cloth) -> Vec<FibreNote> {
    let Some(percent) = knit.elastane_percent else { return Vec::new() };
    let mut notes = vec![match percent {
        p if p <= 0.0 => FibreNote::NoElastane,
        p if p < 8.0 => FibreNote::LittleElastane,
        _ => FibreNote::AmpleElastane,
    }];
    if cloth.verdict() == RecoveryVerdict::Poor && percent >= 8.0 {
        notes.push(FibreNote::ReadingSaysPoor);
    }
    notes
}

/// How the garment's knit suits what the pattern asks, each way that it asks.
pub(crate) fn suitability(asks: Option<PatternAsks>, garment: &Cloth) -> Vec<Suitability> {
    let Some(asks) = asks else { return Vec::new() };
    let (across, along) = (garment.crosswise, garment.lengthwise);
    let rows = [
        (Direction::Crosswise, asks.crosswise_percent, across),
        (Direction::Lengthwise, asks.lengthwise_percent, along),
    ];
    // A hair under what is asked is rounding, not a lack.
    let enough = |asked: f64, has: f64| 100.0 * has + 1e-6 >= asked;
    let asked_of = |asked: Option<f64>, has: f64| asked.is_none_or(|asked| enough(asked, has));
    let suits_turned = asked_of(asks.crosswise_percent, along) && asked_of(asks.lengthwise_percent, across);
    rows.into_iter()
        .filter_map(|(direction, asked, has)| {
            let asked_percent = asked?;
            let suits = enough(asked_percent, has);
            let short_by_points = if suits { 0.0 } else { asked_percent - 100.0 * has };
            Some(Suitability {
                direction,
                asked_percent,
                has_percent: 100.0 * has,
                suits,
                short_by_points,
                suits_turned,
            })
        })
        .collect()
}
