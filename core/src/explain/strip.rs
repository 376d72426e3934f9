//! A strip's working.

use super::narrowing::narrowing;
use crate::ends::{Ends, Joint, lap_past};
use crate::error::Unit::{Count, Deg, Mm, Percent, Ratio};
use crate::field::{count, joined, under};
use crate::finish::form::Side;
use crate::finish::shared::Layers;
use crate::given::Given;
use crate::learned::{LearnedHold, PRIOR_RECORDS, RANGE_DEVIATIONS, RECORD_DEVIATION, holds};
use crate::lines::Lines;
use crate::ring::{Ring, STEPS};
use crate::rule::Rule;
use crate::source::Source;
use crate::strip::drawn_in::layers;
use crate::strip::lie::{Here, Lie, Lobe, STANDING_WIDTHS};
use crate::strip::marks::MarkPlace;
use crate::strip::rule::{STRAIGHT_HOLD, StripGiven};
use crate::strip::spans::{Edges, Quartered, Span, Worst};
use crate::strip::{StripBasis, StripPlan};
use crate::working::Working;

/// Every figure of the strip.
pub(crate) fn explain(given: &Given<'_>, lines: &Lines, from: &StripBasis, plan: &StripPlan, working: &mut Working) {
    let of = Explained { given, edge: &lines.ring, ring: &from.ring, from };
    of.stitch_line(plan, working);
    of.relaxed("strip.relaxed_length_mm", 0.0, of.ring.length, 2.0, plan.relaxed_length_mm, working);
    let (relaxed, sewn) = (plan.relaxed_length_mm, 2.0 * of.ring.length);
    let inputs = [("relaxed", relaxed, Mm), ("L", sewn, Mm)];
    working.add("strip.ratio_percent", Rule::Ratio, &inputs, (plan.ratio_percent, Percent), Source::Geometry);
    of.hold(plan, working);
    of.marks(plan, working);
    of.spans(plan, working);
    of.parts(plan, working);
    of.ends(plan, working);
    of.cut(plan, working);
    of.width(plan, working);
    of.rows(plan, working);
    narrowing(of.ring, from, plan, working);
    of.quartered(&plan.quartered, working);
    if let Some(widest) = plan.widest_mm {
        of.widest(widest, working);
    }
    if let Some(stops) = plan.understitch_stops_mm {
        working.mm("strip.understitch_stops_mm", Rule::Taken, &[("x", stops, Mm)], stops, Source::Memory);
    }
}

struct Explained<'a> {
    given: &'a Given<'a>,
    /// The seam line's half round: a bound edge's finished edge.
    edge: &'a Ring,
    /// The half round the strip is sewn on.
    ring: &'a Ring,
    from: &'a StripBasis,
}

impl Explained<'_> {
    fn rule(&self) -> &StripGiven {
        &self.from.strip.given
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
        let (rule, run) = (self.rule(), self.from.strip.run(self.ring, from, to));
        let length = ("L", halves * run.length, Mm);
        if let Some(own) = rule.own_ratio {
            let inputs = [length, ("ratio", own, Ratio)];
            return working.mm(figure, Rule::StripByRatio, &inputs, result, Source::OwnRatio);
        }
        let (theta, limits) = (("theta", halves * run.theta, Ratio), ("limits", halves * run.limits, Mm));
        let hold = ("hold", rule.hold, Ratio);
        match rule.side {
            Side::TowardNeck | Side::AroundEdge => {
                let straight = ("straight", halves * run.straight, Mm);
                let straight_hold = ("hold_0", rule.straight_hold(), Ratio);
                let inputs = [length, theta, ("w", rule.width, Mm), straight, hold, straight_hold, limits];
                working.mm(figure, Rule::StripByCurve, &inputs, result, Source::OwnRule);
            }
            Side::Inside => {
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
            Side::TowardNeck | Side::AroundEdge => {
                let inputs = [("h", rules.hold_share, Ratio), s, ("R", given.strip.recovery_or_usual(), Ratio)];
                working.add(figure, Rule::BandHold, &inputs, hold, Source::OwnRule);
            }
            Side::Inside => {
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
        let run = self.from.strip.run(self.ring, 0.0, self.ring.length);
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
        let holds: Vec<_> = holds(self.given).iter().map(|hold| ("hold", 100.0 * hold, Percent)).collect();
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
            let figure = joined(&["strip.marks", &count(i + 1)]);
            let inputs = [("before", before.on_strip_mm, Mm), ("span", span.strip_mm, Mm)];
            let own = Source::OwnRule;
            working.mm(under(&figure, "on_strip_mm"), Rule::MarkOnStrip, &inputs, mark.on_strip_mm, own);
            let figure = under(&figure, "on_seam_line_mm");
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

    fn spans(&self, plan: &StripPlan, working: &mut Working) {
        let ends = plan.marks.iter().zip(plan.marks.iter().skip(1));
        for (i, ((span, edges), (from, to))) in plan.spans.iter().zip(&self.from.edges).zip(ends).enumerate() {
            let at = |name: &str| joined(&["strip.spans", &count(i), name]);
            let (from, to) = (from.on_seam_line_mm, to.on_seam_line_mm);
            self.relaxed(&at("strip_mm"), from, to, 1.0, span.strip_mm, working);
            let inputs = [("relaxed", span.strip_mm, Mm), ("L", span.seam_line_mm, Mm)];
            let result = (span.ratio_percent, Percent);
            working.add(at("ratio_percent"), Rule::Ratio, &inputs, result, Source::Geometry);
            let strains = [
                ("free_edge_least_percent", &edges.least, span.free_edge_least_percent),
                ("free_edge_most_percent", &edges.most, span.free_edge_most_percent),
            ];
            for (name, taken, result) in strains {
                free_edge(at(name), taken, result, working);
            }
            self.lie(&at, span, edges, working);
        }
    }

    /// How a span lies.
    fn lie(&self, at: &dyn Fn(&str) -> String, span: &Span, edges: &Edges, working: &mut Working) {
        let (r, w) = (("r", span.ratio_percent / 100.0, Ratio), ("w", self.rule().width, Mm));
        let result = (span.seam_edge_percent, Percent);
        working.add(at("seam_edge_percent"), Rule::SeamEdge, &[r], result, Source::OwnRule);
        let inputs = [r, ("e", span.ripples_from_percent / 100.0, Ratio), ("t", self.rule().thickness, Mm), w];
        let result = (span.ripples_from_percent, Percent);
        working.add(at("ripples_from_percent"), Rule::RipplesFrom, &inputs, result, Source::PlateModel);
        let over = (2.0 * STANDING_WIDTHS * self.rule().width).min(self.ring.length);
        let inputs = [w, ("theta", edges.sharpest * over, Ratio), ("over", over, Mm)];
        working.add(at("bend"), Rule::Bend, &inputs, (span.bend, Ratio), Source::Geometry);
        if let Some((over, pressed)) = edges.pressed {
            let inputs = [("over", over, Mm), r, ("e", pressed, Ratio)];
            working.mm(at("slack_mm"), Rule::Slack, &inputs, span.slack_mm, Source::OwnRule);
        }
        self.stands_off(at, edges.worst, span.stands_off_mm, working);
    }

    fn parts(&self, plan: &StripPlan, working: &mut Working) {
        for (i, (part, from)) in plan.parts.iter().zip(&self.from.parts).enumerate() {
            self.stands_off(&|name| joined(&["strip.parts", &count(i), name]), from.worst, part.stands_off_mm, working);
            if let Some(percent) = part.drawn_in_percent {
                let (n, kw) = (layers(self.given), self.rule().width * from.pull.curvature);
                let inputs = [("n", n, Count), ("kw", kw, Ratio), ("e", from.pull.strain, Ratio)];
                let figure = joined(&["strip.parts", &count(i), "drawn_in_percent"]);
                working.add(figure, Rule::DrawnIn, &inputs, (percent, Percent), Source::SheetModel);
            }
        }
    }

    /// How high the free edge stands at its worst place.
    fn stands_off(&self, at: &dyn Fn(&str) -> String, worst: Option<Worst>, result: f64, working: &mut Working) {
        let Some(worst) = worst else { return };
        let w = ("w", self.rule().width, Mm);
        match worst.lie {
            Lie::Flat => {}
            Lie::Ripples(_) => {
                let Here { laid, compression, bend, .. } = worst.here;
                let (f, e_c) = (("f", laid.shorter(bend), Ratio), ("e_c", laid.ripples_from, Ratio));
                let inputs = [w, f, ("e", compression, Ratio), e_c];
                working.mm(at("stands_off_mm"), Rule::Crest, &inputs, result, Source::ShellModel);
            }
            Lie::Stands(lobe) => {
                let Lobe { lean, peak: Here { laid, bend, .. }, off } = lobe;
                let lean = lean.to_degrees();
                let (r, e_c) = (("r", laid.ratio, Ratio), ("e_c", laid.ripples_from, Ratio));
                let crest = ("crest", lobe.peak.crest(), Mm);
                let inputs =
                    [e_c, r, ("kw", bend * laid.width, Ratio), crest, w, ("d", off, Mm), ("t", laid.thickness, Mm)];
                working.add(at("leans_deg"), Rule::Leans, &inputs, (lean, Deg), Source::ShellModel);
                let inputs = [w, ("lean", lobe.lean, Ratio)];
                working.mm(at("stands_off_mm"), Rule::StandsUp, &inputs, result, Source::Geometry);
            }
        }
    }

    fn quartered(&self, plan: &Quartered, working: &mut Working) {
        let (even, at) = self.from.strip.worst_even();
        let inputs = [("even", even, Mm), ("strip", at, Mm)];
        let at = |name: &str| joined(&["strip.quartered", name]);
        working.mm(at("error_mm"), Rule::QuarteringError, &inputs, plan.error_mm, Source::Geometry);
        let least = plan.free_edge_least_percent;
        free_edge(at("free_edge_least_percent"), &self.from.quarters.least, least, working);
        self.stands_off(&at, self.from.quarters.worst, plan.stands_off_mm, working);
    }

    fn ends(&self, plan: &StripPlan, working: &mut Working) {
        let joint = &self.from.joints.main;
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
        if let Some(back) = &self.from.joints.back {
            self.joint("strip.back_ends", back, working);
        }
    }

    /// The allowance at a mitred or lapped end: a bound edge's strip is sewn a width from its raw edge.
    fn allowance(&self) -> f64 {
        if self.given.form.goes_round_edge() { self.rule().width } else { self.given.allowance }
    }

    fn joint(&self, figure: &str, joint: &Joint, working: &mut Working) {
        let Some(alpha) = joint.alpha else { return };
        let (w, angle) = (("w", self.rule().width, Mm), ("alpha", alpha, Ratio));
        match joint.ends {
            Ends::Ring => {}
            Ends::Mitre { angle_deg, free_edge_shorter_mm } => {
                let turn = ("turn", 90.0 - alpha.to_degrees(), Deg);
                let figure_of = |name: &str| joined(&[figure, "mitre", name]);
                let result = (angle_deg, Deg);
                working.add(figure_of("angle_deg"), Rule::MitreAngle, &[turn], result, Source::Geometry);
                let name = figure_of("free_edge_shorter_mm");
                working.mm(name, Rule::MitreShorter, &[w, angle], free_edge_shorter_mm, Source::Geometry);
            }
            Ends::Lap { lap_width_mm, free_edge_shorter_mm } => {
                let name = |rest: &str| joined(&[figure, "lap", rest]);
                working.mm(name("lap_width_mm"), Rule::LapWidth, &[w, angle], lap_width_mm, Source::Geometry);
                let shorter = (name("free_edge_shorter_mm"), free_edge_shorter_mm);
                working.mm(shorter.0, Rule::MitreShorter, &[w, angle], shorter.1, Source::Geometry);
            }
            Ends::Overhang { overhang_mm } => {
                let name = under(figure, "overhang.overhang_mm");
                let inputs = [w, ("c", joint.join, Mm), angle];
                working.mm(name, Rule::EndOverhang, &inputs, overhang_mm, Source::Geometry);
            }
        }
    }

    fn cut(&self, plan: &StripPlan, working: &mut Working) {
        let back = self.from.joints.back.map_or(0.0, |joint| joint.extra);
        let inputs = [
            ("relaxed", plan.relaxed_length_mm, Mm),
            ("end", plan.end_extra_mm, Mm),
            ("back_end", back, Mm),
            ("pieces", f64::from(plan.pieces), Count),
        ];
        let figure = "strip.cut_length.exact_mm";
        working.mm(figure, Rule::CutLength, &inputs, plan.cut_length.exact_mm, Source::Geometry);
        let rounding = self.given.brief.rounding;
        let figures = [("strip.cut_length", &plan.cut_length), ("strip.cut_width", &plan.cut_width)];
        for ((figure, of), changes) in figures.into_iter().zip(&self.from.changes) {
            working.cut_figure(figure, of, changes, rounding);
        }
    }

    fn width(&self, plan: &StripPlan, working: &mut Working) {
        let (w, of) = (("w", plan.narrowing.width_at_rest_mm, Mm), &self.from.cut_width);
        let inputs: Vec<_> = core::iter::once(w).chain(of.inputs.into_iter().flatten()).collect();
        working.mm("strip.cut_width.exact_mm", of.rule, &inputs, plan.cut_width.exact_mm, of.source);
        if let Some(topstitch) = plan.topstitch_mm {
            let inputs = [w, ("inside", w.1 - topstitch, Mm)];
            working.mm("strip.topstitch_mm", Rule::TapeTopstitch, &inputs, topstitch, Source::CommonPractice);
        }
    }

    fn rows(&self, plan: &StripPlan, working: &mut Working) {
        let (rows, cut, form) = (&plan.rows, ("cut", plan.cut_width.cut_mm, Mm), &self.given.form);
        let mut seams = rows.seams_mm.iter();
        if let Some(&seam) = seams.next() {
            working.mm("strip.rows.seams_mm.0", Rule::AsGiven, &[("x", seam, Mm)], seam, Source::OwnMeasure);
            for far in seams {
                working.mm("strip.rows.seams_mm.1", Rule::RowFromFar, &[cut, ("x", seam, Mm)], *far, Source::Geometry);
            }
        }
        let mut far = |figure: &str, result: f64| match form.layers {
            Layers::Folded => working.mm(figure, Rule::RowMiddle, &[cut], result, Source::Geometry),
            Layers::Single => {
                let inputs = [cut, ("x", form.turned_under, Mm)];
                working.mm(figure, Rule::RowFromFar, &inputs, result, Source::Geometry);
            }
        };
        if let Some(fold) = rows.fold_mm {
            far("strip.rows.fold_mm", fold);
        }
        let figure = "strip.rows.free_edge_mm";
        match (self.from.cut_width.garment_edge, self.from.cut_width.inputs) {
            (Some(_), [Some(turn), _]) => {
                let inputs = [("w", plan.narrowing.width_at_rest_mm, Mm), turn];
                working.mm(figure, Rule::RowAtEdge, &inputs, rows.free_edge_mm, Source::Geometry);
            }
            _ => far(figure, rows.free_edge_mm),
        }
    }

    fn widest(&self, widest: f64, working: &mut Working) {
        let rules = &self.given.brief.rules;
        let (rise, lean) = (("rise", rules.passing_rise_mm, Mm), ("lean", rules.passing_lean_deg, Deg));
        let inputs = [("w", widest, Mm), rise, lean];
        working.mm("strip.widest_mm", Rule::Widest, &inputs, widest, Source::OwnRule);
    }
}

/// A free edge's strain at a place, by what it takes of each span.
fn free_edge(figure: String, taken: &[[f64; 2]], result: f64, working: &mut Working) {
    let inputs: Vec<_> =
        taken.iter().flat_map(|[share, stretched]| [("share", *share, Ratio), ("r", 1.0 / stretched, Ratio)]).collect();
    working.add(figure, Rule::FreeEdge, &inputs, (result, Percent), Source::PlaneModel);
}
