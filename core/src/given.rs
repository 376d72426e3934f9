//! The brief past the door: every value checked, every default filled in, all problems reported together.

mod cloth;
mod drawn;
mod half;
mod others;

use crate::brief::{Brief, HalfName, ReadingsAt, neckline};
use crate::check::Check;
use crate::curve::Arc;
use crate::decimal;
use crate::error::{Accepted, AcceptedCode, BriefError, BriefErrors, Problem, Unit};
use crate::finish::form::{Cloths, Form};
use crate::knit::Cloth;
use crate::outline::OutlineGiven;
use crate::ring::Ring;
use crate::seam_line::{Line, MoveError, TakeOff, largest};
pub(crate) use half::HalfGiven;

/// A brief, checked. The finish, rules and the like are read from the brief itself, whose numbers are in range.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Given<'a> {
    pub brief: &'a Brief,
    /// The finish in its normal form.
    pub form: Form,
    pub allowance: f64,
    pub front: HalfGiven,
    pub back: HalfGiven,
    pub garment: Cloth,
    pub strip: Cloth,
    /// How far the strip's Poisson's ratio is off, for the range.
    pub poisson_off: f64,
    /// How far the finished width is off, for the range. mm.
    pub width_off: f64,
    /// How far a learned hold is off, for the range: standard deviations.
    pub learned_off: f64,
    /// Whether ranges and working are left out.
    pub quick: bool,
}

/// A drawn line along which not even such an allowance can be set off folds back on itself: no seam has a narrower one. mm;
/// our judgement.
const FOLD_MM: f64 = 0.5;

impl<'a> Given<'a> {
    /// Checks a brief.
    pub(crate) fn new(brief: &'a Brief) -> Result<Self, BriefErrors> {
        let mut check = Check::default();
        check.rules(brief);
        check.number(
            "neckline.neckline_allowance_mm",
            brief.neckline.neckline_allowance_mm,
            neckline::ALLOWANCE_MM,
            Unit::Mm,
        );
        let readings_at = brief.neckline.readings_at;
        let front = check.half(&brief.neckline.front, HalfName::Front, readings_at);
        let back = check.half(&brief.neckline.back, HalfName::Back, readings_at);
        check.knit(&brief.garment_knit, "garment_knit");
        if let Some(knit) = &brief.strip_knit {
            check.knit(knit, "strip_knit");
        }
        brief.finish.one().check(&mut check);
        check.others(brief);
        let (Some(front), Some(back)) = (front, back) else {
            return Err(BriefErrors { errors: check.errors });
        };
        if !check.errors.is_empty() {
            return Err(BriefErrors { errors: check.errors });
        }
        let garment = Cloth::from_brief(&brief.garment_knit, &brief.rules);
        let strip = brief.strip_knit.as_ref().map_or(garment, |knit| Cloth::from_brief(knit, &brief.rules));
        Ok(Self {
            brief,
            form: brief.finish.one().form(),
            allowance: brief.neckline.neckline_allowance_mm,
            front,
            back,
            garment,
            strip,
            poisson_off: 0.0,
            width_off: 0.0,
            learned_off: 0.0,
            quick: false,
        })
    }

    pub(crate) fn half(&self, which: HalfName) -> &HalfGiven {
        match which {
            HalfName::Front => &self.front,
            HalfName::Back => &self.back,
        }
    }

    /// Changes what a half's line is drawn by, and draws it again; false where there is nothing to change.
    pub(crate) fn change(&mut self, which: HalfName, change: &dyn Fn(&mut HalfGiven) -> bool) -> bool {
        let half = match which {
            HalfName::Front => &mut self.front,
            HalfName::Back => &mut self.back,
        };
        half.change(self.brief.neckline.readings_at, change)
    }

    /// The known line's arcs and what is taken off them down to the seam line.
    pub(crate) fn known(&self, which: HalfName) -> Result<(&[Arc], TakeOff), BriefErrors> {
        let half = self.half(which);
        let arcs = half.line.as_deref().map_err(|(problem, least, most)| {
            let accepted = Accepted::range((least * 10.0).ceil() / 10.0, (most * 10.0).floor() / 10.0, Unit::Mm);
            let value = match half.outline {
                OutlineGiven::Measured { length, .. } => Some(decimal::write(length)),
                _ => None,
            };
            BriefErrors::from(BriefError::new(
                which.field(".outline.measured.half_length_mm"),
                value,
                problem.clone(),
                accepted,
            ))
        })?;
        let off = match self.brief.neckline.readings_at {
            ReadingsAt::SeamLine => TakeOff { neckline: 0.0, centre: 0.0, shoulder: 0.0, slope: half.slope },
            ReadingsAt::CutEdge => TakeOff {
                neckline: self.allowance,
                centre: self.centre_taken_off(which),
                shoulder: half.shoulder_allowance,
                slope: half.slope,
            },
        };
        Ok((arcs, off))
    }

    /// From the centre that a half's outline is read from to the finished centre line, mm: a centre seam's allowance where
    /// readings are of the cut edge.
    pub(crate) fn centre_taken_off(&self, which: HalfName) -> f64 {
        match self.brief.neckline.readings_at {
            ReadingsAt::SeamLine => 0.0,
            ReadingsAt::CutEdge => self.half(which).centre_allowance,
        }
    }

    /// A strip's finished width as it is sewn, for the range, mm.
    pub(crate) fn sewn_width(&self, finished: f64) -> f64 {
        (finished + self.width_off).max(0.5)
    }

    /// What a cut width comes from, for a finish that is sewn this wide.
    pub(crate) fn cloths(&self, width: f64) -> Cloths {
        let (garment_turn, strip_turn) = (self.garment.turn_mm, self.strip.turn_mm);
        Cloths { width, allowance: self.allowance, garment_turn, strip_turn }
    }

    /// The cut edge and the seam line of a half.
    pub(crate) fn lines(&self, which: HalfName) -> Result<(Line, Line), BriefErrors> {
        let (arcs, off) = self.known(which)?;
        let seam = self.moved(which, arcs, off)?;
        let cut_edge = match self.brief.neckline.readings_at {
            ReadingsAt::CutEdge => Line::as_known(arcs, off.slope),
            ReadingsAt::SeamLine => {
                let half = self.half(which);
                let back = TakeOff {
                    neckline: -self.allowance,
                    centre: -half.centre_allowance,
                    shoulder: -half.shoulder_allowance,
                    slope: off.slope,
                };
                Line::moved_with_loops(arcs, back).unwrap_or_else(|_| Line::as_known(arcs, off.slope))
            }
        };
        Ok((cut_edge, seam))
    }

    /// The raw edge of a half once its neckline allowance is trimmed to `to` mm.
    pub(crate) fn trimmed_edge(&self, which: HalfName, to: f64) -> Result<Line, BriefErrors> {
        let (arcs, off) = self.known(which)?;
        let half = self.half(which);
        let trimmed = TakeOff {
            neckline: off.neckline - to,
            centre: off.centre - half.centre_allowance,
            shoulder: off.shoulder - half.shoulder_allowance,
            slope: off.slope,
        };
        Line::moved_with_loops(arcs, trimmed).map_err(|failed| self.move_error(which, arcs, failed, off))
    }

    /// The seam line of a half alone.
    pub(crate) fn seam_line(&self, which: HalfName) -> Result<Line, BriefErrors> {
        let (arcs, off) = self.known(which)?;
        self.moved(which, arcs, off)
    }

    /// The line a bound edge's strip is sewn on, `width` below the seam line, which is the finished edge.
    pub(crate) fn stitch_line(&self, which: HalfName, width: f64) -> Result<Line, BriefErrors> {
        let (arcs, off) = self.known(which)?;
        let below = TakeOff { neckline: off.neckline + width, ..off };
        Line::moved(arcs, below).map_err(|(problem, most)| {
            let most = most.or_else(|| largest(arcs, below)).map(|most| most - off.neckline);
            let accepted = match most {
                Some(most) => self.narrower(most),
                None => Accepted::code(self.form.narrower),
            };
            BriefError::of_number(self.form.width_field(), width, problem, accepted).into()
        })
    }

    /// Finished widths up to this one, where a brief may ask so narrow a finish.
    pub(crate) fn narrower(&self, most: f64) -> Accepted {
        let [least, _] = self.form.widths;
        if most >= least { Accepted::range(least, most, Unit::Mm) } else { Accepted::code(self.form.narrower) }
    }

    /// The half round that a bound edge's strip is sewn on, at any width; none where the line cannot be moved so far.
    pub(crate) fn stitch_rings(&self) -> impl Fn(f64) -> Option<Ring> {
        let known = [HalfName::Front, HalfName::Back].map(|which| self.known(which).ok());
        let line = |known: Option<(&[Arc], TakeOff)>, width: f64| {
            let (arcs, off) = known?;
            Line::moved(arcs, TakeOff { neckline: off.neckline + width, ..off }).ok()
        };
        move |width| {
            let [front, back] = known;
            Some(Ring::new(&line(front, width)?, &line(back, width)?))
        }
    }

    fn moved(&self, which: HalfName, arcs: &[Arc], off: TakeOff) -> Result<Line, BriefErrors> {
        Line::moved(arcs, off).map_err(|failed| self.move_error(which, arcs, failed, off))
    }

    fn move_error(&self, which: HalfName, arcs: &[Arc], (problem, most): MoveError, off: TakeOff) -> BriefErrors {
        let most = most.or_else(|| largest(arcs, off));
        if let (Problem::CuspAt { x_mm, y_mm } | Problem::CrossesAt { x_mm, y_mm }, OutlineGiven::Drawn(_)) =
            (&problem, &self.half(which).outline)
            && most.is_none_or(|most| most < FOLD_MM)
        {
            let folds = Problem::PathFoldsAt { x_mm: *x_mm, y_mm: *y_mm };
            let accepted = Accepted::code(AcceptedCode::NoFold);
            return BriefError::new(which.field(".outline.drawn.path_mm"), None, folds, accepted).into();
        }
        let (field, value) = match (&problem, most) {
            // Where a smaller neckline allowance would not do, another allowance eats the piece.
            (Problem::NothingLeft, None) if off.shoulder >= off.centre => {
                (which.field(".shoulder_allowance_mm"), off.shoulder)
            }
            (Problem::NothingLeft, None) => (which.field(".centre.seam.allowance_mm"), off.centre),
            _ => ("neckline.neckline_allowance_mm".to_owned(), self.allowance),
        };
        let accepted = match most {
            Some(most) => Accepted::range(0.0, most, Unit::Mm),
            None => Accepted::code(AcceptedCode::SmallerAllowances),
        };
        BriefError::of_number(field, value, problem, accepted).into()
    }
}
