//! The rest of a brief, checked: stitch, head, stays, what the pattern asks, rules and tolerances.

use crate::brief::{Brief, HeadGirth, StayEdge, Stitch};
use crate::check::Check;
use crate::error::{Accepted, AcceptedCode, Problem, Unit};

impl Check {
    pub(crate) fn others(&mut self, brief: &Brief) {
        if let Stitch::Zigzag { width_mm, advance_mm } = brief.stitch {
            self.number("stitch.zigzag.width_mm", width_mm, 0.1, 10.0, Unit::Mm);
            self.number("stitch.zigzag.advance_mm", advance_mm, 0.2, 10.0, Unit::Mm);
        }
        match brief.head.girth {
            HeadGirth::OwnMm(girth) => {
                self.number("head.girth.own_mm", girth, 250.0, 800.0, Unit::Mm);
            }
            HeadGirth::Child { age_months, .. } => {
                self.number("head.girth.child.age_months", age_months, 0.0, 60.0, Unit::Months);
            }
            HeadGirth::Adult(_) => {}
        }
        self.number("head.margin_mm", brief.head.margin_mm, 0.0, 200.0, Unit::Mm);
        self.number("stays.tape_width_mm", brief.stays.tape_width_mm, 3.0, 40.0, Unit::Mm);
        self.number("stays.catch_mm", brief.stays.catch_mm, 0.0, 10.0, Unit::Mm);
        self.maybe("stays.shoulder_length_mm", brief.stays.shoulder_length_mm, 20.0, 400.0, Unit::Mm);
        self.edges(&brief.stays.edges);
        if let Some(asks) = &brief.pattern_asks {
            self.maybe("pattern_asks.crosswise_percent", asks.crosswise_percent, 0.0, 400.0, Unit::Percent);
            self.maybe("pattern_asks.lengthwise_percent", asks.lengthwise_percent, 0.0, 400.0, Unit::Percent);
        }
    }

    fn edges(&mut self, edges: &[StayEdge]) {
        if edges.len() > 12 {
            let accepted = Accepted::range(0.0, 12.0, Unit::Count);
            self.add("stays.edges", Some(edges.len().to_string()), Problem::OutOfRange, accepted);
        }
        for (i, edge) in edges.iter().take(12).enumerate() {
            let at = |name: &str| format!("stays.edges[{i}].{name}");
            let known = self.number(at("length_mm"), edge.length_mm, 10.0, 2000.0, Unit::Mm);
            self.number(at("allowance_mm"), edge.allowance_mm, 0.0, 60.0, Unit::Mm);
            self.number(at("pieces"), f64::from(edge.pieces), 1.0, 8.0, Unit::Count);
            if known {
                let (least, most) = (edge.length_mm, 8.0 * edge.length_mm);
                self.maybe(at("gathered_from_mm"), edge.gathered_from_mm, least, most, Unit::Mm);
            }
        }
    }

    pub(crate) fn rules(&mut self, brief: &Brief) {
        if brief.schema != crate::brief::SCHEMA {
            let accepted = Accepted::words(AcceptedCode::ThisSchema, crate::brief::SCHEMA);
            self.add("schema", Some(brief.schema.clone()), Problem::OtherSchema, accepted);
        }
        if brief.version != crate::brief::VERSION {
            let accepted = Accepted::words(AcceptedCode::ThisSchema, crate::brief::VERSION.to_string());
            self.add("version", Some(brief.version.to_string()), Problem::OtherSchema, accepted);
        }
        let (rules, tolerances) = (&brief.rules, &brief.tolerances);
        let rows: [(&str, f64, f64, f64, Unit); 13] = [
            ("rules.hold_share", rules.hold_share, 0.0, 0.5, Unit::Ratio),
            ("rules.comfort_share", rules.comfort_share, 0.1, 1.0, Unit::Ratio),
            ("rules.tape_hold", rules.tape_hold, 0.0, 0.2, Unit::Ratio),
            ("rules.pull_share", rules.pull_share, 0.1, 1.0, Unit::Ratio),
            ("rules.mark_tolerance_mm", rules.mark_tolerance_mm, 0.5, 50.0, Unit::Mm),
            ("rules.clip_opening_mm", rules.clip_opening_mm, 1.0, 20.0, Unit::Mm),
            ("rules.turn_per_thickness", rules.turn_per_thickness, 0.0, 4.0, Unit::Ratio),
            ("tolerances.reading_mm", tolerances.reading_mm, 0.0, 50.0, Unit::Mm),
            ("tolerances.stretch_points", tolerances.stretch_points, 0.0, 100.0, Unit::Percent),
            ("tolerances.recovery_points", tolerances.recovery_points, 0.0, 100.0, Unit::Percent),
            ("tolerances.allowance_mm", tolerances.allowance_mm, 0.0, 20.0, Unit::Mm),
            ("tolerances.width_mm", tolerances.width_mm, 0.0, 20.0, Unit::Mm),
            ("tolerances.roundness_points", tolerances.roundness_points, 0.0, 30.0, Unit::Percent),
        ];
        for (field, value, min, max, unit) in rows {
            self.number(field, value, min, max, unit);
        }
    }
}
