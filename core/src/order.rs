//! The order of work for a finish, as facts: which step comes when, and with which of the plan's figures.
//!
//! Screen, paper and whoever else tells it look up words by [`StepCode`] and put the figures in; they decide nothing.
//! The order is common practice and no published source, save where a step's own source says otherwise.

pub(crate) mod job;
#[cfg(feature = "read-plan")]
mod read;
pub(crate) mod step;

use crate::brief::{Brief, Centre, HeadGirth};
use crate::ends::Ends;
use crate::finish::form::Form;
use crate::finish::shared::Layers;
use crate::given::Given;
use crate::plan::Plan;
use crate::strip::marks::MarkPlace;
use job::Job;
pub use step::{Caution, MarkField, SewingStep, StepCode, StepFigure};

/// The steps of a plan whose other parts are worked out: the jobs of its finish, one after the other.
pub(crate) fn order(given: &Given<'_>, plan: &Plan) -> Vec<SewingStep> {
    let mut work = Work { brief: given.brief, form: &given.form, plan, steps: Vec::new() };
    for job in given.brief.finish.one().order() {
        work.add(*job);
    }
    work.caution();
    work.steps
}

struct Work<'a> {
    brief: &'a Brief,
    form: &'a Form,
    plan: &'a Plan,
    steps: Vec<SewingStep>,
}

const CENTRES: [MarkPlace; 2] = [MarkPlace::CentreBack, MarkPlace::CentreFront];

impl Work<'_> {
    fn add(&mut self, job: Job) {
        match job {
            Job::Plain(code) => self.plain(code),
            Job::CutStrip => self.cut_strip(),
            Job::CutFacing => self.cut_facing(),
            Job::TrimEdge => {
                let trim = self.plan.strip.as_ref().and_then(|strip| strip.trim_mm);
                self.maybe(StepCode::TrimEdge, StepFigure::By, trim.filter(|mm| *mm > 0.0));
            }
            Job::Stay => self.stay(),
            Job::CentreSeams => self.centre_seams(),
            Job::FacingCentres => self.facing_centres(),
            Job::FacingEdge => self.edge(StepCode::FacingEdgeUnder, StepCode::FacingEdgeFlat),
            Job::JoinEnds => self.join_ends(),
            Job::FreeEdge if self.form.layers == Layers::Folded => self.plain(StepCode::Fold),
            Job::FreeEdge => self.edge(StepCode::FreeEdgeUnder, StepCode::FreeEdge),
            Job::Mark => self.mark(),
            Job::Clip(code) => self.clip(code),
            Job::Sew(code) => self.sew(code),
            Job::Lap => self.lap(),
            Job::TrimAllowance => {
                let to = self.plan.clips.as_ref().and_then(|clips| clips.trim_to_mm);
                self.maybe(StepCode::TrimAllowance, StepFigure::Width, to);
            }
            Job::MarkStops => self.mark_stops(),
            Job::UnderstitchFacing => self.understitch_facing(),
            Job::TurnFacing => {
                let favour = self.plan.facing.as_ref().map(|facing| facing.favour_mm);
                self.maybe(StepCode::TurnFacing, StepFigure::By, favour);
            }
            Job::CatchEnds => self.catch_ends(),
            Job::Topstitch(code) => self.topstitch(code),
        }
    }

    fn plain(&mut self, code: StepCode) {
        self.steps.push(SewingStep::new(code));
    }

    /// A step with one figure, where there is one.
    fn maybe(&mut self, code: StepCode, figure: StepFigure, value: Option<f64>) {
        self.steps.extend(value.map(|value| SewingStep::new(code).with(figure, value)));
    }

    fn cut_strip(&mut self) {
        let Some(strip) = &self.plan.strip else { return };
        let step = SewingStep::new(StepCode::CutStrip)
            .with(StepFigure::Length, strip.cut_length.cut_mm)
            .with(StepFigure::Width, strip.cut_width.cut_mm);
        let (count, direction) = (Some(strip.pieces as usize), Some(self.brief.strip_direction));
        self.steps.push(SewingStep { count, direction, ..step });
    }

    fn cut_facing(&mut self) {
        let Some(facing) = &self.plan.facing else { return };
        let pieces = |on_fold| if on_fold { 1 } else { 2 };
        let count = Some(pieces(facing.front.on_fold) + pieces(facing.back.on_fold));
        let step = SewingStep::new(StepCode::CutFacing).with(StepFigure::Width, facing.cut_width.cut_mm);
        self.steps.push(SewingStep { count, ..step });
    }

    fn stay(&mut self) {
        let zones: Vec<usize> = (0..self.plan.stays.zones.len()).collect();
        if !zones.is_empty() {
            self.steps.push(SewingStep { zones, ..SewingStep::new(StepCode::Stay) });
        }
    }

    fn centre_seams(&mut self) {
        for place in CENTRES {
            if self.has_seam(place) {
                let open = matches!(self.ends(place), Some(Ends::Overhang { .. }));
                let step = if open { StepCode::LeaveCentreOpen } else { StepCode::CentreSeam };
                self.steps.push(SewingStep::at(step, place));
            }
        }
    }

    fn has_seam(&self, place: MarkPlace) -> bool {
        let neckline = &self.brief.neckline;
        let half = if place == MarkPlace::CentreBack { &neckline.back } else { &neckline.front };
        matches!(half.centre, Centre::Seam { .. })
    }

    /// How the strip's ends meet at a centre; none where it runs through, or there is no strip.
    fn ends(&self, place: MarkPlace) -> Option<Ends> {
        let strip = self.plan.strip.as_ref()?;
        if strip.join_at == place {
            return Some(strip.ends);
        }
        strip.back_ends.filter(|_| place == MarkPlace::CentreBack)
    }

    fn facing_centres(&mut self) {
        let Some(facing) = &self.plan.facing else { return };
        for (piece, place) in [&facing.back, &facing.front].into_iter().zip(CENTRES) {
            if !piece.on_fold {
                self.steps.push(SewingStep::at(StepCode::FacingCentre, place));
            }
        }
    }

    /// An edge that is turned under, or left as it is.
    fn edge(&mut self, under: StepCode, flat: StepCode) {
        let by = self.form.turned_under;
        if by > 0.0 { self.maybe(under, StepFigure::By, Some(by)) } else { self.plain(flat) }
    }

    fn mark(&mut self) {
        for (code, field) in
            [(StepCode::MarkStrip, MarkField::OnStrip), (StepCode::MarkNeckline, MarkField::OnSeamLine)]
        {
            self.steps.push(SewingStep { places: Some(field), ..SewingStep::new(code) });
        }
    }

    fn join_ends(&mut self) {
        for place in CENTRES {
            let step = |code| SewingStep::at(code, place).with(StepFigure::Allowance, self.form.join);
            match self.ends(place) {
                Some(Ends::Ring) => self.steps.push(step(StepCode::Ring)),
                Some(Ends::Mitre { angle_deg, free_edge_shorter_mm }) => {
                    let step = step(StepCode::Mitre).with(StepFigure::Shorter, free_edge_shorter_mm);
                    self.steps.push(step.with(StepFigure::Angle, angle_deg));
                }
                Some(Ends::Lap { .. } | Ends::Overhang { .. }) | None => {}
            }
        }
    }

    /// Where an end laps, and how far.
    fn laps(&self) -> impl Iterator<Item = (MarkPlace, f64)> {
        CENTRES.into_iter().filter_map(|place| match self.ends(place) {
            Some(Ends::Lap { lap_width_mm, .. }) => Some((place, lap_width_mm)),
            _ => None,
        })
    }

    /// The seam; where an end laps, the last of it stays open.
    fn sew(&mut self, code: StepCode) {
        let code = if self.laps().next().is_some() { StepCode::SewLapped } else { code };
        let allowance = self.brief.neckline.neckline_allowance_mm;
        let from_edge = if self.form.goes_round_edge() { self.form.width } else { allowance };
        self.maybe(code, StepFigure::Allowance, Some(from_edge));
    }

    fn lap(&mut self) {
        let step = |(place, over)| SewingStep::at(StepCode::Lap, place).with(StepFigure::Over, over);
        let steps: Vec<SewingStep> = self.laps().map(step).collect();
        self.steps.extend(steps);
    }

    fn clip(&mut self, code: StepCode) {
        let count = self.plan.clips.as_ref().map(|clips| clips.count).filter(|count| *count > 0);
        if count.is_some() {
            self.steps.push(SewingStep { count, ..SewingStep::new(code) });
        }
    }

    fn mark_stops(&mut self) {
        let of_strip = self.plan.strip.as_ref().and_then(|strip| strip.understitch_stops_mm);
        let stops = of_strip.or(self.plan.facing.as_ref().and_then(|facing| facing.understitch_stops_mm));
        self.maybe(StepCode::MarkStops, StepFigure::Distance, stops);
    }

    fn understitch_facing(&mut self) {
        let Some(facing) = &self.plan.facing else { return };
        let step = SewingStep::new(StepCode::UnderstitchFacing);
        let step = step.with(StepFigure::Distance, facing.understitch_distance_mm);
        self.steps.push(step.with(StepFigure::Length, facing.understitch_length_mm));
    }

    fn catch_ends(&mut self) {
        for place in CENTRES {
            if let Some(Ends::Overhang { overhang_mm }) = self.ends(place) {
                let step = if self.has_seam(place) { StepCode::CatchEnds } else { StepCode::CrossEnds };
                self.steps.push(SewingStep::at(step, place).with(StepFigure::Over, overhang_mm));
            }
        }
    }

    fn topstitch(&mut self, code: StepCode) {
        let Some(distance) = self.form.topstitch else { return };
        let step = SewingStep::new(code).with(StepFigure::Distance, distance);
        let length = self.plan.facing.as_ref().and_then(|facing| facing.topstitch_length_mm);
        self.steps.push(match length {
            Some(length) => step.with(StepFigure::Length, length),
            None => step,
        });
    }

    /// Each caution once, at the first step that it bears on.
    fn caution(&mut self) {
        let child = matches!(self.brief.head.girth, HeadGirth::Child { .. });
        for caution in [Caution::Blade, Caution::Iron, Caution::Ends, Caution::Child] {
            let first = self.steps.iter_mut().find(|step| caution.bears_on(step.step));
            if let Some(step) = first.filter(|_| child || caution != Caution::Child) {
                step.cautions.push(caution);
            }
        }
    }
}

impl Caution {
    const fn bears_on(self, step: StepCode) -> bool {
        match self {
            Self::Blade => matches!(step, StepCode::CutStrip | StepCode::CutFacing),
            Self::Iron => matches!(
                step,
                StepCode::InterfaceFacing
                    | StepCode::Ring
                    | StepCode::Mitre
                    | StepCode::Fold
                    | StepCode::FreeEdgeUnder
                    | StepCode::PressBand
                    | StepCode::TurnStrip
                    | StepCode::Press
            ),
            Self::Ends => matches!(step, StepCode::Stay),
            Self::Child => matches!(
                step,
                StepCode::SewBand | StepCode::SewLapped | StepCode::SewTape | StepCode::SewBound | StepCode::SewFacing
            ),
        }
    }
}
