//! The order of work for a finish, as facts: which step comes when, and with which of the plan's figures.
//!
//! Screen, paper and whoever else tells it look up words by [`StepCode`] and put the figures in; they decide nothing.
//! The order is common practice and no published source, save where a step's own source says otherwise.

pub(crate) mod step;

use crate::brief::{Brief, Centre, Finish, HeadGirth, Layers};
use crate::ends::Ends;
use crate::facing::FacingPlan;
use crate::plan::Plan;
use crate::strip::marks::MarkPlace;
pub use step::{Caution, MarkField, SewingStep, StepCode, StepFigure};

/// The steps of a plan whose other parts are worked out.
pub(crate) fn order(brief: &Brief, plan: &Plan) -> Vec<SewingStep> {
    let mut work = Work { brief, plan, steps: Vec::new() };
    work.plain(StepCode::Wash);
    work.plain(StepCode::Sample);
    work.cut();
    work.prepare_garment();
    if plan.strip.is_some() {
        work.prepare_strip();
    }
    work.set();
    work.turn();
    work.hold_down();
    work.plain(StepCode::Press);
    work.caution();
    work.steps
}

struct Work<'a> {
    brief: &'a Brief,
    plan: &'a Plan,
    steps: Vec<SewingStep>,
}

const CENTRES: [MarkPlace; 2] = [MarkPlace::CentreBack, MarkPlace::CentreFront];

impl Work<'_> {
    fn plain(&mut self, code: StepCode) {
        self.steps.push(SewingStep::new(code));
    }

    /// A step with one figure.
    fn one(&mut self, code: StepCode, figure: StepFigure, value: f64) {
        self.steps.push(SewingStep::new(code).with(figure, value));
    }

    /// A step with two.
    fn two(&mut self, code: StepCode, a: (StepFigure, f64), b: (StepFigure, f64)) {
        self.steps.push(SewingStep::new(code).with(a.0, a.1).with(b.0, b.1));
    }

    fn cut(&mut self) {
        use StepFigure::{Length, Width};
        if let Some(strip) = &self.plan.strip {
            let step = SewingStep::new(StepCode::CutStrip)
                .with(Length, strip.cut_length.cut_mm)
                .with(Width, strip.cut_width.cut_mm);
            let (count, direction) = (Some(strip.pieces as usize), Some(self.brief.strip_direction));
            self.steps.push(SewingStep { count, direction, ..step });
        }
        if let Some(facing) = &self.plan.facing {
            let pieces = |on_fold| if on_fold { 1 } else { 2 };
            let count = Some(pieces(facing.front.on_fold) + pieces(facing.back.on_fold));
            let step = SewingStep::new(StepCode::CutFacing).with(Width, facing.cut_width.cut_mm);
            self.steps.push(SewingStep { count, ..step });
            self.plain(StepCode::InterfaceFacing);
        }
    }

    /// A bound edge is trimmed before anything is laid along it; stays come before anything pulls at the edge.
    fn prepare_garment(&mut self) {
        let trim = self.plan.strip.as_ref().and_then(|strip| strip.trim_mm);
        if let Some(mm) = trim.filter(|mm| *mm > 0.0) {
            self.one(StepCode::TrimEdge, StepFigure::By, mm);
        }
        let zones: Vec<usize> = (0..self.plan.stays.zones.len()).collect();
        if !zones.is_empty() {
            self.steps.push(SewingStep { zones, ..SewingStep::new(StepCode::Stay) });
        }
        for place in CENTRES {
            if self.has_seam(place) {
                let open = matches!(self.ends(place), Some(Ends::Overhang { .. }));
                let step = if open { StepCode::LeaveCentreOpen } else { StepCode::CentreSeam };
                self.steps.push(SewingStep::at(step, place));
            }
        }
        self.plain(StepCode::Shoulders);
        if let (Some(facing), Finish::Facing(given)) = (&self.plan.facing, &self.brief.finish) {
            self.join_facing(facing, given.edge_allowance_mm);
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

    /// The facing made whole, its outer edge finished while it lies flat.
    fn join_facing(&mut self, facing: &FacingPlan, under: f64) {
        for (piece, place) in [&facing.back, &facing.front].into_iter().zip(CENTRES) {
            if !piece.on_fold {
                self.steps.push(SewingStep::at(StepCode::FacingCentre, place));
            }
        }
        self.plain(StepCode::FacingShoulders);
        if under > 0.0 {
            self.one(StepCode::FacingEdgeUnder, StepFigure::By, under);
        } else {
            self.plain(StepCode::FacingEdgeFlat);
        }
        self.plain(StepCode::MatchFacing);
    }

    /// Joined while it is flat, then folded, then marked.
    fn prepare_strip(&mut self) {
        let (join, folded, under) = match &self.brief.finish {
            Finish::Band(band) => (band.join_allowance_mm, band.layers == Layers::Folded, 0.0),
            Finish::Tape(tape) => (tape.join_allowance_mm, false, tape.turn_under_mm),
            Finish::Bound(bound) => (bound.join_allowance_mm, bound.layers == Layers::Folded, bound.turn_under_mm),
            Finish::Facing(_) => return,
        };
        for place in CENTRES {
            self.join(place, join);
        }
        if folded {
            self.plain(StepCode::Fold);
        } else if under > 0.0 {
            self.one(StepCode::FreeEdgeUnder, StepFigure::By, under);
        } else {
            self.plain(StepCode::FreeEdge);
        }
        for (code, field) in
            [(StepCode::MarkStrip, MarkField::OnStrip), (StepCode::MarkNeckline, MarkField::OnSeamLine)]
        {
            self.steps.push(SewingStep { places: Some(field), ..SewingStep::new(code) });
        }
    }

    /// What is sewn before the strip is set: laps and open ends are not.
    fn join(&mut self, place: MarkPlace, allowance: f64) {
        let step = |code| SewingStep::at(code, place).with(StepFigure::Allowance, allowance);
        match self.ends(place) {
            Some(Ends::Ring) => self.steps.push(step(StepCode::Ring)),
            Some(Ends::Mitre { angle_deg, free_edge_shorter_mm }) => {
                let step = step(StepCode::Mitre).with(StepFigure::Shorter, free_edge_shorter_mm);
                self.steps.push(step.with(StepFigure::Angle, angle_deg));
            }
            Some(Ends::Lap { .. } | Ends::Overhang { .. }) | None => {}
        }
    }

    /// The seam itself, and what closes it.
    fn set(&mut self) {
        let lapped = |place: &MarkPlace| match self.ends(*place) {
            Some(Ends::Lap { lap_width_mm, .. }) => Some((*place, lap_width_mm)),
            _ => None,
        };
        let laps: Vec<(MarkPlace, f64)> = CENTRES.iter().filter_map(lapped).collect();
        let allowance = self.brief.neckline.neckline_allowance_mm;
        let (code, from_edge) = match &self.brief.finish {
            Finish::Band(_) if laps.is_empty() => (StepCode::SewBand, allowance),
            Finish::Band(_) => (StepCode::SewLapped, allowance),
            Finish::Tape(_) => (StepCode::SewTape, allowance),
            Finish::Bound(bound) => (StepCode::SewBound, bound.width_mm),
            Finish::Facing(_) => (StepCode::SewFacing, allowance),
        };
        if !self.brief.finish.turns_inside() {
            self.clips(StepCode::ClipCorners);
        }
        self.one(code, StepFigure::Allowance, from_edge);
        for (place, over) in laps {
            self.steps.push(SewingStep::at(StepCode::Lap, place).with(StepFigure::Over, over));
        }
    }

    fn clips(&mut self, code: StepCode) {
        let count = self.plan.clips.as_ref().map(|clips| clips.count).filter(|count| *count > 0);
        if count.is_some() {
            self.steps.push(SewingStep { count, ..SewingStep::new(code) });
        }
    }

    /// Trimmed where it is wide, clipped, and marked where understitching stops.
    fn ready_to_turn(&mut self) {
        if let Some(mm) = self.plan.clips.as_ref().and_then(|clips| clips.trim_to_mm) {
            self.one(StepCode::TrimAllowance, StepFigure::Width, mm);
        }
        self.clips(StepCode::Clip);
        let of_strip = self.plan.strip.as_ref().and_then(|strip| strip.understitch_stops_mm);
        if let Some(mm) = of_strip.or(self.plan.facing.as_ref().and_then(|facing| facing.understitch_stops_mm)) {
            self.one(StepCode::MarkStops, StepFigure::Distance, mm);
        }
    }

    /// Clipped, understitched and turned, in this order: an allowance that is not clipped does not turn, and
    /// understitching reaches the allowances only before.
    fn turn(&mut self) {
        use StepFigure::{Distance, Length};
        match &self.brief.finish {
            Finish::Band(_) => self.plain(StepCode::PressBand),
            Finish::Bound(_) => self.plain(StepCode::Wrap),
            Finish::Tape(_) => {
                self.ready_to_turn();
                self.plain(StepCode::UnderstitchStrip);
                self.plain(StepCode::TurnStrip);
                self.catch_ends();
            }
            Finish::Facing(_) => {
                self.ready_to_turn();
                if let Some(facing) = &self.plan.facing {
                    let (distance, length) = (facing.understitch_distance_mm, facing.understitch_length_mm);
                    self.two(StepCode::UnderstitchFacing, (Distance, distance), (Length, length));
                    self.one(StepCode::TurnFacing, StepFigure::By, facing.favour_mm);
                }
            }
        }
    }

    /// Open ends lie along the turned strip, past the point: only then does the centre seam take them in.
    fn catch_ends(&mut self) {
        for place in CENTRES {
            if let Some(Ends::Overhang { overhang_mm }) = self.ends(place) {
                let step = if self.has_seam(place) { StepCode::CatchEnds } else { StepCode::CrossEnds };
                self.steps.push(SewingStep::at(step, place).with(StepFigure::Over, overhang_mm));
            }
        }
    }

    fn hold_down(&mut self) {
        use StepFigure::{Distance, Length};
        match &self.brief.finish {
            Finish::Band(_) => self.plain(StepCode::TopstitchBand),
            Finish::Bound(_) => self.plain(StepCode::TopstitchBound),
            Finish::Tape(_) => {
                if let Some(mm) = self.plan.strip.as_ref().and_then(|strip| strip.topstitch_mm) {
                    self.one(StepCode::TopstitchStrip, Distance, mm);
                }
            }
            Finish::Facing(given) => {
                let length = self.plan.facing.as_ref().and_then(|facing| facing.topstitch_length_mm);
                if let (Some(mm), Some(length)) = (given.topstitch_mm, length) {
                    self.two(StepCode::TopstitchFacing, (Distance, mm), (Length, length));
                }
                self.plain(StepCode::TackFacing);
            }
        }
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
