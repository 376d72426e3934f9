//! The plan's codes in words, and its figures as text.

use lieflat::error::Unit;
use lieflat::length::{LengthUnit, format_length};
use lieflat::plan::{AssumptionCode, Cure, Ends, MarkPlace, Outcome, Part, RecoveryVerdict, StayReason};

/// A length with its unit, held together by a no-break space.
pub(crate) fn length(mm: f64, unit: LengthUnit) -> String {
    format!("{}\u{a0}{}", format_length(mm, unit), unit.symbol())
}

/// A number to a few decimals, without trailing zeros.
pub(crate) fn number(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "—".to_owned();
    }
    let text = format!("{value:.decimals$}");
    if !text.contains('.') {
        return text;
    }
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A percentage.
pub(crate) fn percent(value: f64) -> String {
    format!("{}\u{a0}%", number(value, 1))
}

/// A number of the working, with its unit: millimetres always, so that the lines can be followed.
pub(crate) fn exact(value: f64, unit: Unit) -> String {
    let number = number(value, 4);
    match unit {
        Unit::Mm => format!("{number}\u{a0}mm"),
        Unit::Percent => format!("{number}\u{a0}%"),
        Unit::Deg => format!("{number}°"),
        Unit::Months => format!("{number}\u{a0}months"),
        Unit::Ratio | Unit::Count => number,
    }
}

/// An outcome: its class, its mark and its words.
pub(crate) const fn outcome(outcome: Outcome) -> (&'static str, &'static str, &'static str) {
    match outcome {
        Outcome::LiesFlat => ("flat", "●", "lies flat"),
        Outcome::StandsAway => ("away", "▲", "stands away"),
        Outcome::PullsIn => ("in", "◆", "pulls in"),
    }
}

/// A mark's place.
pub(crate) const fn place(place: MarkPlace) -> &'static str {
    match place {
        MarkPlace::CentreBack => "centre back",
        MarkPlace::NeckPoint => "neck point",
        MarkPlace::CentreFront => "centre front",
        MarkPlace::Between => "in between",
    }
}

/// A part of the garment that can be stayed.
pub(crate) const fn part(part: Part) -> &'static str {
    match part {
        Part::Shoulders => "shoulder seams",
        Part::BackNeckline => "back neckline",
        Part::FrontSides => "sides of the front neckline",
        Part::FrontCentre => "centre of the front neckline",
        Part::CentreFrontSeam => "centre front seam",
        Part::CentreBackSeam => "centre back seam",
        Part::Gathered => "gathered section",
        Part::Other => "another edge",
    }
}

/// Why a part is stayed.
pub(crate) const fn reason(reason: StayReason) -> &'static str {
    match reason {
        StayReason::CarriesTheGarment => "it carries the garment's weight",
        StayReason::StableEdge => "this finish wants a stable edge and the knit stretches along it",
        StayReason::Point => "the point is pulled open from both sides",
        StayReason::PoorRecovery => "the knit recovers poorly and the edge would grow",
        StayReason::Gathers => "it receives gathers",
    }
}

/// What a recovery means.
pub(crate) const fn recovery(verdict: RecoveryVerdict) -> &'static str {
    match verdict {
        RecoveryVerdict::Good => "good: an edge under strain comes back",
        RecoveryVerdict::Fair => "fair: an edge under strain gives a little",
        RecoveryVerdict::Poor => "poor: an edge under strain grows",
        RecoveryVerdict::NotRead => "not read, so a usual value was taken",
    }
}

/// How the strip's ends meet.
pub(crate) fn ends(ends: Ends, unit: LengthUnit) -> String {
    match ends {
        Ends::Ring => "Joined into a ring, the join at centre back.".to_owned(),
        Ends::Mitre { angle_deg, free_edge_shorter_mm } => format!(
            "Mitred at the point: the mitre seam runs at {}° to the strip’s edge, and the free edge ends {} earlier at each end.",
            number(angle_deg, 1),
            length(free_edge_shorter_mm, unit)
        ),
        Ends::Lap { lap_width_mm } => format!(
            "Lapped at the point: one end lies over the other for {} along the other leg’s seam line.",
            length(lap_width_mm, unit)
        ),
        Ends::Overhang { overhang_mm } => format!(
            "Open at the point: each end runs {} past it and is caught in the centre seam.",
            length(overhang_mm, unit)
        ),
    }
}

/// A cure for a strip that does not lie flat.
pub(crate) fn cure(cure: Cure, unit: LengthUnit) -> String {
    match cure {
        Cure::Narrower(mm) => format!("Make it narrower: at most {} finished.", length(mm, unit)),
        Cure::Stretchier(value) => {
            format!("Cut it from a stretchier knit: at least {} along the strip.", percent(value))
        }
        Cure::OtherDirection(_) => "Cut the strip another way in its knit.".to_owned(),
        Cure::UseTheRule => "Leave the ratio of your own empty, so that the length follows the curve.".to_owned(),
        Cure::Facing => "Use a shaped facing, which needs no stretch.".to_owned(),
    }
}

/// What was taken for granted.
pub(crate) const fn assumption(code: AssumptionCode) -> &'static str {
    match code {
        AssumptionCode::Shape => {
            "Lengths have no shape: the shape you chose was fitted to them, and the range holds what that may cost."
        }
        AssumptionCode::SameKnit => "The strip is cut from the garment’s own knit.",
        AssumptionCode::Recovery => "The strip’s recovery was not read: 90 percent is taken.",
        AssumptionCode::Lengthwise => "The garment’s lengthwise stretch was not read: half the crosswise is taken.",
        AssumptionCode::Thickness => "The knit’s thickness was not read: 0.8 mm is taken.",
        AssumptionCode::StripDirection => "The strip does not run where its knit stretches most.",
        AssumptionCode::Widths => {
            "At the seam line front and back end too far apart to meet at the neck point: a reading or the shape may be off."
        }
        AssumptionCode::OwnRatio => "Your own ratio was used in place of the rule.",
        AssumptionCode::Flat => "Pieces are reckoned flat: cloth bends without changing its curves.",
    }
}
