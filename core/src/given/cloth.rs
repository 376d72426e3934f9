//! The knits and their records, checked.

use crate::brief::knit::MOST_RECORDS;
use crate::brief::{Knit, SewnOutcome, SewnRecord, SewnWidth, Stretch, SwatchWidth, knit};
use crate::check::Check;
use crate::error::{Accepted, Problem, Unit};
use crate::field::{count, joined, under};

impl Check {
    pub(crate) fn knit(&mut self, knit: &Knit, field: &str) {
        self.stretch(&knit.crosswise, &under(field, "crosswise"));
        for (name, way) in [("lengthwise", &knit.lengthwise), ("diagonal", &knit.diagonal)] {
            if let Some(way) = way {
                self.stretch(way, &under(field, name));
            }
        }
        self.maybe(under(field, "thickness_mm"), knit.thickness_mm, knit::THICKNESS_MM, Unit::Mm);
        self.maybe(under(field, "elastane_percent"), knit.elastane_percent, knit::ELASTANE_PERCENT, Unit::Percent);
        let ratio = knit.poisson_ratio.unwrap_or_default();
        let widths = knit.swatch_width.unwrap_or_default();
        let ways =
            [("crosswise", ratio.crosswise, widths.crosswise), ("lengthwise", ratio.lengthwise, widths.lengthwise)];
        for (way, ratio, width) in ways {
            self.maybe(joined(&[field, "poisson_ratio", way]), ratio, knit::POISSON_RATIO, Unit::Ratio);
            if let Some(width) = width {
                self.swatch_width(&width, &joined(&[field, "swatch_width", way]));
            }
        }
        self.learned(&knit.learned, &under(field, "learned"));
    }

    fn swatch_width(&mut self, width: &SwatchWidth, field: &str) {
        if self.number(under(field, "rest_mm"), width.rest_mm, knit::SWATCH_WIDTH_MM, Unit::Mm) {
            let accepted = [knit::SWATCH_KEEPS * width.rest_mm, width.rest_mm];
            self.number(under(field, "stretched_mm"), width.stretched_mm, accepted, Unit::Mm);
        }
    }

    fn sewn_width(&mut self, width: &SewnWidth, field: &str) {
        let whole = width.unnarrowed_mm;
        self.number(
            under(field, "stretch_percent"),
            width.stretch_percent,
            knit::RECORD_STRETCH_PERCENT,
            Unit::Percent,
        );
        if self.number(under(field, "unnarrowed_mm"), whole, knit::RECORD_WIDTH_MM, Unit::Mm) {
            let accepted = [knit::SWATCH_KEEPS * whole, 1.1 * whole];
            self.number(under(field, "sewn_mm"), width.sewn_mm, accepted, Unit::Mm);
        }
    }

    fn learned(&mut self, records: &[SewnRecord], field: &str) {
        self.number(field, records.len() as f64, [0.0, MOST_RECORDS as f64], Unit::Count);
        for (place, record) in records.iter().take(MOST_RECORDS).enumerate() {
            let at = |name: &str| joined(&[field, &count(place), name]);
            let line = record.held_line_mm;
            if let Some(width) = &record.width {
                self.sewn_width(width, &at("width"));
            }
            if !self.number(at("held_line_mm"), line, knit::HELD_LINE_MM, Unit::Mm)
                || !self.number(at("strip_mm"), record.strip_mm, [0.6 * line, 1.3 * line], Unit::Mm)
            {
                continue;
            }
            let most = 0.25 * record.strip_mm;
            match (record.outcome, record.by_mm) {
                (SewnOutcome::LayFlat, Some(by)) => {
                    let accepted = Accepted::range(0.0, 0.0, Unit::Mm);
                    self.wrong(at("by_mm"), by, Problem::OutOfRange, accepted);
                }
                (SewnOutcome::LayFlat, None) => {}
                (_, Some(by)) => {
                    self.number(at("by_mm"), by, [knit::LEAST_BY_MM, most], Unit::Mm);
                }
                (_, None) => {
                    self.add(at("by_mm"), None, Problem::Missing, Accepted::range(knit::LEAST_BY_MM, most, Unit::Mm));
                }
            }
        }
    }

    fn stretch(&mut self, stretch: &Stretch, field: &str) {
        match *stretch {
            Stretch::Readings { rest_mm, stretched_mm, released_mm } => {
                let at = |name: &str| joined(&[field, "readings", name]);
                let read = self.number(at("rest_mm"), rest_mm, knit::REST_MM, Unit::Mm)
                    & self.number(at("stretched_mm"), stretched_mm, knit::STRETCHED_MM, Unit::Mm);
                if !read {
                    return;
                }
                if stretched_mm < rest_mm {
                    let accepted = Accepted::range(rest_mm, knit::MOST_TIMES_REST * rest_mm, Unit::Mm);
                    self.wrong(at("stretched_mm"), stretched_mm, Problem::StretchedNotLonger, accepted);
                    return;
                }
                if stretched_mm > knit::MOST_TIMES_REST * rest_mm {
                    let accepted = Accepted::range(rest_mm, knit::MOST_TIMES_REST * rest_mm, Unit::Mm);
                    self.wrong(at("stretched_mm"), stretched_mm, Problem::OutOfRange, accepted);
                    return;
                }
                let Some(released) = released_mm else { return };
                if !released.is_finite() {
                    let accepted = Accepted::range(rest_mm, stretched_mm, Unit::Mm);
                    self.wrong(at("released_mm"), released, Problem::NotFinite, accepted);
                } else if released < rest_mm || released > stretched_mm {
                    let accepted = Accepted::range(rest_mm, stretched_mm, Unit::Mm);
                    self.wrong(at("released_mm"), released, Problem::RecoveryOverWhole, accepted);
                }
            }
            Stretch::Percent { stretch_percent, recovery_percent } => {
                self.number(
                    under(field, "percent.stretch_percent"),
                    stretch_percent,
                    knit::STRETCH_PERCENT,
                    Unit::Percent,
                );
                let field = under(field, "percent.recovery_percent");
                self.maybe(field, recovery_percent, knit::RECOVERY_PERCENT, Unit::Percent);
            }
        }
    }
}
