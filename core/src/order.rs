//! The order of work for a finish, as facts: which step comes when, and with which of the plan's figures.
//!
//! Screen, paper and whoever else tells it look up words by [`StepCode`] and put the figures in; they decide nothing.
//! The order is common practice and no published source, save where a step's own source says otherwise.

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use crate::brief::{Brief, Centre, Direction, Finish, HeadGirth, Layers};
use crate::plan::{Ends, FacingPlan, MarkPlace, Plan};
use crate::source::Source;

/// One step of the work. In JSON its figures stand beside its other fields, each by [`StepFigure::name`].
#[derive(Debug, Clone, PartialEq)]
pub struct SewingStep {
    /// What is done.
    pub step: StepCode,
    /// What its place in the order rests on.
    pub source: Source,
    /// How many pieces to cut, or clips to make.
    pub count: Option<usize>,
    /// How a strip's length runs in its knit.
    pub direction: Option<Direction>,
    /// Which centre it is about.
    pub at: Option<MarkPlace>,
    /// Its lengths in mm and angles in degrees.
    pub figures: Vec<(StepFigure, f64)>,
    /// The strip's marks are to be made, each where this field of it says.
    pub places: Option<MarkField>,
    /// Parts to stay, by their index in the stays' zones.
    pub zones: Vec<usize>,
    /// What to take care of, said once each, where it first comes up.
    pub cautions: Vec<Caution>,
}

/// What a figure of a step measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepFigure {
    /// Length to cut each strip, or of stitching all round. mm.
    Length,
    /// Width to cut. mm.
    Width,
    /// From the raw edge to the stitching; at a join, its allowance. mm.
    Allowance,
    /// From the seam to the stitching beside it. mm.
    Distance,
    /// What is trimmed off, turned under, or rolled inside. mm.
    By,
    /// How far an end lies over the other leg, or runs past the point. mm.
    Over,
    /// How much shorter a mitred free edge is at each end. mm.
    Shorter,
    /// From the strip's edge to the mitre's seam. Degrees.
    Angle,
}

impl StepFigure {
    /// Its name in JSON, with its unit.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "length_mm",
            Self::Width => "width_mm",
            Self::Allowance => "allowance_mm",
            Self::Distance => "distance_mm",
            Self::By => "by_mm",
            Self::Over => "over_mm",
            Self::Shorter => "shorter_mm",
            Self::Angle => "angle_deg",
        }
    }
}

/// A field of the strip's marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum MarkField {
    /// Along the relaxed strip.
    #[serde(rename = "on_strip_mm")]
    OnStrip,
    /// Along the line it is sewn on.
    #[serde(rename = "on_seam_line_mm")]
    OnSeamLine,
}

/// What to take care of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Caution {
    /// Blades.
    Blade,
    /// A hot iron and steam.
    Iron,
    /// Ends of stay tape that must not hang loose.
    Ends,
    /// A child's neckline.
    Child,
}

/// The steps, in the order in which they can come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum StepCode {
    /// Wash and dry everything as the garment will be.
    Wash,
    /// Sew a sample from scraps.
    Sample,
    /// Cut the strip or strips.
    CutStrip,
    /// Cut the facing's pieces.
    CutFacing,
    /// Interface the facing.
    InterfaceFacing,
    /// Trim the garment's edge to be bound down to the finished edge.
    TrimEdge,
    /// Lay the stays.
    Stay,
    /// Sew the garment's seam at a centre.
    CentreSeam,
    /// Leave the garment's seam at a centre open, until the ends of the strip are caught in it.
    LeaveCentreOpen,
    /// Sew the garment's shoulder seams.
    Shoulders,
    /// Join the facing's halves at a centre.
    FacingCentre,
    /// Join the facing at the shoulders.
    FacingShoulders,
    /// Turn the facing's outer edge under and stitch it.
    FacingEdgeUnder,
    /// Overlock the facing's outer edge.
    FacingEdgeFlat,
    /// Join the strip's ends into a ring.
    Ring,
    /// Mitre the strip's ends.
    Mitre,
    /// A free edge that is not turned under is left raw or overlocked.
    FreeEdge,
    /// Press the free edge under.
    FreeEdgeUnder,
    /// Fold the strip along its length.
    Fold,
    /// Mark the strip.
    MarkStrip,
    /// Mark the neckline.
    MarkNeckline,
    /// Match the facing's notches with the garment.
    MatchFacing,
    /// Clip into points and corners, so that they spread while a strip is set along them.
    ClipCorners,
    /// Set the band.
    SewBand,
    /// Set a band whose ends lap: the last of it stays open.
    SewLapped,
    /// Lap the ends and close the rest of the seam.
    Lap,
    /// Set the strip that is turned inside.
    SewTape,
    /// Set the strip of a bound edge.
    SewBound,
    /// Set the facing.
    SewFacing,
    /// Trim the sewn allowance.
    TrimAllowance,
    /// Clip the allowance so that it turns.
    Clip,
    /// Mark where understitching stops short of points and corners.
    MarkStops,
    /// Understitch the strip.
    UnderstitchStrip,
    /// Understitch the facing.
    UnderstitchFacing,
    /// Press the band's allowances toward the garment.
    PressBand,
    /// Turn the strip inside.
    TurnStrip,
    /// Turn the facing inside.
    TurnFacing,
    /// Wrap a bound edge's strip round the edge.
    Wrap,
    /// Sew the centre seam and catch the strip's ends in it.
    CatchEnds,
    /// Cross the strip's ends on the fold and stitch them down.
    CrossEnds,
    /// Topstitch a band's allowances, if liked.
    TopstitchBand,
    /// Topstitch the strip's free edge down.
    TopstitchStrip,
    /// Topstitch a bound edge through its inner edge.
    TopstitchBound,
    /// Topstitch the facing.
    TopstitchFacing,
    /// Tack the facing to the shoulder seams' allowances.
    TackFacing,
    /// Press the whole neckline and let it rest.
    Press,
}

impl SewingStep {
    const fn new(step: StepCode) -> Self {
        Self {
            step,
            source: step.source(),
            count: None,
            direction: None,
            at: None,
            figures: Vec::new(),
            places: None,
            zones: Vec::new(),
            cautions: Vec::new(),
        }
    }

    fn at(step: StepCode, place: MarkPlace) -> Self {
        Self { at: Some(place), ..Self::new(step) }
    }

    fn with(mut self, figure: StepFigure, value: f64) -> Self {
        self.figures.push((figure, value));
        self
    }

    /// One of its figures, where it has it.
    #[must_use]
    pub fn figure(&self, figure: StepFigure) -> Option<f64> {
        self.figures.iter().find(|(other, _)| *other == figure).map(|(_, value)| *value)
    }
}

/// One object, what does not apply left out. A derived one writes each figure as a field of its own, which weighs more.
impl Serialize for SewingStep {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut fields = serializer.serialize_map(None)?;
        fields.serialize_entry("step", &self.step)?;
        fields.serialize_entry("source", &self.source)?;
        if let Some(count) = &self.count {
            fields.serialize_entry("count", count)?;
        }
        if let Some(direction) = &self.direction {
            fields.serialize_entry("direction", direction)?;
        }
        if let Some(at) = &self.at {
            fields.serialize_entry("at", at)?;
        }
        for (figure, value) in &self.figures {
            fields.serialize_entry(figure.name(), value)?;
        }
        if let Some(places) = &self.places {
            fields.serialize_entry("places", places)?;
        }
        if !self.zones.is_empty() {
            fields.serialize_entry("zones", &self.zones)?;
        }
        if !self.cautions.is_empty() {
            fields.serialize_entry("cautions", &self.cautions)?;
        }
        fields.end()
    }
}

impl StepCode {
    const fn source(self) -> Source {
        match self {
            Self::Stay => Source::StaysFirst,
            Self::TrimAllowance => Source::TrimmedSeams,
            Self::Clip => Source::ClippedCurves,
            _ => Source::CommonPractice,
        }
    }
}

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
