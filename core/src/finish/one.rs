//! What each finish must say of itself.

use super::form::{Cloths, CutWidth, Form};
use crate::check::Check;
use crate::order::job::Job;

/// What one finish says of itself: its limits, its normal form, its width to cut and the order of its work.
pub(crate) trait OneFinish {
    /// Checks its own fields.
    fn check(&self, check: &mut Check);
    fn form(&self) -> Form;
    fn cut_width(&self, cloths: &Cloths) -> CutWidth;
    /// The steps of its work in the order they come, each left out where it has nothing to do.
    fn order(&self) -> &'static [Job];
}
