//! The brief past the door: every value checked, every default filled in, all problems reported together.

use kurbo::{CubicBez, PathEl, PathSeg};

use crate::brief::knit::MOST_RECORDS;
use crate::brief::{
    Brief, Centre, Drawn, Half, HalfName, HeadGirth, Knit, Measured, Outline, ReadingsAt, SewnOutcome, SewnRecord,
    Shape, ShapeKind, StayEdge, Stitch, Stretch, head, knit, neckline, rules, stays,
};
use crate::check::Check;
use crate::curve::{Arc, raised};
use crate::error::{Accepted, AcceptedCode, BriefError, BriefErrors, Problem, Unit};
use crate::finish::form::{Cloths, Form};
use crate::knit::Cloth;
use crate::outline::{OutlineGiven, ShapeGiven, Shoulder, usual_roundness};
use crate::path::{PathStop, read_path};
use crate::ring::Ring;
use crate::seam_line::{Line, MoveError, TakeOff, largest, self_crossing};

/// A half, checked.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct HalfGiven {
    pub outline: OutlineGiven,
    pub centre_allowance: f64,
    pub shoulder_allowance: f64,
    /// Radians.
    pub slope: f64,
}

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
    /// How far the finished width is off, for the range. mm.
    pub width_off: f64,
    /// How far a learned hold is off, for the range: standard deviations.
    pub learned_off: f64,
    /// Whether ranges and working are left out.
    pub quick: bool,
}

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
        let front = check.half(&brief.neckline.front, HalfName::Front);
        let back = check.half(&brief.neckline.back, HalfName::Back);
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

    pub(crate) fn half_mut(&mut self, which: HalfName) -> &mut HalfGiven {
        match which {
            HalfName::Front => &mut self.front,
            HalfName::Back => &mut self.back,
        }
    }

    /// The known line's arcs and what is taken off them down to the seam line.
    pub(crate) fn known(&self, which: HalfName) -> Result<(Vec<Arc>, TakeOff), BriefErrors> {
        let half = self.half(which);
        let at_cut_edge = self.brief.neckline.readings_at == ReadingsAt::CutEdge;
        let allowance = if at_cut_edge { half.shoulder_allowance } else { 0.0 };
        let arcs = half.outline.arcs(Shoulder { slope: half.slope, allowance }).map_err(|(problem, least, most)| {
            let accepted = Accepted::range((least * 10.0).ceil() / 10.0, (most * 10.0).floor() / 10.0, Unit::Mm);
            let value = match half.outline {
                OutlineGiven::Measured { length, .. } => Some(length.to_string()),
                _ => None,
            };
            BriefErrors::from(BriefError::new(
                which.field(".outline.measured.half_length_mm"),
                value,
                problem,
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
        let seam = self.moved(which, &arcs, off)?;
        let cut_edge = match self.brief.neckline.readings_at {
            ReadingsAt::CutEdge => Line::as_known(&arcs, off.slope),
            ReadingsAt::SeamLine => {
                let half = self.half(which);
                let back = TakeOff {
                    neckline: -self.allowance,
                    centre: -half.centre_allowance,
                    shoulder: -half.shoulder_allowance,
                    slope: off.slope,
                };
                Line::moved_with_loops(&arcs, back).unwrap_or_else(|_| Line::as_known(&arcs, off.slope))
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
        Line::moved_with_loops(&arcs, trimmed).map_err(|failed| self.move_error(which, &arcs, failed, off))
    }

    /// The seam line of a half alone.
    pub(crate) fn seam_line(&self, which: HalfName) -> Result<Line, BriefErrors> {
        let (arcs, off) = self.known(which)?;
        self.moved(which, &arcs, off)
    }

    /// The line a bound edge's strip is sewn on, `width` below the seam line, which is the finished edge.
    pub(crate) fn stitch_line(&self, which: HalfName, width: f64) -> Result<Line, BriefErrors> {
        let (arcs, off) = self.known(which)?;
        let below = TakeOff { neckline: off.neckline + width, ..off };
        Line::moved(&arcs, below).map_err(|(problem, most)| {
            let most = most.or_else(|| largest(&arcs, below)).map(|most| most - off.neckline);
            let accepted = match most {
                Some(most) => self.narrower(most),
                None => Accepted::code(self.form.narrower),
            };
            BriefError::new(self.form.width_field(), Some(width.to_string()), problem, accepted).into()
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
        let line = |known: &Option<(Vec<Arc>, TakeOff)>, width: f64| {
            let (arcs, off) = known.as_ref()?;
            Line::moved(arcs, TakeOff { neckline: off.neckline + width, ..*off }).ok()
        };
        move |width| {
            let [front, back] = &known;
            Some(Ring::new(&line(front, width)?, &line(back, width)?))
        }
    }

    fn moved(&self, which: HalfName, arcs: &[Arc], off: TakeOff) -> Result<Line, BriefErrors> {
        Line::moved(arcs, off).map_err(|failed| self.move_error(which, arcs, failed, off))
    }

    fn move_error(&self, which: HalfName, arcs: &[Arc], (problem, most): MoveError, off: TakeOff) -> BriefErrors {
        let most = most.or_else(|| largest(arcs, off));
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
        BriefError::new(field, Some(value.to_string()), problem, accepted).into()
    }
}

impl Check {
    fn half(&mut self, half: &Half, which: HalfName) -> Option<HalfGiven> {
        let before = self.errors.len();
        let centre_allowance = match half.centre {
            Centre::Fold => 0.0,
            Centre::Seam { allowance_mm } => {
                self.number(which.field(".centre.seam.allowance_mm"), allowance_mm, neckline::ALLOWANCE_MM, Unit::Mm);
                allowance_mm
            }
        };
        self.number(
            which.field(".shoulder_allowance_mm"),
            half.shoulder_allowance_mm,
            neckline::ALLOWANCE_MM,
            Unit::Mm,
        );
        self.number(
            which.field(".shoulder_slope_deg"),
            half.shoulder_slope_deg,
            neckline::SHOULDER_SLOPE_DEG,
            Unit::Deg,
        );
        let outline = self.outline(&half.outline, which)?;
        (self.errors.len() == before).then_some(HalfGiven {
            outline,
            centre_allowance,
            shoulder_allowance: half.shoulder_allowance_mm,
            slope: half.shoulder_slope_deg.to_radians(),
        })
    }

    fn outline(&mut self, outline: &Outline, which: HalfName) -> Option<OutlineGiven> {
        match outline {
            Outline::Measured(m) => Some(self.measured(m, which)),
            Outline::Drafted(d) => {
                let field = |name: &str| which.field(&format!(".outline.drafted.{name}"));
                self.number(field("half_width_mm"), d.half_width_mm, neckline::HALF_WIDTH_MM, Unit::Mm);
                self.number(field("depth_mm"), d.depth_mm, neckline::DEPTH_MM, Unit::Mm);
                let shape = self.shape(&d.shape, &field("shape"));
                if let Some(radius) = d.shape.corner_radius_mm
                    && radius > d.half_width_mm.min(d.depth_mm)
                {
                    let most = d.half_width_mm.min(d.depth_mm);
                    let accepted = Accepted::range(0.0, most, Unit::Mm);
                    self.add(field("shape.corner_radius_mm"), Some(radius.to_string()), Problem::OutOfRange, accepted);
                }
                Some(OutlineGiven::Drafted { width: d.half_width_mm, depth: d.depth_mm, shape })
            }
            Outline::Drawn(drawn) => self.drawn(drawn, which),
        }
    }

    fn measured(&mut self, m: &Measured, which: HalfName) -> OutlineGiven {
        let field = |name: &str| which.field(&format!(".outline.measured.{name}"));
        self.number(field("half_length_mm"), m.half_length_mm, neckline::HALF_LENGTH_MM, Unit::Mm);
        self.maybe(field("half_width_mm"), m.half_width_mm, neckline::HALF_WIDTH_MM, Unit::Mm);
        self.maybe(field("depth_mm"), m.depth_mm, neckline::DEPTH_MM, Unit::Mm);
        if m.half_width_mm.is_none() && m.depth_mm.is_none() {
            let accepted = Accepted::code(AcceptedCode::WidthDepthOrBoth);
            self.add(field("half_width_mm"), None, Problem::Missing, accepted);
        }
        let shape = self.shape(&m.shape, &field("shape"));
        OutlineGiven::Measured { length: m.half_length_mm, width: m.half_width_mm, depth: m.depth_mm, shape }
    }

    fn shape(&mut self, shape: &Shape, field: &str) -> ShapeGiven {
        let at = |name: &str| format!("{field}.{name}");
        self.maybe(at("roundness_percent"), shape.roundness_percent, neckline::ROUNDNESS_PERCENT, Unit::Percent);
        self.maybe(at("corner_radius_mm"), shape.corner_radius_mm, neckline::CORNER_RADIUS_MM, Unit::Mm);
        self.maybe(at("leg_hollow_percent"), shape.leg_hollow_percent, neckline::LEG_HOLLOW_PERCENT, Unit::Percent);
        let kind = shape.kind;
        let curved = matches!(kind, ShapeKind::Round | ShapeKind::Scoop | ShapeKind::Boat);
        let strays = [
            ("roundness_percent", shape.roundness_percent, curved, AcceptedCode::OnlyRoundScoopBoat),
            ("corner_radius_mm", shape.corner_radius_mm, kind == ShapeKind::Square, AcceptedCode::OnlySquare),
            ("leg_hollow_percent", shape.leg_hollow_percent, kind == ShapeKind::V, AcceptedCode::OnlyV),
        ];
        for (name, value, belongs, with) in strays {
            if let (Some(value), false) = (value, belongs) {
                self.add(at(name), Some(value.to_string()), Problem::NotWithThisShape, Accepted::code(with));
            }
        }
        ShapeGiven {
            kind,
            roundness: shape.roundness_percent.map_or(usual_roundness(kind), |p| p / 100.0),
            corner_radius: shape.corner_radius_mm.unwrap_or(0.0),
            leg_hollow: shape.leg_hollow_percent.map_or(0.0, |p| p / 100.0),
        }
    }

    /// A drawn path: one open run, read from either end, from the centre line to the neck point.
    fn drawn(&mut self, drawn: &Drawn, which: HalfName) -> Option<OutlineGiven> {
        let field = which.field(".outline.drawn.path_mm");
        let shown: String = drawn.path_mm.chars().take(80).collect();
        let mut refuse = |problem, code| {
            self.add(field.clone(), Some(shown.clone()), problem, Accepted::code(code));
            None
        };
        let path = match read_path(&drawn.path_mm) {
            Ok(path) => path,
            Err(PathStop::TooLong { .. }) => return refuse(Problem::Unreadable, AcceptedCode::OneOpenRun),
            Err(PathStop::TooLarge { place, found }) => {
                return refuse(Problem::PathTooLargeAt { place, found }, AcceptedCode::CoordinatesNear);
            }
            Err(PathStop::Stray { place, found }) => {
                return refuse(Problem::PathStrayAt { place, found }, AcceptedCode::PathSyntax);
            }
            Err(PathStop::Ends { place }) => return refuse(Problem::PathEndsAt { place }, AcceptedCode::PathSyntax),
        };
        let starts = path.elements().iter().filter(|e| matches!(e, PathEl::MoveTo(_))).count();
        let mut segments: Vec<PathSeg> = path.segments().filter(|s| !is_nothing(s.to_cubic())).collect();
        if starts != 1 || segments.is_empty() || segments.len() > 200 {
            return refuse(Problem::Unreadable, AcceptedCode::OneOpenRun);
        }
        let sensible = |v: f64| v.is_finite() && v.abs() <= 2000.0;
        let all_sensible = segments
            .iter()
            .map(PathSeg::to_cubic)
            .all(|c| [c.p0, c.p1, c.p2, c.p3].iter().all(|p| sensible(p.x) && sensible(p.y)));
        if !all_sensible {
            return refuse(Problem::OutOfRange, AcceptedCode::CoordinatesNear);
        }
        let ends_at_centre = segments.last().is_some_and(|s| s.to_cubic().p3.x.abs() <= 0.5);
        if ends_at_centre {
            segments = segments.iter().rev().map(PathSeg::reverse).collect();
        }
        let curves: Vec<_> = segments.iter().map(|s| raised(*s)).collect();
        let (Some(first), Some(last)) = (curves.first(), curves.last()) else { return None };
        if first.p0.x.abs() > 0.5 || last.p3.x < 10.0 || first.p0.y - last.p3.y < 1.0 {
            return refuse(Problem::NotCentreToNeck, AcceptedCode::CentreToNeck);
        }
        let arcs: Vec<Arc> = curves.iter().map(|c| Arc::new(*c)).collect();
        let over_the_centre = |arc: &Arc| (0..=8).any(|i| arc.point(f64::from(i) / 8.0).x < -0.5);
        if arcs.iter().any(over_the_centre) {
            return refuse(Problem::NotCentreToNeck, AcceptedCode::OneSide);
        }
        let own_loop = curves.iter().find(|c| is_loop(c)).map(|c| (c.p0.x, c.p0.y));
        if let Some((x_mm, y_mm)) = own_loop.or_else(|| self_crossing(&arcs)) {
            return refuse(Problem::PathCrossesAt { x_mm, y_mm }, AcceptedCode::NoCrossing);
        }
        Some(OutlineGiven::Drawn(curves))
    }

    fn knit(&mut self, knit: &Knit, field: &str) {
        self.stretch(&knit.crosswise, &format!("{field}.crosswise"));
        for (name, way) in [("lengthwise", &knit.lengthwise), ("diagonal", &knit.diagonal)] {
            if let Some(way) = way {
                self.stretch(way, &format!("{field}.{name}"));
            }
        }
        self.maybe(format!("{field}.thickness_mm"), knit.thickness_mm, knit::THICKNESS_MM, Unit::Mm);
        self.maybe(format!("{field}.elastane_percent"), knit.elastane_percent, knit::ELASTANE_PERCENT, Unit::Percent);
        self.learned(&knit.learned, &format!("{field}.learned"));
    }

    fn learned(&mut self, records: &[SewnRecord], field: &str) {
        self.number(field, records.len() as f64, [0.0, MOST_RECORDS as f64], Unit::Count);
        for (place, record) in records.iter().take(MOST_RECORDS).enumerate() {
            let at = |name: &str| format!("{field}.{place}.{name}");
            let line = record.held_line_mm;
            if !self.number(at("held_line_mm"), line, knit::HELD_LINE_MM, Unit::Mm)
                || !self.number(at("strip_mm"), record.strip_mm, [0.6 * line, 1.3 * line], Unit::Mm)
            {
                continue;
            }
            let most = 0.25 * record.strip_mm;
            match (record.outcome, record.by_mm) {
                (SewnOutcome::LayFlat, Some(by)) => {
                    let accepted = Accepted::range(0.0, 0.0, Unit::Mm);
                    self.add(at("by_mm"), Some(by.to_string()), Problem::OutOfRange, accepted);
                }
                (SewnOutcome::LayFlat, None) => {}
                (_, Some(by)) => {
                    self.number(at("by_mm"), by, [0.5, most], Unit::Mm);
                }
                (_, None) => {
                    self.add(at("by_mm"), None, Problem::Missing, Accepted::range(0.5, most, Unit::Mm));
                }
            }
        }
    }

    fn stretch(&mut self, stretch: &Stretch, field: &str) {
        match *stretch {
            Stretch::Readings { rest_mm, stretched_mm, released_mm } => {
                let at = |name: &str| format!("{field}.readings.{name}");
                let read = self.number(at("rest_mm"), rest_mm, knit::REST_MM, Unit::Mm)
                    & self.number(at("stretched_mm"), stretched_mm, knit::STRETCHED_MM, Unit::Mm);
                if !read {
                    return;
                }
                if stretched_mm < rest_mm {
                    let accepted = Accepted::range(rest_mm, knit::MOST_TIMES_REST * rest_mm, Unit::Mm);
                    self.add(at("stretched_mm"), Some(stretched_mm.to_string()), Problem::StretchedNotLonger, accepted);
                    return;
                }
                if stretched_mm > knit::MOST_TIMES_REST * rest_mm {
                    let accepted = Accepted::range(rest_mm, knit::MOST_TIMES_REST * rest_mm, Unit::Mm);
                    self.add(at("stretched_mm"), Some(stretched_mm.to_string()), Problem::OutOfRange, accepted);
                    return;
                }
                let Some(released) = released_mm else { return };
                if !released.is_finite() {
                    let accepted = Accepted::range(rest_mm, stretched_mm, Unit::Mm);
                    self.add(at("released_mm"), Some(released.to_string()), Problem::NotFinite, accepted);
                } else if released < rest_mm || released > stretched_mm {
                    let accepted = Accepted::range(rest_mm, stretched_mm, Unit::Mm);
                    self.add(at("released_mm"), Some(released.to_string()), Problem::RecoveryOverWhole, accepted);
                }
            }
            Stretch::Percent { stretch_percent, recovery_percent } => {
                self.number(
                    format!("{field}.percent.stretch_percent"),
                    stretch_percent,
                    knit::STRETCH_PERCENT,
                    Unit::Percent,
                );
                let field = format!("{field}.percent.recovery_percent");
                self.maybe(field, recovery_percent, knit::RECOVERY_PERCENT, Unit::Percent);
            }
        }
    }

    fn others(&mut self, brief: &Brief) {
        if let Stitch::Zigzag { width_mm, advance_mm } = brief.stitch {
            self.number("stitch.zigzag.width_mm", width_mm, crate::brief::ZIGZAG_WIDTH_MM, Unit::Mm);
            self.number("stitch.zigzag.advance_mm", advance_mm, crate::brief::ZIGZAG_ADVANCE_MM, Unit::Mm);
        }
        match brief.head.girth {
            HeadGirth::OwnMm(girth) => {
                self.number("head.girth.own_mm", girth, head::GIRTH_MM, Unit::Mm);
            }
            HeadGirth::Child { age_months, .. } => {
                self.number("head.girth.child.age_months", age_months, head::AGE_MONTHS, Unit::Months);
            }
            HeadGirth::Adult(_) => {}
        }
        self.number("head.margin_mm", brief.head.margin_mm, head::MARGIN_MM, Unit::Mm);
        self.number("stays.tape_width_mm", brief.stays.tape_width_mm, stays::TAPE_WIDTH_MM, Unit::Mm);
        self.number("stays.catch_mm", brief.stays.catch_mm, stays::CATCH_MM, Unit::Mm);
        self.maybe("stays.shoulder_length_mm", brief.stays.shoulder_length_mm, stays::SHOULDER_LENGTH_MM, Unit::Mm);
        self.edges(&brief.stays.edges);
        if let Some(asks) = &brief.pattern_asks {
            self.maybe("pattern_asks.crosswise_percent", asks.crosswise_percent, knit::STRETCH_PERCENT, Unit::Percent);
            self.maybe(
                "pattern_asks.lengthwise_percent",
                asks.lengthwise_percent,
                knit::STRETCH_PERCENT,
                Unit::Percent,
            );
        }
    }

    fn edges(&mut self, edges: &[StayEdge]) {
        if edges.len() > stays::MOST_EDGES {
            let accepted = Accepted::range(0.0, stays::MOST_EDGES as f64, Unit::Count);
            self.add("stays.edges", Some(edges.len().to_string()), Problem::OutOfRange, accepted);
        }
        for (i, edge) in edges.iter().take(stays::MOST_EDGES).enumerate() {
            let at = |name: &str| format!("stays.edges[{i}].{name}");
            let known = self.number(at("length_mm"), edge.length_mm, stays::EDGE_LENGTH_MM, Unit::Mm);
            self.number(at("allowance_mm"), edge.allowance_mm, neckline::ALLOWANCE_MM, Unit::Mm);
            self.number(at("pieces"), f64::from(edge.pieces), stays::PIECES, Unit::Count);
            if known {
                let (least, most) = (edge.length_mm, stays::MOST_GATHERED * edge.length_mm);
                self.maybe(at("gathered_from_mm"), edge.gathered_from_mm, [least, most], Unit::Mm);
            }
        }
    }

    fn rules(&mut self, brief: &Brief) {
        if brief.schema != crate::brief::SCHEMA {
            let accepted = Accepted::words(AcceptedCode::ThisSchema, crate::brief::SCHEMA);
            self.add("schema", Some(brief.schema.clone()), Problem::OtherSchema, accepted);
        }
        if brief.version != crate::brief::VERSION {
            let accepted = Accepted::words(AcceptedCode::ThisSchema, crate::brief::VERSION.to_string());
            self.add("version", Some(brief.version.to_string()), Problem::OtherSchema, accepted);
        }
        let (rules, tolerances) = (&brief.rules, &brief.tolerances);
        let rows = [
            ("rules.hold_share", rules.hold_share, rules::HOLD_SHARE, Unit::Ratio),
            ("rules.comfort_share", rules.comfort_share, rules::COMFORT_SHARE, Unit::Ratio),
            ("rules.tape_hold", rules.tape_hold, rules::TAPE_HOLD, Unit::Ratio),
            ("rules.pull_share", rules.pull_share, rules::PULL_SHARE, Unit::Ratio),
            ("rules.mark_tolerance_mm", rules.mark_tolerance_mm, rules::MARK_TOLERANCE_MM, Unit::Mm),
            ("rules.clip_opening_mm", rules.clip_opening_mm, rules::CLIP_OPENING_MM, Unit::Mm),
            ("rules.turn_per_thickness", rules.turn_per_thickness, rules::TURN_PER_THICKNESS, Unit::Ratio),
            ("tolerances.reading_mm", tolerances.reading_mm, rules::READING_OFF_MM, Unit::Mm),
            ("tolerances.stretch_points", tolerances.stretch_points, rules::PERCENT_OFF_POINTS, Unit::Percent),
            ("tolerances.recovery_points", tolerances.recovery_points, rules::PERCENT_OFF_POINTS, Unit::Percent),
            ("tolerances.allowance_mm", tolerances.allowance_mm, rules::SEWN_OFF_MM, Unit::Mm),
            ("tolerances.width_mm", tolerances.width_mm, rules::SEWN_OFF_MM, Unit::Mm),
            ("tolerances.roundness_points", tolerances.roundness_points, rules::ROUNDNESS_OFF_POINTS, Unit::Percent),
        ];
        for (field, value, limits, unit) in rows {
            self.number(field, value, limits, unit);
        }
    }
}

/// A drawn segment that reaches no further than this is a slip of the pen, mm.
const SLIP_MM: f64 = 0.01;

/// Ends nearer each other than this are one place, mm.
const ONE_PLACE_MM: f64 = 1e-3;

/// How far a curve can be from its start, mm: it stays within the hull of its points.
fn reach(c: CubicBez) -> f64 {
    [c.p1, c.p2, c.p3].into_iter().map(|p| p.distance(c.p0)).fold(0.0, f64::max)
}

/// A segment that goes nowhere.
fn is_nothing(c: CubicBez) -> bool {
    c.p0 == c.p3 && reach(c) <= SLIP_MM
}

/// A segment that comes back to where it starts: the line would cross itself there.
fn is_loop(c: &CubicBez) -> bool {
    c.p0.distance(c.p3) <= ONE_PLACE_MM && reach(*c) > SLIP_MM
}
