//! A half of the neckline, checked.

use crate::brief::{Centre, Half, HalfName, Measured, Outline, ReadingsAt, Shape, ShapeKind, neckline};
use crate::check::Check;
use crate::error::{Accepted, AcceptedCode, Problem, Unit};
use crate::field::under;
use crate::outline::{Drawn, OutlineGiven, ShapeGiven, Shoulder, usual_roundness};

/// A half, checked.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct HalfGiven {
    pub outline: OutlineGiven,
    pub centre_allowance: f64,
    pub shoulder_allowance: f64,
    /// Radians.
    pub slope: f64,
    /// The line that it is known by, as these numbers draw it.
    pub line: Drawn,
}

impl HalfGiven {
    /// Changes what the line is drawn by, and draws it again; false where there is nothing to change.
    pub(crate) fn change(&mut self, readings_at: ReadingsAt, change: &dyn Fn(&mut Self) -> bool) -> bool {
        let changed = change(self);
        if changed {
            self.line = drawn(&self.outline, self.slope, self.shoulder_allowance, readings_at);
        }
        changed
    }
}

fn drawn(outline: &OutlineGiven, slope: f64, shoulder_allowance: f64, readings_at: ReadingsAt) -> Drawn {
    let allowance = if readings_at == ReadingsAt::CutEdge { shoulder_allowance } else { 0.0 };
    outline.arcs(Shoulder::new(slope, allowance))
}

impl Check {
    pub(crate) fn half(&mut self, half: &Half, which: HalfName, readings_at: ReadingsAt) -> Option<HalfGiven> {
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
        let (slope, shoulder_allowance) = (half.shoulder_slope_deg.to_radians(), half.shoulder_allowance_mm);
        (self.errors.len() == before).then(|| {
            let line = drawn(&outline, slope, shoulder_allowance, readings_at);
            HalfGiven { outline, centre_allowance, shoulder_allowance, slope, line }
        })
    }

    fn outline(&mut self, outline: &Outline, which: HalfName) -> Option<OutlineGiven> {
        match outline {
            Outline::Measured(m) => Some(self.measured(m, which)),
            Outline::Drafted(d) => {
                let field = |name: &str| which.field(&under(".outline.drafted", name));
                self.number(field("half_width_mm"), d.half_width_mm, neckline::HALF_WIDTH_MM, Unit::Mm);
                self.number(field("depth_mm"), d.depth_mm, neckline::DEPTH_MM, Unit::Mm);
                let shape = self.shape(&d.shape, &field("shape"));
                if let Some(radius) = d.shape.corner_radius_mm
                    && radius > d.half_width_mm.min(d.depth_mm)
                {
                    let most = d.half_width_mm.min(d.depth_mm);
                    let accepted = Accepted::range(0.0, most, Unit::Mm);
                    self.wrong(field("shape.corner_radius_mm"), radius, Problem::OutOfRange, accepted);
                }
                Some(OutlineGiven::Drafted { width: d.half_width_mm, depth: d.depth_mm, shape })
            }
            Outline::Drawn(drawn) => self.drawn(drawn, which),
        }
    }

    fn measured(&mut self, m: &Measured, which: HalfName) -> OutlineGiven {
        let field = |name: &str| which.field(&under(".outline.measured", name));
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
        let at = |name: &str| under(field, name);
        self.maybe(at("roundness_percent"), shape.roundness_percent, neckline::ROUNDNESS_PERCENT, Unit::Percent);
        self.maybe(at("corner_radius_mm"), shape.corner_radius_mm, neckline::CORNER_RADIUS_MM, Unit::Mm);
        self.maybe(at("leg_hollow_percent"), shape.leg_hollow_percent, neckline::LEG_HOLLOW_PERCENT, Unit::Percent);
        let kind = shape.kind;
        let curved = ShapeKind::CURVED.contains(&kind);
        let strays = [
            ("roundness_percent", shape.roundness_percent, curved, AcceptedCode::OnlyRoundScoopBoat),
            ("corner_radius_mm", shape.corner_radius_mm, kind == ShapeKind::Square, AcceptedCode::OnlySquare),
            ("leg_hollow_percent", shape.leg_hollow_percent, kind == ShapeKind::V, AcceptedCode::OnlyV),
        ];
        for (name, value, belongs, with) in strays {
            if let (Some(value), false) = (value, belongs) {
                self.wrong(at(name), value, Problem::NotWithThisShape, Accepted::code(with));
            }
        }
        ShapeGiven {
            kind,
            roundness: shape.roundness_percent.map_or(usual_roundness(kind), |p| p / 100.0),
            corner_radius: shape.corner_radius_mm.unwrap_or(0.0),
            leg_hollow: shape.leg_hollow_percent.map_or(0.0, |p| p / 100.0),
        }
    }
}
