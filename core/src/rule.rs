//! The rules that a plan is worked out by, each with its formula.

use serde::Serialize;

/// The rules a plan is worked out by. [`Rule::formula`] writes each with its symbols.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// A half's line moved to the garment side; trims at shoulder and centre are taken off.
    SeamLineHalf,
    /// From the direction at the centre to that at the neck point.
    Turning,
    /// The opening's half width.
    HalfWidth,
    /// The opening's depth.
    Depth,
    /// The radius where the line bends most round the opening.
    TightestRadius,
    /// Both halves of front and back.
    SeamLineWhole,
    /// Front and back laid flat and joined at the shoulders.
    TurningWhole,
    /// The line a bound edge's strip is sewn on.
    StitchLine,
    /// A band or bound edge: relaxed length by the curve; what counts as straight has a hold of its own, and the limits'
    /// share is what clamping adds.
    StripByCurve,
    /// A facing strip: relaxed length by the turn of cloth.
    StripByTurn,
    /// Relaxed length by the maker's ratio.
    StripByRatio,
    /// Relaxed strip over the line it is sewn on.
    Ratio,
    /// The strain a band's free edge keeps.
    BandHold,
    /// The strain a facing strip's seam edge keeps.
    TapeHold,
    /// The strain a band's free edge keeps on a straight run.
    StraightHold,
    /// The hold that records tell: each record's own, line / (strip - or + by) - 1, averaged.
    LearnedMean,
    /// The rule's hold and the records', by their weights.
    LearnedHold,
    /// The low end of a learned hold's range.
    LearnedLow,
    /// The high end of a learned hold's range.
    LearnedHigh,
    /// The length that a strip's held edge takes up.
    HeldLine,
    /// The most an edge may stay stretched.
    Comfort,
    /// A mark's place along the strip.
    MarkOnStrip,
    /// A mark's place along the line it is sewn on, on the grid of n steps.
    MarkBetween,
    /// The neck point's place along the line it is sewn on.
    MarkAtNeckPoint,
    /// Centre front's place along the line it is sewn on.
    MarkAtCentreFront,
    /// Strain of the free edge where it is least or most.
    FreeEdge,
    /// Strain of the seam edge where it is most.
    SeamEdge,
    /// Slack in a free edge over the part that is slack.
    Slack,
    /// A slack edge stands as the frustum of a cone.
    StandsOff,
    /// The widest finished width whose slack is not seen and whose edges keep within their comfort.
    WidestFlat,
    /// How far an even spread is off at its worst place.
    QuarteringError,
    /// A join's allowance.
    EndJoin,
    /// A mitred end.
    EndMitre,
    /// A lapped end.
    EndLap,
    /// An open end of a facing strip past the point.
    EndOverhang,
    /// Half the angle of the point.
    MitreAngle,
    /// How much shorter a mitred free edge is.
    MitreShorter,
    /// Width of a lap along the other leg.
    LapWidth,
    /// Length to cut each strip.
    CutLength,
    /// A folded band.
    CutWidthFolded,
    /// A band of one layer.
    CutWidthSingle,
    /// A facing strip with what is turned under.
    CutWidthTape,
    /// A bound edge of one layer: allowance, outside, inside.
    CutWidthBound,
    /// A bound edge folded before it is sewn.
    CutWidthBoundFolded,
    /// A facing from raw edge to raw edge.
    CutWidthFacing,
    /// A line along a strip, from its other raw edge.
    RowFromFar,
    /// The fold along the middle of a strip.
    RowMiddle,
    /// The finished edge that a bound edge's strip goes round.
    RowAtEdge,
    /// Topstitching near a facing strip's free edge.
    TapeTopstitch,
    /// Rounded to what can be cut.
    Rounded,
    /// Rounded down, as the nearest step lies above the range.
    RoundedDown,
    /// Rounded up, as the nearest step lies below the range.
    RoundedUp,
    /// Each reading moved by its tolerance, the changes that lessen the figure joined.
    RangeLow,
    /// Each reading moved by its tolerance, the changes that add to the figure joined.
    RangeHigh,
    /// A facing's edge, moved from the known line.
    FacingEdge,
    /// Understitching all round, less what it stops short at points and corners.
    Understitch,
    /// Topstitching all round.
    Topstitch,
    /// A seam rolls inside by the turn of cloth.
    Favour,
    /// What the raw edge must open where the line turns round the opening.
    ClipsOpen,
    /// What the knit gives of that.
    ClipsKnitGives,
    /// A clip on a centre line is one for both halves.
    ClipCount,
    /// Mean stretch in the seam's direction over the zone: m4, n4, mn are the means of c^4, s^4 and s^2 c^2.
    StayStretch,
    /// A stay tape along the seam line.
    StayTape,
    /// A stay tape along the seam line that turns a point in a mitre: q is how far its side on the garment lies past the
    /// seam line.
    StayMitre,
    /// From the raw edge to the stay tape.
    StayPlace,
    /// The widest stay tape that fits between its edge and where it should reach to, d the stitching's depth.
    StayWidest,
    /// The stay tape that lies within a binding.
    StayWithin,
    /// How far a stay tape that lies p from its edge reaches past the stitching.
    StayPast,
    /// Snips in a straight stay tape along a curve.
    StaySnips,
    /// Stay tape in all.
    StayTotal,
    /// Length before gathering over length after.
    GatheringRatio,
    /// Taken as it is from its source.
    Taken,
    /// Between two ages of the table.
    HeadByAge,
    /// A zigzag laid straight.
    StitchZigzag,
    /// The seam line's greatest girth: stayed parts as they are, live parts extended by the lesser of knit and stitch.
    SeamGirth,
    /// The greatest girth of the seam with the finish sewn to it: what the garment limits and what the finish does.
    SewnGirth,
    /// The strip's greatest girth where it is shortest across its width.
    StripGirth,
    /// How far the liveliest part of the seam is stretched.
    SeamAsks,
    /// The longest stitch of a zigzag that gives so much, in half millimetres.
    ZigzagLength,
    /// The smallest of the rings.
    SmallestRing,
    /// What there is over the head and its margin.
    Spare,
    /// Stretch from two readings.
    Stretch,
    /// Share of the stretch given back.
    Recovery,
    /// Length left after release.
    Growth,
    /// A percentage as the person gave it.
    AsGiven,
    /// Lengthwise stretch where it was not read.
    LengthwiseTaken,
    /// Stretch at 45 degrees where it was not read.
    DiagonalTaken,
    /// Turn of cloth of one layer folded over.
    TurnOfCloth,
}

impl Rule {
    /// Every rule, for whoever keeps a catalogue of words.
    pub const ALL: [Self; 88] = [
        Self::SeamLineHalf,
        Self::Turning,
        Self::HalfWidth,
        Self::Depth,
        Self::TightestRadius,
        Self::SeamLineWhole,
        Self::TurningWhole,
        Self::StitchLine,
        Self::StripByCurve,
        Self::StripByTurn,
        Self::StripByRatio,
        Self::Ratio,
        Self::BandHold,
        Self::TapeHold,
        Self::StraightHold,
        Self::LearnedMean,
        Self::LearnedHold,
        Self::LearnedLow,
        Self::LearnedHigh,
        Self::HeldLine,
        Self::Comfort,
        Self::MarkOnStrip,
        Self::MarkBetween,
        Self::MarkAtNeckPoint,
        Self::MarkAtCentreFront,
        Self::FreeEdge,
        Self::SeamEdge,
        Self::Slack,
        Self::StandsOff,
        Self::WidestFlat,
        Self::QuarteringError,
        Self::EndJoin,
        Self::EndMitre,
        Self::EndLap,
        Self::EndOverhang,
        Self::MitreAngle,
        Self::MitreShorter,
        Self::LapWidth,
        Self::CutLength,
        Self::CutWidthFolded,
        Self::CutWidthSingle,
        Self::CutWidthTape,
        Self::CutWidthBound,
        Self::CutWidthBoundFolded,
        Self::CutWidthFacing,
        Self::RowFromFar,
        Self::RowMiddle,
        Self::RowAtEdge,
        Self::TapeTopstitch,
        Self::Rounded,
        Self::RoundedDown,
        Self::RoundedUp,
        Self::RangeLow,
        Self::RangeHigh,
        Self::FacingEdge,
        Self::Understitch,
        Self::Topstitch,
        Self::Favour,
        Self::ClipsOpen,
        Self::ClipsKnitGives,
        Self::ClipCount,
        Self::StayStretch,
        Self::StayTape,
        Self::StayMitre,
        Self::StayPlace,
        Self::StayWidest,
        Self::StayWithin,
        Self::StayPast,
        Self::StaySnips,
        Self::StayTotal,
        Self::GatheringRatio,
        Self::Taken,
        Self::HeadByAge,
        Self::StitchZigzag,
        Self::SeamGirth,
        Self::SewnGirth,
        Self::StripGirth,
        Self::SeamAsks,
        Self::ZigzagLength,
        Self::SmallestRing,
        Self::Spare,
        Self::Stretch,
        Self::Recovery,
        Self::Growth,
        Self::AsGiven,
        Self::LengthwiseTaken,
        Self::DiagonalTaken,
        Self::TurnOfCloth,
    ];

    /// The rule with its symbols.
    #[must_use]
    pub const fn formula(self) -> &'static str {
        match self {
            Self::SeamLineHalf => "L + a theta - trims",
            Self::Turning => "start - end + turns",
            Self::HalfWidth => "x(neck) - x(centre)",
            Self::Depth => "y(centre) - y(neck)",
            Self::TightestRadius => "1 / k",
            Self::SeamLineWhole | Self::Topstitch => "2 (front + back)",
            Self::Understitch => "2 (front + back) - short",
            Self::TurningWhole => "2 (back + neck + front)",
            Self::StitchLine => "L + w theta + ends",
            Self::StripByCurve => "(L - w theta - straight) / (1 + hold) + straight / (1 + hold_0) + limits",
            Self::StripByTurn => "(L - t theta) / (1 + hold) + limits",
            Self::StripByRatio => "L ratio",
            Self::Ratio => "100 relaxed / L",
            Self::BandHold => "100 h S / R",
            Self::TapeHold => "100 min(hold_t, phi S)",
            Self::StraightHold => "100 min(hold_0, hold)",
            Self::LearnedMean => "mean of the records' holds",
            Self::LearnedHold => "max(0, (m usual + n mean) / (m + n))",
            Self::LearnedLow => "max(0, hold - d s / sqrt(m + n))",
            Self::LearnedHigh => "hold + d s / sqrt(m + n)",
            Self::HeldLine => "L - w theta + straight (hold - hold_0) / (1 + hold_0)",
            Self::Comfort => "100 phi S",
            Self::MarkOnStrip => "before + span",
            Self::MarkBetween => "i L / n",
            Self::MarkAtNeckPoint => "back",
            Self::MarkAtCentreFront => "back + front",
            Self::FreeEdge => "100 (f / r - 1)",
            Self::SeamEdge => "100 (1 / r - 1)",
            Self::Slack => "over (r - f)",
            Self::StandsOff => "w sqrt(1 - ((1 - r) / (1 - f))^2)",
            Self::WidestFlat => "slack(w) <= seen",
            Self::QuarteringError => "|even - strip|",
            Self::EndJoin => "j",
            Self::EndMitre => "j / sin(alpha) + a / tan(alpha)",
            Self::EndLap => "a / max(sin(2 alpha), 0.05) + past",
            Self::EndOverhang => "w / tan(alpha) + c / sin(alpha)",
            Self::MitreAngle => "90 - turn",
            Self::MitreShorter => "w / tan(alpha)",
            Self::LapWidth => "w / max(sin(2 alpha), 0.05)",
            Self::CutLength => "(relaxed + 2 end + 2 back end) / pieces",
            Self::CutWidthFolded => "2 (w + a) + turn",
            Self::CutWidthSingle => "w + a",
            Self::CutWidthTape | Self::CutWidthFacing => "w + a + under",
            Self::CutWidthBound => "3 w + turn + under",
            Self::CutWidthBoundFolded => "2 (3 w + turn + over)",
            Self::RowFromFar => "cut - x",
            Self::RowMiddle => "cut / 2",
            Self::RowAtEdge => "2 w + turn / 2",
            Self::TapeTopstitch => "w - inside",
            Self::Rounded => "step round(exact / step)",
            Self::RoundedDown => "step floor(exact / step)",
            Self::RoundedUp => "step ceil(exact / step)",
            Self::RangeLow => "exact - sqrt(sum of squares)",
            Self::RangeHigh => "exact + sqrt(sum of squares)",
            Self::FacingEdge => "L + d theta - trims",
            Self::Favour => "t",
            Self::ClipsOpen => "2 a theta",
            Self::ClipsKnitGives => "2 half",
            Self::ClipCount => "2 half - centres",
            Self::StayStretch => "max(0, Sx m4 + Sy n4 + (4 S45 - Sx - Sy) mn)",
            Self::StayTape => "sides (to - from)",
            Self::StayMitre => "2 (to - from) + 2 q / tan(alpha)",
            Self::StayPlace => "max(0, a + catch - b)",
            Self::StayWidest => "max(0, d + reach)",
            Self::StayWithin => "min(b, widest)",
            Self::StayPast => "p + b - d",
            Self::StaySnips => "ceil(b theta / g)",
            Self::StayTotal => "sum",
            Self::GatheringRatio => "before / after",
            Self::Taken | Self::AsGiven => "x",
            Self::HeadByAge => "a + (age - from) / (to - from) (b - a)",
            Self::StitchZigzag => "100 (sqrt(1 + (w / p)^2) - 1)",
            Self::SeamGirth => "stayed + live (1 + e)",
            Self::SewnGirth => "garment + finish",
            Self::StripGirth => "(relaxed - shorter) (1 + pull S)",
            Self::SeamAsks => "100 pull S",
            Self::ZigzagLength => "min(2.5, max(0.5, floor(2 w / sqrt((1 + e)^2 - 1)) / 2))",
            Self::SmallestRing => "min",
            Self::Spare => "ring - (head + margin)",
            Self::Stretch => "100 (B - A) / A",
            Self::Recovery => "100 (B - C) / (B - A)",
            Self::Growth => "100 (C - A) / A",
            Self::LengthwiseTaken => "share crosswise",
            Self::DiagonalTaken => "(crosswise + lengthwise) / 2",
            Self::TurnOfCloth => "c thickness",
        }
    }
}
