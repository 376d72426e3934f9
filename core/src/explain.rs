//! The working of each figure, gathered beside the reckoning so that the reckoning stays readable.

use crate::brief::{Facing, Finish, HeadGirth, Knit, Layers, ReadingsAt, Stitch, Stretch};
use crate::clip::Clips;
use crate::clip::{ClipKind, ClipPlan};
use crate::ends::Ends;
use crate::ends::{Joint, Joints, lap_past};
use crate::error::Unit::{self, Count, Deg, Mm, Months, Percent, Ratio};
use crate::facing::FacingPlan;
use crate::facing::{self, HalfFacing};
use crate::girth::{Reach, Rings, Run};
use crate::given::Given;
use crate::knit::{Cloth, USUAL_LENGTHWISE_SHARE, USUAL_THICKNESS_MM};
use crate::learned::LearnedHold;
use crate::learned::{PRIOR_RECORDS, RANGE_DEVIATIONS, RECORD_DEVIATION, holds};
use crate::lines::{HalfLine, SeamLine};
use crate::opening::OpeningPlan;
use crate::opening::{head_rows, stitch_extension};
use crate::ring::{Ring, STEPS};
use crate::rule::Rule;
use crate::seam_line::Line;
use crate::source::Source;
use crate::strip::StripPlan;
use crate::strip::marks::MarkPlace;
use crate::strip::{
    BOUND_CAUGHT_MM, BOUND_OVER_MM, Edges, SEEN_SLACK_MM, STRAIGHT_HOLD, Side, Strip, StripGiven, bound_turn,
    slack_by_rule,
};
use crate::working::{Changes, Working};

/// The seam line's figures, by halves (front first) and whole.
pub(crate) fn seam_line(given: &Given<'_>, lines: [&Line; 2], ring: &Ring, plan: &SeamLine, working: &mut Working) {
    if working.is_off() {
        return;
    }
    for (name, line, half) in [("front", lines[0], &plan.front), ("back", lines[1], &plan.back)] {
        half_line(given, &format!("seam_line.{name}"), line, half, working);
    }
    let (front, back) = (plan.front.length_mm, plan.back.length_mm);
    let inputs = [("front", front, Mm), ("back", back, Mm)];
    working.mm("seam_line.whole_length_mm", Rule::SeamLineWhole, &inputs, plan.whole_length_mm, Source::Geometry);
    // A smooth centre turns by half its angle on each side; a point's turning is left to its mitre or open ends.
    let own = |line: &Line| {
        let centre = if line.point_half_angle().is_some() { 0.0 } else { line.half_turn_at_centre() };
        (line.turning() + centre).to_degrees()
    };
    let inputs =
        [("back", own(lines[1]), Deg), ("neck", ring.neck_turn.to_degrees(), Deg), ("front", own(lines[0]), Deg)];
    let result = (plan.whole_turning_deg, Deg);
    working.add("seam_line.whole_turning_deg", Rule::TurningWhole, &inputs, result, Source::Geometry);
}

fn half_line(given: &Given<'_>, figure: &str, line: &Line, half: &HalfLine, working: &mut Working) {
    let at_seam = given.brief.neckline.readings_at == ReadingsAt::SeamLine;
    // What the trims at shoulder and centre take off is the rest of Steiner's sum.
    let a = if at_seam { 0.0 } else { given.allowance };
    let theta = half.turning_deg.to_radians();
    let known = if at_seam { half.length_mm } else { half.cut_edge_length_mm };
    let trims = known + a * theta - half.length_mm;
    let inputs = [("L", known, Mm), ("a", a, Mm), ("theta", theta, Ratio), ("trims", trims, Mm)];
    working.mm(format!("{figure}.length_mm"), Rule::SeamLineHalf, &inputs, half.length_mm, Source::Steiner);
    if let (Some(centre), Some(neck)) = (line.nodes.first(), line.nodes.last()) {
        let inputs = [("x(neck)", neck.at.x, Mm), ("x(centre)", centre.at.x, Mm)];
        working.mm(format!("{figure}.half_width_mm"), Rule::HalfWidth, &inputs, half.half_width_mm, Source::Geometry);
        let inputs = [("y(centre)", centre.at.y, Mm), ("y(neck)", neck.at.y, Mm)];
        working.mm(format!("{figure}.depth_mm"), Rule::Depth, &inputs, half.depth_mm, Source::Geometry);
        let angle = |direction: kurbo::Vec2| direction.y.atan2(direction.x).to_degrees();
        let (start, end) = (angle(centre.direction), angle(neck.direction));
        let turns = 360.0 * ((half.turning_deg - (start - end)) / 360.0).round();
        let inputs = [("start", start, Deg), ("end", end, Deg), ("turns", turns, Deg)];
        let result = (half.turning_deg, Deg);
        working.add(format!("{figure}.turning_deg"), Rule::Turning, &inputs, result, Source::Geometry);
    }
    if let Some(radius) = half.tightest_radius_mm {
        let k = line.nodes.iter().map(|n| n.k).fold(0.0, f64::max);
        let inputs = [("k", k, Ratio)];
        working.mm(format!("{figure}.tightest_radius_mm"), Rule::TightestRadius, &inputs, radius, Source::Geometry);
    }
}

/// Both knits' figures.
pub(crate) fn knits(given: &Given<'_>, working: &mut Working) {
    if working.is_off() {
        return;
    }
    let brief = given.brief;
    knit("garment_knit", &brief.garment_knit, &given.garment, given, working);
    knit("strip_knit", brief.strip_knit.as_ref().unwrap_or(&brief.garment_knit), &given.strip, given, working);
}

fn knit(name: &str, knit: &Knit, cloth: &Cloth, given: &Given<'_>, working: &mut Working) {
    one_way(&format!("{name}.crosswise_percent"), &knit.crosswise, cloth.crosswise, working);
    let (across, along) = (100.0 * cloth.crosswise, 100.0 * cloth.lengthwise);
    let figure = format!("{name}.lengthwise_percent");
    if let Some(way) = &knit.lengthwise {
        one_way(&figure, way, cloth.lengthwise, working);
    } else {
        let inputs = [("share", USUAL_LENGTHWISE_SHARE, Ratio), ("crosswise", across, Percent)];
        working.add(figure, Rule::LengthwiseTaken, &inputs, (along, Percent), Source::Judgement);
    }
    let figure = format!("{name}.diagonal_percent");
    if let Some(way) = &knit.diagonal {
        one_way(&figure, way, cloth.diagonal, working);
    } else {
        let inputs = [("crosswise", across, Percent), ("lengthwise", along, Percent)];
        working.add(figure, Rule::DiagonalTaken, &inputs, (100.0 * cloth.diagonal, Percent), Source::Judgement);
    }
    recovery(name, knit, cloth, working);
    let (figure, turn) = (format!("{name}.turn_of_cloth_mm"), given.brief.rules.turn_per_thickness);
    let inputs = [("c", turn, Ratio), ("thickness", knit.thickness_mm.unwrap_or(USUAL_THICKNESS_MM), Mm)];
    working.mm(figure, Rule::TurnOfCloth, &inputs, cloth.turn_mm, Source::OwnRule);
}

fn one_way(figure: &str, way: &Stretch, stretch: f64, working: &mut Working) {
    let result = (100.0 * stretch, Percent);
    match *way {
        Stretch::Readings { rest_mm, stretched_mm, .. } => {
            let inputs = [("A", rest_mm, Mm), ("B", stretched_mm, Mm)];
            working.add(figure, Rule::Stretch, &inputs, result, Source::Elongation);
        }
        Stretch::Percent { stretch_percent, .. } => {
            working.add(figure, Rule::AsGiven, &[("x", stretch_percent, Percent)], result, Source::OwnMeasure);
        }
    }
}

fn recovery(name: &str, knit: &Knit, cloth: &Cloth, working: &mut Working) {
    let figure = format!("{name}.recovery_percent");
    let result = (100.0 * cloth.recovery_or_usual(), Percent);
    match knit.crosswise {
        Stretch::Readings { rest_mm, stretched_mm, released_mm: Some(released) } => {
            let (a, b, c) = (("A", rest_mm, Mm), ("B", stretched_mm, Mm), ("C", released, Mm));
            if cloth.recovery.is_some() {
                working.add(figure, Rule::Recovery, &[a, b, c], result, Source::CommonPractice);
            } else {
                working.add(figure, Rule::Taken, &[("x", result.0, Percent)], result, Source::Judgement);
            }
            if let Some(growth) = cloth.growth {
                let figure = format!("{name}.growth_percent");
                working.add(figure, Rule::Growth, &[a, c], (100.0 * growth, Percent), Source::Growth);
            }
        }
        Stretch::Percent { recovery_percent: Some(given), .. } => {
            working.add(figure, Rule::AsGiven, &[("x", given, Percent)], result, Source::OwnMeasure);
        }
        _ => working.add(figure, Rule::Taken, &[("x", result.0, Percent)], result, Source::Judgement),
    }
}

/// A strip as it was reckoned, for its working.
pub(crate) struct Reckoned<'a> {
    pub given: &'a Given<'a>,
    /// The seam line's half round: a bound edge's finished edge.
    pub edge: &'a Ring,
    /// The half round the strip is sewn on.
    pub ring: &'a Ring,
    pub strip: &'a Strip,
    pub joints: &'a Joints,
}

impl Reckoned<'_> {
    fn rule(&self) -> &StripGiven {
        &self.strip.given
    }

    /// Every figure of the strip.
    pub(crate) fn strip(&self, plan: &StripPlan, edges: &[Edges], changes: [&Changes; 2], working: &mut Working) {
        self.stitch_line(plan, working);
        self.relaxed("strip.relaxed_length_mm", 0.0, self.ring.length, 2.0, plan.relaxed_length_mm, working);
        let (relaxed, sewn) = (plan.relaxed_length_mm, 2.0 * self.ring.length);
        let inputs = [("relaxed", relaxed, Mm), ("L", sewn, Mm)];
        working.add("strip.ratio_percent", Rule::Ratio, &inputs, (plan.ratio_percent, Percent), Source::Geometry);
        self.hold(plan, working);
        self.marks(plan, working);
        self.spans(plan, edges, working);
        self.ends(plan, working);
        self.cut(plan, changes, working);
        self.width(plan, working);
        let (even, at) = self.strip.worst_even();
        let inputs = [("even", even, Mm), ("strip", at, Mm)];
        let figure = "strip.quartering_error_mm";
        working.mm(figure, Rule::QuarteringError, &inputs, plan.quartering_error_mm, Source::Geometry);
        if let Some(widest) = plan.widest_flat_mm {
            self.widest(widest, working);
        }
        if let Some(stops) = plan.understitch_stops_mm {
            working.mm("strip.understitch_stops_mm", Rule::Taken, &[("x", stops, Mm)], stops, Source::Memory);
        }
    }

    fn stitch_line(&self, plan: &StripPlan, working: &mut Working) {
        let Some(line) = &plan.stitch_line else { return };
        let (length, w) = (2.0 * self.edge.length, self.rule().width);
        let theta = 2.0 * self.edge.turning;
        let ends = line.length_mm - length - w * theta;
        let inputs = [("L", length, Mm), ("w", w, Mm), ("theta", theta, Ratio), ("ends", ends, Mm)];
        working.mm("strip.stitch_line.length_mm", Rule::StitchLine, &inputs, line.length_mm, Source::Steiner);
        if let Some(trim) = plan.trim_mm {
            working.mm("strip.trim_mm", Rule::AsGiven, &[("x", trim, Mm)], trim, Source::OwnMeasure);
        }
    }

    /// A relaxed length over a run of the line, of both halves or of one.
    fn relaxed(&self, figure: &str, from: f64, to: f64, halves: f64, result: f64, working: &mut Working) {
        let (rule, run) = (self.rule(), self.strip.run(self.ring, from, to));
        let length = ("L", halves * run.length, Mm);
        if let Some(own) = rule.own_ratio {
            let inputs = [length, ("ratio", own, Ratio)];
            return working.mm(figure, Rule::StripByRatio, &inputs, result, Source::OwnRatio);
        }
        let (theta, limits) = (("theta", halves * run.theta, Ratio), ("limits", halves * run.limits, Mm));
        let hold = ("hold", rule.hold, Ratio);
        match rule.side {
            Side::Band => {
                let straight = ("straight", halves * run.straight, Mm);
                let straight_hold = ("hold_0", rule.straight_hold(), Ratio);
                let inputs = [length, theta, ("w", rule.width, Mm), straight, hold, straight_hold, limits];
                working.mm(figure, Rule::StripByCurve, &inputs, result, Source::OwnRule);
            }
            Side::Tape => {
                let inputs = [length, theta, ("t", rule.turn, Mm), hold, limits];
                working.mm(figure, Rule::StripByTurn, &inputs, result, Source::OwnRule);
            }
        }
    }

    fn hold(&self, plan: &StripPlan, working: &mut Working) {
        let (given, rules) = (self.given, &self.given.brief.rules);
        let stretch = given.strip.one_way(given.brief.strip_direction);
        let s = ("S", stretch, Ratio);
        let (figure, hold) = match &plan.learned {
            Some(learned) => ("strip.learned.usual_percent", (learned.usual_percent, Percent)),
            None => ("strip.hold_percent", (plan.hold_percent, Percent)),
        };
        match self.rule().side {
            Side::Band => {
                let inputs = [("h", rules.hold_share, Ratio), s, ("R", given.strip.recovery_or_usual(), Ratio)];
                working.add(figure, Rule::BandHold, &inputs, hold, Source::OwnRule);
            }
            Side::Tape => {
                let inputs = [("hold_t", rules.tape_hold, Ratio), ("phi", rules.comfort_share, Ratio), s];
                working.add(figure, Rule::TapeHold, &inputs, hold, Source::Judgement);
            }
        }
        let inputs = [("phi", rules.comfort_share, Ratio), s];
        let comfort = (plan.comfort_percent, Percent);
        working.add("strip.comfort_percent", Rule::Comfort, &inputs, comfort, Source::Judgement);
        if let Some(learned) = &plan.learned {
            self.learned(learned, plan.hold_percent, working);
        }
        let (hold, straight_hold) = (("hold", self.rule().hold, Ratio), ("hold_0", self.rule().straight_hold(), Ratio));
        if let Some(percent) = plan.straight_hold_percent {
            let inputs = [("hold_0", STRAIGHT_HOLD, Ratio), hold];
            let result = (percent, Percent);
            working.add("strip.straight_hold_percent", Rule::StraightHold, &inputs, result, Source::Judgement);
        }
        let run = self.strip.run(self.ring, 0.0, self.ring.length);
        let inputs = [
            ("L", 2.0 * run.length, Mm),
            ("w", self.rule().reach(), Mm),
            ("theta", 2.0 * run.theta, Ratio),
            ("straight", 2.0 * run.straight, Mm),
            hold,
            straight_hold,
        ];
        working.mm("strip.held_line_mm", Rule::HeldLine, &inputs, plan.held_line_mm, Source::OwnRule);
    }

    fn learned(&self, plan: &LearnedHold, hold_percent: f64, working: &mut Working) {
        let own = Source::OwnRecords;
        let percent = |value: f64| (value, Percent);
        let records = plan.records as f64;
        let (m, n) = (("m", PRIOR_RECORDS, Count), ("n", records, Count));
        working.add("strip.learned.records", Rule::Taken, &[("x", records, Count)], (records, Count), own);
        let holds: Vec<_> = holds(self.given.brief).iter().map(|hold| ("hold", 100.0 * hold, Percent)).collect();
        working.add("strip.learned.mean_percent", Rule::LearnedMean, &holds, percent(plan.mean_percent), own);
        let inputs = [m, ("usual", plan.usual_percent, Percent), n, ("mean", plan.mean_percent, Percent)];
        working.add("strip.hold_percent", Rule::LearnedHold, &inputs, percent(hold_percent), own);
        let off = ("s", 100.0 * RECORD_DEVIATION, Percent);
        let inputs = [("hold", hold_percent, Percent), ("d", RANGE_DEVIATIONS, Count), off, m, n];
        working.add("strip.learned.low_percent", Rule::LearnedLow, &inputs, percent(plan.low_percent), own);
        working.add("strip.learned.high_percent", Rule::LearnedHigh, &inputs, percent(plan.high_percent), own);
    }

    fn marks(&self, plan: &StripPlan, working: &mut Working) {
        let pairs = plan.marks.iter().zip(plan.marks.iter().skip(1)).zip(&plan.spans);
        for (i, ((before, mark), span)) in pairs.enumerate() {
            let figure = format!("strip.marks.{}", i + 1);
            let inputs = [("before", before.on_strip_mm, Mm), ("span", span.strip_mm, Mm)];
            let own = Source::OwnRule;
            working.mm(format!("{figure}.on_strip_mm"), Rule::MarkOnStrip, &inputs, mark.on_strip_mm, own);
            let figure = format!("{figure}.on_seam_line_mm");
            let (back, whole) = (self.ring.back_length, self.ring.length);
            let (rule, inputs) = match mark.place {
                MarkPlace::NeckPoint => (Rule::MarkAtNeckPoint, vec![("back", back, Mm)]),
                MarkPlace::CentreFront => {
                    (Rule::MarkAtCentreFront, vec![("back", back, Mm), ("front", whole - back, Mm)])
                }
                _ => {
                    let place = (mark.on_seam_line_mm / self.ring.step()).round();
                    (Rule::MarkBetween, vec![("i", place, Count), ("L", whole, Mm), ("n", STEPS as f64, Count)])
                }
            };
            working.mm(figure, rule, &inputs, mark.on_seam_line_mm, Source::OwnRule);
        }
    }

    fn spans(&self, plan: &StripPlan, edges: &[Edges], working: &mut Working) {
        let ends = plan.marks.iter().zip(plan.marks.iter().skip(1));
        for (i, ((span, edges), (from, to))) in plan.spans.iter().zip(edges).zip(ends).enumerate() {
            let at = |name: &str| format!("strip.spans.{i}.{name}");
            let (from, to) = (from.on_seam_line_mm, to.on_seam_line_mm);
            self.relaxed(&at("strip_mm"), from, to, 1.0, span.strip_mm, working);
            let inputs = [("relaxed", span.strip_mm, Mm), ("L", span.seam_line_mm, Mm)];
            let result = (span.ratio_percent, Percent);
            working.add(at("ratio_percent"), Rule::Ratio, &inputs, result, Source::Geometry);
            let strains = [
                ("free_edge_least_percent", edges.least, span.free_edge_least_percent),
                ("free_edge_most_percent", edges.most, span.free_edge_most_percent),
            ];
            for (name, pair, result) in strains {
                let Some((f, r)) = pair else { continue };
                let inputs = [("f", f, Ratio), ("r", r, Ratio)];
                working.add(at(name), Rule::FreeEdge, &inputs, (result, Percent), Source::OwnRule);
            }
            if let Some(r) = edges.tightest {
                let result = (span.seam_edge_most_percent, Percent);
                let figure = at("seam_edge_most_percent");
                working.add(figure, Rule::SeamEdge, &[("r", r, Ratio)], result, Source::OwnRule);
            }
            let Some((f, r)) = edges.slack.means() else { continue };
            let inputs = [("over", edges.slack.over, Mm), ("f", f, Ratio), ("r", r, Ratio)];
            working.mm(at("slack_mm"), Rule::Slack, &inputs, span.slack_mm, Source::OwnRule);
            if span.stands_off_mm > 0.0 {
                let inputs = [("w", self.rule().width, Mm), ("f", f, Ratio), ("r", r, Ratio)];
                working.mm(at("stands_off_mm"), Rule::StandsOff, &inputs, span.stands_off_mm, Source::OwnRule);
            }
        }
    }

    fn ends(&self, plan: &StripPlan, working: &mut Working) {
        let joint = &self.joints.main;
        let (a, w) = (self.allowance(), self.rule().width);
        let alpha = joint.alpha.unwrap_or_default();
        let (alpha_in, join) = (("alpha", alpha, Ratio), ("j", joint.join, Mm));
        let figure = "strip.end_extra_mm";
        let (rule, inputs) = match joint.ends {
            Ends::Ring => (Rule::EndJoin, vec![join]),
            Ends::Mitre { .. } => (Rule::EndMitre, vec![join, ("a", a, Mm), alpha_in]),
            Ends::Lap { .. } => (Rule::EndLap, vec![("a", a, Mm), ("past", lap_past(w, alpha), Mm), alpha_in]),
            Ends::Overhang { .. } => (Rule::EndOverhang, vec![("w", w, Mm), ("c", joint.join, Mm), alpha_in]),
        };
        let source = if joint.ends == Ends::Ring { Source::CommonPractice } else { Source::OwnRule };
        working.mm(figure, rule, &inputs, plan.end_extra_mm, source);
        self.joint("strip.ends", joint, working);
        if let Some(back) = &self.joints.back {
            self.joint("strip.back_ends", back, working);
        }
    }

    /// The allowance at a mitred or lapped end: a bound edge's strip is sewn a width from its raw edge.
    fn allowance(&self) -> f64 {
        match self.given.brief.finish {
            Finish::Bound(_) => self.rule().width,
            _ => self.given.allowance,
        }
    }

    fn joint(&self, figure: &str, joint: &Joint, working: &mut Working) {
        let Some(alpha) = joint.alpha else { return };
        let (w, angle) = (("w", self.rule().width, Mm), ("alpha", alpha, Ratio));
        match joint.ends {
            Ends::Ring => {}
            Ends::Mitre { angle_deg, free_edge_shorter_mm } => {
                let turn = ("turn", 90.0 - alpha.to_degrees(), Deg);
                let figure_of = |name: &str| format!("{figure}.mitre.{name}");
                let result = (angle_deg, Deg);
                working.add(figure_of("angle_deg"), Rule::MitreAngle, &[turn], result, Source::Geometry);
                let name = figure_of("free_edge_shorter_mm");
                working.mm(name, Rule::MitreShorter, &[w, angle], free_edge_shorter_mm, Source::Geometry);
            }
            Ends::Lap { lap_width_mm, free_edge_shorter_mm } => {
                let name = |rest: &str| format!("{figure}.lap.{rest}");
                working.mm(name("lap_width_mm"), Rule::LapWidth, &[w, angle], lap_width_mm, Source::Geometry);
                let shorter = (name("free_edge_shorter_mm"), free_edge_shorter_mm);
                working.mm(shorter.0, Rule::MitreShorter, &[w, angle], shorter.1, Source::Geometry);
            }
            Ends::Overhang { overhang_mm } => {
                let name = format!("{figure}.overhang.overhang_mm");
                let inputs = [w, ("c", joint.join, Mm), angle];
                working.mm(name, Rule::EndOverhang, &inputs, overhang_mm, Source::Geometry);
            }
        }
    }

    fn cut(&self, plan: &StripPlan, changes: [&Changes; 2], working: &mut Working) {
        let back = self.joints.back.map_or(0.0, |joint| joint.extra);
        let inputs = [
            ("relaxed", plan.relaxed_length_mm, Mm),
            ("end", plan.end_extra_mm, Mm),
            ("back end", back, Mm),
            ("pieces", f64::from(plan.pieces), Count),
        ];
        let figure = "strip.cut_length.exact_mm";
        working.mm(figure, Rule::CutLength, &inputs, plan.cut_length.exact_mm, Source::Geometry);
        let rounding = self.given.brief.rounding;
        for (figure, of, changes) in
            [("strip.cut_length", &plan.cut_length, changes[0]), ("strip.cut_width", &plan.cut_width, changes[1])]
        {
            working.cut_figure(figure, of, changes, rounding);
        }
    }

    fn width(&self, plan: &StripPlan, working: &mut Working) {
        let (given, finish) = (self.given, &self.given.brief.finish);
        let (w, a) = (("w", self.rule().width, Mm), ("a", given.allowance, Mm));
        let bound = ("turn", bound_turn(given.garment.turn_mm, given.strip.turn_mm), Mm);
        let (rule, inputs, source) = match finish {
            Finish::Band(band) if band.layers == Layers::Folded => {
                (Rule::CutWidthFolded, vec![w, a, ("turn", given.strip.turn_mm, Mm)], Source::RibbedEdges)
            }
            Finish::Band(_) | Finish::Facing(_) => (Rule::CutWidthSingle, vec![w, a], Source::RibbedEdges),
            Finish::Tape(tape) => {
                (Rule::CutWidthTape, vec![w, a, ("under", tape.turn_under_mm, Mm)], Source::CommonPractice)
            }
            Finish::Bound(b) if b.layers == Layers::Folded => {
                (Rule::CutWidthBoundFolded, vec![w, bound, ("over", BOUND_OVER_MM, Mm)], Source::OwnRule)
            }
            Finish::Bound(b) => {
                let under = b.turn_under_mm.max(BOUND_CAUGHT_MM);
                (Rule::CutWidthBound, vec![w, bound, ("under", under, Mm)], Source::OwnRule)
            }
        };
        working.mm("strip.cut_width.exact_mm", rule, &inputs, plan.cut_width.exact_mm, source);
        if let Some(topstitch) = plan.topstitch_mm {
            let inputs = [w, ("inside", w.1 - topstitch, Mm)];
            working.mm("strip.topstitch_mm", Rule::TapeTopstitch, &inputs, topstitch, Source::CommonPractice);
        }
    }

    fn widest(&self, widest: f64, working: &mut Working) {
        let rule = StripGiven { width: widest, ..*self.rule() };
        let bound = matches!(self.given.brief.finish, Finish::Bound(_));
        let moved = if bound { self.given.stitch_rings()(widest) } else { None };
        let slack = slack_by_rule(moved.as_ref().unwrap_or(self.edge), rule).unwrap_or_default();
        let inputs = [("w", widest, Mm), ("slack", slack, Mm), ("seen", SEEN_SLACK_MM, Mm)];
        working.mm("strip.widest_flat_mm", Rule::WidestFlat, &inputs, widest, Source::OwnRule);
    }
}

/// Every figure of a facing.
#[allow(clippy::too_many_arguments, reason = "what was reckoned, side by side")]
pub(crate) fn facing(
    given: &Given<'_>,
    facing: &Facing,
    plan: &FacingPlan,
    halves: [&HalfFacing; 2],
    stitched: [&facing::Lines; 2],
    topstitch: Option<[f64; 2]>,
    changes: &[Changes; 5],
    working: &mut Working,
) {
    let rounding = given.brief.rounding;
    let figures = [
        ("facing.front.seam_edge", &plan.front.seam_edge, &halves[0].seam_edge),
        ("facing.front.outer_edge", &plan.front.outer_edge, &halves[0].outer_edge),
        ("facing.back.seam_edge", &plan.back.seam_edge, &halves[1].seam_edge),
        ("facing.back.outer_edge", &plan.back.outer_edge, &halves[1].outer_edge),
    ];
    let at_seam = given.brief.neckline.readings_at == ReadingsAt::SeamLine;
    let known = if at_seam { 0.0 } else { given.allowance };
    for ((name, figure, line), changes) in figures.into_iter().zip(changes) {
        let moved = if name.ends_with("seam_edge") { 0.0 } else { facing.width_mm };
        let (d, theta) = (known + moved, line.turning());
        // The known line, and what the trims at shoulder and centre and the truing there take off Steiner's sum.
        let half =
            if name.starts_with("facing.front") { crate::given::Which::Front } else { crate::given::Which::Back };
        let length = given.known(half).map_or(0.0, |(arcs, off)| Line::as_known(&arcs, off.slope).length());
        let inputs = [
            ("L", length, Mm),
            ("d", d, Mm),
            ("theta", theta, Ratio),
            ("trims", length + d * theta - figure.exact_mm, Mm),
        ];
        working.mm(format!("{name}.exact_mm"), Rule::FacingEdge, &inputs, figure.exact_mm, Source::Steiner);
        working.cut_figure(name, figure, changes, rounding);
    }
    let inputs = [("w", facing.width_mm, Mm), ("a", given.allowance, Mm), ("under", facing.edge_allowance_mm, Mm)];
    let width = &plan.cut_width;
    let common = Source::CommonPractice;
    working.mm("facing.cut_width.exact_mm", Rule::CutWidthFacing, &inputs, width.exact_mm, common);
    if let Some(changes) = changes.last() {
        working.cut_figure("facing.cut_width", width, changes, rounding);
    }
    let inputs = [("t", plan.favour_mm, Mm)];
    working.mm("facing.favour_mm", Rule::Favour, &inputs, plan.favour_mm, Source::OwnRule);
    let [front, back] = stitched.map(|lines| lines.understitch.length());
    let short = 2.0 * (front + back) - plan.understitch_length_mm;
    let inputs = [("front", front, Mm), ("back", back, Mm), ("short", short, Mm)];
    let (figure, result) = ("facing.understitch_length_mm", plan.understitch_length_mm);
    working.mm(figure, Rule::Understitch, &inputs, result, Source::Geometry);
    if let Some(stops) = plan.understitch_stops_mm {
        let inputs = [("x", stops, Mm)];
        working.mm("facing.understitch_stops_mm", Rule::Taken, &inputs, stops, Source::Memory);
    }
    if let (Some([front, back]), Some(result)) = (topstitch, plan.topstitch_length_mm) {
        let inputs = [("front", front, Mm), ("back", back, Mm)];
        working.mm("facing.topstitch_length_mm", Rule::Topstitch, &inputs, result, Source::Geometry);
    }
}

/// The clips' figures, of an allowance this wide.
pub(crate) fn clips(plan: &ClipPlan, clips: &Clips, width: f64, working: &mut Working) {
    if working.is_off() {
        return;
    }
    if let Some(to) = plan.trim_to_mm {
        working.mm("clips.trim_to_mm", Rule::Taken, &[("x", to, Mm)], to, Source::TrimmedSeams);
    }
    let inputs = [("a", width, Mm), ("theta", 2.0 * clips.theta, Ratio)];
    working.mm("clips.opens_mm", Rule::ClipsOpen, &inputs, plan.opens_mm, Source::Steiner);
    let half = ("half", clips.gives, Mm);
    working.mm("clips.knit_gives_mm", Rule::ClipsKnitGives, &[half], plan.knit_gives_mm, Source::OwnRule);
    let apart = plan.least_apart_mm;
    working.mm("clips.least_apart_mm", Rule::Taken, &[("x", apart, Mm)], apart, Source::ClippedCurves);
    let mut count = |figure: &str, half: usize, round: usize| {
        let n = |n: usize| n as f64;
        let inputs = [("half", n(half), Count), ("centres", n((2 * half).saturating_sub(round)), Count)];
        working.add(figure, Rule::ClipCount, &inputs, (n(round), Count), Source::OwnRule);
    };
    let in_corners = clips.clips.iter().filter(|clip| clip.kind != ClipKind::Curve).count();
    count("clips.count", clips.clips.len(), plan.count);
    count("clips.into_corners", in_corners, plan.into_corners);
}

/// The opening's figures.
pub(crate) fn opening(
    given: &Given<'_>,
    plan: &OpeningPlan,
    rings: &Rings,
    reach: &Reach,
    stayed: &[Run],
    working: &mut Working,
) {
    if working.is_off() {
        return;
    }
    let (brief, own) = (given.brief, Source::OwnRule);
    head(given, plan, working);
    let girth = &reach.seam;
    let inputs = [("stayed", girth.stayed, Mm), ("live", girth.live, Mm), ("e", girth.extension, Ratio)];
    working.mm("opening.seam_line_girth_mm", Rule::SeamGirth, &inputs, plan.seam_line_girth_mm, own);
    let inputs = [("garment", reach.sewn.by_garment, Mm), ("finish", reach.sewn.by_finish, Mm)];
    working.mm("opening.sewn_girth_mm", Rule::SewnGirth, &inputs, plan.sewn_girth_mm, own);
    if let (Some(edge), Some(reach)) = (rings.free_edge, plan.strip_girth_mm) {
        let inputs = [
            ("relaxed", edge.relaxed, Mm),
            ("shorter", edge.shorter, Mm),
            ("pull", brief.rules.pull_share, Ratio),
            ("S", edge.stretch, Ratio),
        ];
        working.mm("opening.strip_girth_mm", Rule::StripGirth, &inputs, reach, own);
    }
    let smallest = plan.smallest_girth_mm;
    for (figure, reach, result) in [
        ("opening.smallest_girth_mm", reach, smallest),
        ("opening.full_stretch_girth_mm", &rings.reach(1.0, stayed), plan.full_stretch_girth_mm),
    ] {
        let of_all = [Some(reach.seam.mm()), Some(reach.sewn.mm()), reach.free_edge];
        let of_all: Vec<_> = of_all.into_iter().flatten().map(|girth| ("ring", girth, Mm)).collect();
        working.mm(figure, Rule::SmallestRing, &of_all, result, Source::Geometry);
    }
    let inputs = [("ring", smallest, Mm), ("head", plan.head_girth_mm, Mm), ("margin", plan.margin_mm, Mm)];
    working.mm("opening.spare_mm", Rule::Spare, &inputs, plan.spare_mm, Source::Geometry);
    stitch(given, plan, rings, stayed, working);
}

fn stitch(given: &Given<'_>, plan: &OpeningPlan, rings: &Rings, stayed: &[Run], working: &mut Working) {
    let brief = given.brief;
    let (extension, source) = stitch_extension(brief.stitch);
    let (rule, inputs) = match brief.stitch {
        Stitch::Zigzag { width_mm, advance_mm } => {
            (Rule::StitchZigzag, vec![("w", width_mm, Mm), ("p", advance_mm, Mm)])
        }
        _ => (Rule::Taken, vec![("x", 100.0 * extension, Percent)]),
    };
    let result = (plan.stitch_extension_percent, Percent);
    working.add("opening.stitch_extension_percent", rule, &inputs, result, source);
    let Some(advice) = plan.stitch_advice else { return };
    let at = |name: &str| format!("opening.stitch_advice.{name}");
    let inputs = [("pull", brief.rules.pull_share, Ratio), ("S", rings.liveliest(stayed), Ratio)];
    let asks = (advice.seam_asks_percent, Percent);
    working.add(at("seam_asks_percent"), Rule::SeamAsks, &inputs, asks, Source::OwnRule);
    let width = advice.zigzag_width_mm;
    working.mm(at("zigzag_width_mm"), Rule::Taken, &[("x", width, Mm)], width, Source::Judgement);
    let inputs = [("w", width, Mm), ("e", 0.01 * advice.seam_asks_percent, Ratio)];
    let length = advice.zigzag_length_mm;
    working.mm(at("zigzag_length_mm"), Rule::ZigzagLength, &inputs, length, Source::ZigzagGeometry);
}

fn head(given: &Given<'_>, plan: &OpeningPlan, working: &mut Working) {
    let heads =
        [("opening.head_girth_mm", Some(plan.head_girth_mm), 1), ("opening.typical_head_mm", plan.typical_head_mm, 0)];
    for (figure, girth, column) in heads {
        let Some(girth) = girth else { continue };
        let (rule, inputs): (_, Vec<(&'static str, f64, Unit)>) = match given.brief.head.girth {
            HeadGirth::Child { group, age_months } => {
                let ((from, a), (to, b)) = head_rows(group, age_months, column);
                let ages = [("age", age_months, Months), ("from", from, Months), ("to", to, Months)];
                (Rule::HeadByAge, ages.into_iter().chain([("a", a, Mm), ("b", b, Mm)]).collect())
            }
            _ => (Rule::Taken, vec![("x", girth, Mm)]),
        };
        working.mm(figure, rule, &inputs, girth, plan.head_source);
    }
}
