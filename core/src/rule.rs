//! The rules that a plan is worked out by, each with its formula.

mod formula;

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
    /// Strain of the free edge where it is least or most: what a place shares of each span, over how the strip is spread there.
    FreeEdge,
    /// Strain of the seam edge.
    SeamEdge,
    /// The compression of the free edge from which a strip ripples: a plate strip with one edge held.
    RipplesFrom,
    /// A line's sharpest bend over a strip's width.
    Bend,
    /// How far a band draws the garment's edge in: a stretched ring on the hole of a sheet.
    DrawnIn,
    /// Slack in a free edge over the part that is pressed together.
    Slack,
    /// The crest of a free edge's ripples.
    Crest,
    /// How far a strip leans where it stands up, by the relation of a curve and the folded surface on it.
    Leans,
    /// How high a leaning strip's free edge stands.
    StandsUp,
    /// Poisson's ratio from a swatch's width and length, each over that at rest.
    PoissonRead,
    /// Poisson's ratio learned from records, with the one without them.
    LearnedPoisson,
    /// A strip's mean stretch once sewn.
    MeanStretch,
    /// A strip's width as sewn, did its knit not narrow: what it widens on the inside of a curve.
    Unnarrowed,
    /// The finished width at rest that comes to the width asked for once sewn.
    WidthAtRest,
    /// A finished width as sewn along a span.
    WidthAsSewn,
    /// The widest finished width that passes.
    Widest,
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
    pub const ALL: [Self; 99] = [
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
        Self::RipplesFrom,
        Self::Bend,
        Self::DrawnIn,
        Self::Slack,
        Self::Crest,
        Self::Leans,
        Self::StandsUp,
        Self::PoissonRead,
        Self::LearnedPoisson,
        Self::MeanStretch,
        Self::Unnarrowed,
        Self::WidthAtRest,
        Self::WidthAsSewn,
        Self::Widest,
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
}
