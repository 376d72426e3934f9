//! The working of a plan: which rule gave which figure, from which numbers.
//!
//! What works a figure out tells nothing; it keeps what it used, in a value called a basis. Once the plan is whole, each file
//! here tells the working of one part of it from that basis, so that no figure is worked out a second time and a plan
//! without its working costs nothing.

mod clips;
mod facing;
mod finish;
mod knits;
mod narrowing;
mod opening;
mod seam_line;
mod stays;
mod strip;

use crate::clip::ClipBasis;
use crate::facing::FacingBasis;
use crate::girth::{Reach, Rings, Run};
use crate::given::Given;
use crate::lines::Lines;
use crate::plan::Plan;
use crate::stay::choice::Candidate;
use crate::strip::StripBasis;
use crate::working::{Step, Working};

/// What a plan was worked out from.
pub(crate) struct Basis<'a> {
    pub given: &'a Given<'a>,
    pub lines: Lines,
    pub strip: Option<StripBasis>,
    pub clips: Option<ClipBasis>,
    pub facing: Option<FacingBasis>,
    /// The parts of the neckline that are stayed.
    pub kept: Vec<Candidate>,
    pub rings: Rings,
    pub reach: Reach,
    /// What is stayed along the half seam line.
    pub stayed: Vec<Run>,
}

/// The working of every figure of a plan.
pub(crate) fn working(basis: &Basis<'_>, plan: &Plan) -> Vec<Step> {
    let (given, lines, mut working) = (basis.given, &basis.lines, Working::default());
    seam_line::explain(given, lines, &plan.seam_line, &mut working);
    knits::explain(given, &mut working);
    finish::explain(&plan.finish, &mut working);
    if let (Some(from), Some(strip)) = (&basis.strip, &plan.strip) {
        strip::explain(given, lines, from, strip, &mut working);
    }
    stays::explain(given, lines, &basis.kept, &plan.stays, &mut working);
    if let (Some(from), Some(clips)) = (&basis.clips, &plan.clips) {
        clips::explain(from, clips, &mut working);
    }
    if let (Some(from), Some(facing)) = (&basis.facing, &plan.facing) {
        facing::explain(given, from, facing, &mut working);
    }
    opening::explain(given, &plan.opening, &basis.rings, &basis.reach, &basis.stayed, &mut working);
    working.steps
}
