//! The order of work for a finish, as facts: which step comes when, and with which of the plan's figures.
//!
//! Screen, paper and whoever else tells it look up words by [`StepCode`] and put the figures in; they decide nothing.
//! The order is common practice and no published source, save where a step's own source says otherwise.

use serde::Serialize;

use crate::brief::{Brief, Centre, Direction, Finish, HeadGirth, Layers};
use crate::plan::{Ends, FacingPlan, MarkPlace, Plan, StripPlan};
use crate::source::Source;

/// One step of the work.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SewingStep {
    /// What is done.
    pub step: StepCode,
    /// What its place in the order rests on.
    pub source: Source,
    /// How many pieces to cut, or clips to make.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub count: Option<usize>,
    /// How a strip's length runs in its knit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub direction: Option<Direction>,
    /// Which centre it is about.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<MarkPlace>,
    /// Length to cut each strip, or of stitching all round. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_mm: Option<f64>,
    /// Width to cut. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width_mm: Option<f64>,
    /// From the raw edge to the stitching; at a join, its allowance. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub allowance_mm: Option<f64>,
    /// From the seam to the stitching beside it. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distance_mm: Option<f64>,
    /// What is trimmed off, turned under, or drawn in. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by_mm: Option<f64>,
    /// How far an end lies over the other leg, or runs past the point. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub over_mm: Option<f64>,
    /// How much shorter a mitred free edge is at each end. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shorter_mm: Option<f64>,
    /// From the strip's edge to the mitre's seam. Degrees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub angle_deg: Option<f64>,
    /// Marks to make, by their index in the strip's marks, and where.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<StepPlace>,
    /// Parts to stay, by their index in the stays' zones.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub zones: Vec<usize>,
    /// What to take care of, said once each, where it first comes up.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
}

/// A mark to make.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StepPlace {
    /// Its index in the strip's marks.
    pub mark: usize,
    /// From centre back, along the relaxed strip or along the line it is sewn on. mm.
    pub at_mm: f64,
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
    /// Clip the allowance so that it turns.
    Clip,
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
            length_mm: None,
            width_mm: None,
            allowance_mm: None,
            distance_mm: None,
            by_mm: None,
            over_mm: None,
            shorter_mm: None,
            angle_deg: None,
            places: Vec::new(),
            zones: Vec::new(),
            cautions: Vec::new(),
        }
    }

    fn at(step: StepCode, place: MarkPlace) -> Self {
        Self { at: Some(place), ..Self::new(step) }
    }
}

impl StepCode {
    const fn source(self) -> Source {
        match self {
            Self::Stay => Source::StaysFirst,
            _ => Source::CommonPractice,
        }
    }
}

/// The steps of a plan whose other parts are worked out.
pub(crate) fn order(brief: &Brief, plan: &Plan) -> Vec<SewingStep> {
    let work = Work { brief, plan };
    let mut steps = vec![SewingStep::new(StepCode::Wash), SewingStep::new(StepCode::Sample)];
    work.cut(&mut steps);
    work.prepare_garment(&mut steps);
    if let Some(strip) = &plan.strip {
        work.prepare_strip(strip, &mut steps);
    }
    work.set(&mut steps);
    work.turn(&mut steps);
    work.hold_down(&mut steps);
    steps.push(SewingStep::new(StepCode::Press));
    work.caution(&mut steps);
    steps
}

struct Work<'a> {
    brief: &'a Brief,
    plan: &'a Plan,
}

impl Work<'_> {
    fn cut(&self, steps: &mut Vec<SewingStep>) {
        if let Some(strip) = &self.plan.strip {
            steps.push(SewingStep {
                count: Some(strip.pieces as usize),
                direction: Some(self.brief.strip_direction),
                length_mm: Some(strip.cut_length.cut_mm),
                width_mm: Some(strip.cut_width.cut_mm),
                ..SewingStep::new(StepCode::CutStrip)
            });
        }
        if let Some(facing) = &self.plan.facing {
            let pieces = |on_fold| if on_fold { 1 } else { 2 };
            steps.push(SewingStep {
                count: Some(pieces(facing.front.on_fold) + pieces(facing.back.on_fold)),
                width_mm: Some(facing.cut_width.cut_mm),
                ..SewingStep::new(StepCode::CutFacing)
            });
            steps.push(SewingStep::new(StepCode::InterfaceFacing));
        }
    }

    /// A bound edge is trimmed before anything is laid along it; stays come before anything pulls at the edge.
    fn prepare_garment(&self, steps: &mut Vec<SewingStep>) {
        let trim = self.plan.strip.as_ref().and_then(|strip| strip.trim_mm).filter(|mm| *mm > 0.0);
        steps.extend(trim.map(|mm| SewingStep { by_mm: Some(mm), ..SewingStep::new(StepCode::TrimEdge) }));
        let zones: Vec<usize> = (0..self.plan.stays.zones.len()).collect();
        if !zones.is_empty() {
            steps.push(SewingStep { zones, ..SewingStep::new(StepCode::Stay) });
        }
        for place in [MarkPlace::CentreBack, MarkPlace::CentreFront] {
            if self.has_seam(place) {
                let open = matches!(self.ends(place), Some(Ends::Overhang { .. }));
                let step = if open { StepCode::LeaveCentreOpen } else { StepCode::CentreSeam };
                steps.push(SewingStep::at(step, place));
            }
        }
        steps.push(SewingStep::new(StepCode::Shoulders));
        if let (Some(facing), Finish::Facing(given)) = (&self.plan.facing, &self.brief.finish) {
            join_facing(facing, given.edge_allowance_mm, steps);
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

    /// Joined while it is flat, then folded, then marked.
    fn prepare_strip(&self, strip: &StripPlan, steps: &mut Vec<SewingStep>) {
        for place in [MarkPlace::CentreBack, MarkPlace::CentreFront] {
            steps.extend(self.ends(place).and_then(|ends| self.join(ends, place)));
        }
        steps.push(match &self.brief.finish {
            Finish::Band(band) if band.layers == Layers::Folded => SewingStep::new(StepCode::Fold),
            Finish::Bound(bound) if bound.layers == Layers::Folded => SewingStep::new(StepCode::Fold),
            Finish::Tape(tape) => free_edge(tape.turn_under_mm),
            Finish::Bound(bound) => free_edge(bound.turn_under_mm),
            Finish::Band(_) | Finish::Facing(_) => free_edge(0.0),
        });
        let places = |at: fn(&crate::plan::Mark) -> f64| {
            strip.marks.iter().enumerate().map(|(mark, m)| StepPlace { mark, at_mm: at(m) }).collect()
        };
        let mark = |step, places| SewingStep { places, ..SewingStep::new(step) };
        steps.push(mark(StepCode::MarkStrip, places(|mark| mark.on_strip_mm)));
        steps.push(mark(StepCode::MarkNeckline, places(|mark| mark.on_seam_line_mm)));
    }

    /// What is sewn before the strip is set: laps and open ends are not.
    fn join(&self, ends: Ends, place: MarkPlace) -> Option<SewingStep> {
        let allowance_mm = match &self.brief.finish {
            Finish::Band(band) => band.join_allowance_mm,
            Finish::Tape(tape) => tape.join_allowance_mm,
            Finish::Bound(bound) => bound.join_allowance_mm,
            Finish::Facing(_) => return None,
        };
        let step = |code| SewingStep { allowance_mm: Some(allowance_mm), ..SewingStep::at(code, place) };
        match ends {
            Ends::Ring => Some(step(StepCode::Ring)),
            Ends::Mitre { angle_deg, free_edge_shorter_mm } => Some(SewingStep {
                shorter_mm: Some(free_edge_shorter_mm),
                angle_deg: Some(angle_deg),
                ..step(StepCode::Mitre)
            }),
            Ends::Lap { .. } | Ends::Overhang { .. } => None,
        }
    }

    /// The seam itself, and what closes it.
    fn set(&self, steps: &mut Vec<SewingStep>) {
        let allowance_mm = Some(self.brief.neckline.neckline_allowance_mm);
        let seam = |code| SewingStep { allowance_mm, ..SewingStep::new(code) };
        let lap = [MarkPlace::CentreBack, MarkPlace::CentreFront].map(|place| (place, self.ends(place)));
        let laps: Vec<(MarkPlace, f64)> = lap
            .into_iter()
            .filter_map(|(place, ends)| match ends {
                Some(Ends::Lap { lap_width_mm, .. }) => Some((place, lap_width_mm)),
                _ => None,
            })
            .collect();
        steps.push(match &self.brief.finish {
            Finish::Band(_) if !laps.is_empty() => seam(StepCode::SewLapped),
            Finish::Band(_) => seam(StepCode::SewBand),
            Finish::Tape(_) => seam(StepCode::SewTape),
            Finish::Bound(bound) => {
                SewingStep { allowance_mm: Some(bound.width_mm), ..SewingStep::new(StepCode::SewBound) }
            }
            Finish::Facing(_) => SewingStep {
                by_mm: self.plan.facing.as_ref().map(|facing| facing.favour_mm),
                ..seam(StepCode::SewFacing)
            },
        });
        let lap = |(place, over)| SewingStep { over_mm: Some(over), ..SewingStep::at(StepCode::Lap, place) };
        steps.extend(laps.into_iter().map(lap));
    }

    fn clips(&self) -> Option<SewingStep> {
        let count = self.plan.clips.as_ref().map(|clips| clips.count).filter(|count| *count > 0);
        count.map(|count| SewingStep { count: Some(count), ..SewingStep::new(StepCode::Clip) })
    }

    /// Clipped, understitched and turned, in this order: an allowance that is not clipped does not turn, and
    /// understitching reaches the allowances only before.
    fn turn(&self, steps: &mut Vec<SewingStep>) {
        match &self.brief.finish {
            Finish::Band(_) => steps.push(SewingStep::new(StepCode::PressBand)),
            Finish::Bound(_) => steps.push(SewingStep::new(StepCode::Wrap)),
            Finish::Tape(_) => {
                steps.extend(self.clips());
                steps.extend([StepCode::UnderstitchStrip, StepCode::TurnStrip].map(SewingStep::new));
                self.catch_ends(steps);
            }
            Finish::Facing(_) => {
                steps.extend(self.clips());
                let facing = self.plan.facing.as_ref();
                steps.push(SewingStep {
                    distance_mm: facing.map(|facing| facing.understitch_distance_mm),
                    length_mm: facing.map(|facing| facing.understitch_length_mm),
                    ..SewingStep::new(StepCode::UnderstitchFacing)
                });
                steps.push(SewingStep::new(StepCode::TurnFacing));
            }
        }
    }

    /// Open ends lie along the turned strip, past the point: only then does the centre seam take them in.
    fn catch_ends(&self, steps: &mut Vec<SewingStep>) {
        for place in [MarkPlace::CentreBack, MarkPlace::CentreFront] {
            if let Some(Ends::Overhang { overhang_mm }) = self.ends(place) {
                let step = if self.has_seam(place) { StepCode::CatchEnds } else { StepCode::CrossEnds };
                steps.push(SewingStep { over_mm: Some(overhang_mm), ..SewingStep::at(step, place) });
            }
        }
    }

    fn hold_down(&self, steps: &mut Vec<SewingStep>) {
        match &self.brief.finish {
            Finish::Band(_) => steps.push(SewingStep::new(StepCode::TopstitchBand)),
            Finish::Bound(_) => steps.push(SewingStep::new(StepCode::TopstitchBound)),
            Finish::Tape(_) => steps.push(SewingStep {
                distance_mm: self.plan.strip.as_ref().and_then(|strip| strip.topstitch_mm),
                ..SewingStep::new(StepCode::TopstitchStrip)
            }),
            Finish::Facing(given) => {
                let length_mm = self.plan.facing.as_ref().and_then(|facing| facing.topstitch_length_mm);
                steps.extend(given.topstitch_mm.map(|mm| SewingStep {
                    distance_mm: Some(mm),
                    length_mm,
                    ..SewingStep::new(StepCode::TopstitchFacing)
                }));
                steps.push(SewingStep::new(StepCode::TackFacing));
            }
        }
    }

    /// Each caution once, at the first step that it bears on.
    fn caution(&self, steps: &mut [SewingStep]) {
        let child = matches!(self.brief.head.girth, HeadGirth::Child { .. });
        for caution in [Caution::Blade, Caution::Iron, Caution::Ends, Caution::Child] {
            let first = steps.iter_mut().find(|step| caution.bears_on(step.step));
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

fn free_edge(under: f64) -> SewingStep {
    if under > 0.0 {
        SewingStep { by_mm: Some(under), ..SewingStep::new(StepCode::FreeEdgeUnder) }
    } else {
        SewingStep::new(StepCode::FreeEdge)
    }
}

/// The facing made whole, its outer edge finished while it lies flat.
fn join_facing(facing: &FacingPlan, under: f64, steps: &mut Vec<SewingStep>) {
    for (piece, place) in [(&facing.back, MarkPlace::CentreBack), (&facing.front, MarkPlace::CentreFront)] {
        if !piece.on_fold {
            steps.push(SewingStep::at(StepCode::FacingCentre, place));
        }
    }
    steps.push(SewingStep::new(StepCode::FacingShoulders));
    steps.push(if under > 0.0 {
        SewingStep { by_mm: Some(under), ..SewingStep::new(StepCode::FacingEdgeUnder) }
    } else {
        SewingStep::new(StepCode::FacingEdgeFlat)
    });
    steps.push(SewingStep::new(StepCode::MatchFacing));
}
