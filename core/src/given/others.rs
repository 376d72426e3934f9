//! The rest of a brief, checked: stitch, head, stays, what the pattern asks, rules and tolerances.

use crate::brief::{Brief, HeadGirth, StayEdge, Stitch, head, knit, neckline, rules, stays};
use crate::check::Check;
use crate::decimal;
use crate::error::{Accepted, AcceptedCode, Problem, Unit};
use crate::field::count;

impl Check {
    pub(crate) fn others(&mut self, brief: &Brief) {
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
            self.add("stays.edges", Some(count(edges.len())), Problem::OutOfRange, accepted);
        }
        for (i, edge) in edges.iter().take(stays::MOST_EDGES).enumerate() {
            let at = |name: &str| ["stays.edges[", &count(i), "].", name].concat();
            let known = self.number(at("length_mm"), edge.length_mm, stays::EDGE_LENGTH_MM, Unit::Mm);
            self.number(at("allowance_mm"), edge.allowance_mm, neckline::ALLOWANCE_MM, Unit::Mm);
            self.number(at("pieces"), f64::from(edge.pieces), stays::PIECES, Unit::Count);
            if known {
                let (least, most) = (edge.length_mm, stays::MOST_GATHERED * edge.length_mm);
                self.maybe(at("gathered_from_mm"), edge.gathered_from_mm, [least, most], Unit::Mm);
            }
        }
    }

    pub(crate) fn rules(&mut self, brief: &Brief) {
        if brief.schema != crate::brief::SCHEMA {
            let accepted = Accepted::words(AcceptedCode::ThisSchema, crate::brief::SCHEMA);
            self.add("schema", Some(brief.schema.clone()), Problem::OtherSchema, accepted);
        }
        if brief.version != crate::brief::VERSION {
            let accepted = Accepted::words(AcceptedCode::ThisSchema, decimal::write(f64::from(crate::brief::VERSION)));
            self.add("version", Some(decimal::write(f64::from(brief.version))), Problem::OtherSchema, accepted);
        }
        let (rules, tolerances) = (&brief.rules, &brief.tolerances);
        let rows = [
            ("rules.hold_share", rules.hold_share, rules::HOLD_SHARE, Unit::Ratio),
            ("rules.comfort_share", rules.comfort_share, rules::COMFORT_SHARE, Unit::Ratio),
            ("rules.tape_hold", rules.tape_hold, rules::TAPE_HOLD, Unit::Ratio),
            ("rules.pull_share", rules.pull_share, rules::PULL_SHARE, Unit::Ratio),
            ("rules.mark_tolerance_mm", rules.mark_tolerance_mm, rules::MARK_TOLERANCE_MM, Unit::Mm),
            ("rules.passing_rise_mm", rules.passing_rise_mm, rules::PASSING_RISE_MM, Unit::Mm),
            ("rules.passing_lean_deg", rules.passing_lean_deg, rules::PASSING_LEAN_DEG, Unit::Deg),
            ("rules.clip_opening_mm", rules.clip_opening_mm, rules::CLIP_OPENING_MM, Unit::Mm),
            ("rules.turn_per_thickness", rules.turn_per_thickness, rules::TURN_PER_THICKNESS, Unit::Ratio),
            ("tolerances.reading_mm", tolerances.reading_mm, rules::READING_OFF_MM, Unit::Mm),
            ("tolerances.stretch_points", tolerances.stretch_points, rules::PERCENT_OFF_POINTS, Unit::Percent),
            ("tolerances.recovery_points", tolerances.recovery_points, rules::PERCENT_OFF_POINTS, Unit::Percent),
            ("tolerances.allowance_mm", tolerances.allowance_mm, rules::SEWN_OFF_MM, Unit::Mm),
            ("tolerances.poisson_ratio", tolerances.poisson_ratio, rules::POISSON_OFF, Unit::Ratio),
            ("tolerances.slope_deg", tolerances.slope_deg, rules::SLOPE_OFF_DEG, Unit::Deg),
            ("tolerances.width_mm", tolerances.width_mm, rules::SEWN_OFF_MM, Unit::Mm),
            ("tolerances.roundness_points", tolerances.roundness_points, rules::ROUNDNESS_OFF_POINTS, Unit::Percent),
        ];
        for (field, value, limits, unit) in rows {
            self.number(field, value, limits, unit);
        }
    }
}
