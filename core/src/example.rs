//! The invented example that the page opens on and the documentation uses.

use crate::brief::{
    Band, Brief, Centre, Finish, Half, Head, HeadGirth, Knit, Layers, Measured, Neckline, Outline, PointFinish,
    ReadingsAt, Rounding, Rules, SCHEMA, Shape, ShapeKind, Stays, Stitch, Stretch, Tolerances, VERSION,
    default_head_margin_mm, default_join_allowance_mm, default_shoulder_slope_deg,
};

/// An invented round neck with a folded band, known by four tape readings and one stretch test.
#[must_use]
pub fn brief() -> Brief {
    let half = |half_length_mm, half_width_mm, depth_mm| Half {
        outline: Outline::Measured(Measured {
            half_length_mm,
            half_width_mm,
            depth_mm,
            shape: Shape::plain(ShapeKind::Round),
        }),
        centre: Centre::Fold,
        shoulder_allowance_mm: 10.0,
        shoulder_slope_deg: default_shoulder_slope_deg(),
    };
    Brief {
        schema: SCHEMA.to_owned(),
        version: VERSION,
        title: Some("Invented example: the Tarn tee".to_owned()),
        neckline: Neckline {
            readings_at: ReadingsAt::CutEdge,
            neckline_allowance_mm: 10.0,
            front: half(154.0, None, Some(115.0)),
            back: half(108.0, Some(88.0), None),
        },
        garment_knit: Knit {
            name: Some("Invented cotton jersey with elastane".to_owned()),
            crosswise: Stretch::Readings { rest_mm: 100.0, stretched_mm: 160.0, released_mm: Some(103.0) },
            lengthwise: None,
            diagonal: None,
            kind: None,
            poisson_ratio: None,
            swatch_width: None,
            thickness_mm: None,
            elastane_percent: Some(5.0),
            learned: Vec::new(),
        },
        strip_knit: None,
        strip_direction: crate::brief::Direction::Crosswise,
        finish: Finish::Band(Band {
            width_mm: 15.0,
            layers: Layers::Folded,
            point: PointFinish::Mitre,
            join_allowance_mm: default_join_allowance_mm(),
            ratio_percent: None,
        }),
        stitch: Stitch::Overlock,
        head: Head { girth: HeadGirth::OwnMm(565.0), margin_mm: default_head_margin_mm() },
        stays: Stays::default(),
        pattern_asks: None,
        rounding: Rounding::Millimetre,
        tolerances: Tolerances::default(),
        rules: Rules::default(),
    }
}
