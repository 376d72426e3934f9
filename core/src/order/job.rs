//! What a finish names in the order of its work: a job is one step, several or none, as the plan has it.

use super::step::StepCode;

/// One entry in a finish's order of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Job {
    /// A step without figures.
    Plain(StepCode),
    /// Cut the strip or strips.
    CutStrip,
    /// Cut the facing's pieces.
    CutFacing,
    /// Trim the garment's edge, where it has an allowance.
    TrimEdge,
    /// Lay the stays, where there are any, before anything pulls at the edge.
    Stay,
    /// The garment's centre seams; one in which a strip's ends are caught later stays open.
    CentreSeams,
    /// The facing's centre seams.
    FacingCentres,
    /// Finish the facing's outer edge.
    FacingEdge,
    /// Join the strip's ends while it is flat; laps and open ends wait.
    JoinEnds,
    /// Fold the strip, or finish its free edge.
    FreeEdge,
    /// Mark strip and neckline.
    Mark,
    /// Clip, where the plan has clips.
    Clip(StepCode),
    /// The seam itself.
    Sew(StepCode),
    /// Close what lapping ends left open.
    Lap,
    /// Trim a wide allowance.
    TrimAllowance,
    /// Mark where understitching stops short of points and corners, where there are any.
    MarkStops,
    /// Understitch the facing.
    UnderstitchFacing,
    /// Turn the facing inside.
    TurnFacing,
    /// Catch or cross open ends: they lie along the turned strip, past the point, and only then does the centre seam take
    /// them in.
    CatchEnds,
    /// Topstitch where the plan says.
    Topstitch(StepCode),
}
