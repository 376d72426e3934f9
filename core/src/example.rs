//! The invented example that the page opens on and the documentation uses, in each system of measures.

use crate::brief::{
    Band, Brief, Centre, Finish, Half, Head, HeadGirth, Knit, Layers, Measured, Neckline, Outline, PointFinish,
    ReadingsAt, Rules, SCHEMA, Shape, ShapeKind, Stays, Stitch, Stretch, Tolerances, VERSION,
    default_shoulder_slope_deg,
};
use crate::habits::{HABITS, System, rounding};
use crate::length::MM_PER_INCH;

/// What was read off the example's pattern, swatch and wearer, in the unit of the one who reads.
struct Readings {
    front_length: f64,
    front_depth: f64,
    back_length: f64,
    back_width: f64,
    stretched: f64,
    released: f64,
    head: f64,
}

const METRIC_MM: Readings = Readings {
    front_length: 154.0,
    front_depth: 115.0,
    back_length: 108.0,
    back_width: 88.0,
    stretched: 160.0,
    released: 103.0,
    head: 565.0,
};

/// The same garment by someone with an inch tape, in eighths.
const INCHES: Readings = Readings {
    front_length: 6.0,
    front_depth: 4.5,
    back_length: 4.25,
    back_width: 3.5,
    stretched: 6.375,
    released: 4.125,
    head: 22.25,
};

/// An invented round neck with a folded band, known by four tape readings and one stretch test.
#[must_use]
pub fn brief() -> Brief {
    brief_in(System::Metric)
}

/// The same by someone who measures in a system: every reading is what a tape there shows, and what is usual is what is usual
/// there.
#[must_use]
pub fn brief_in(system: System) -> Brief {
    let (read, unit_mm) = match system {
        System::Metric => (METRIC_MM, 1.0),
        System::Inch => (INCHES, MM_PER_INCH),
    };
    let usual = |of, field| {
        let habit = HABITS.iter().find(|habit| habit.of == of && habit.field == field);
        habit.map_or(0.0, |habit| habit.mm(system))
    };
    let half = |half_length: f64, half_width: Option<f64>, depth: Option<f64>| Half {
        outline: Outline::Measured(Measured {
            half_length_mm: half_length * unit_mm,
            half_width_mm: half_width.map(|width| width * unit_mm),
            depth_mm: depth.map(|depth| depth * unit_mm),
            shape: Shape::plain(ShapeKind::Round),
        }),
        centre: Centre::Fold,
        shoulder_allowance_mm: usual("Half", "shoulder_allowance_mm"),
        shoulder_slope_deg: default_shoulder_slope_deg(),
    };
    Brief {
        schema: SCHEMA.to_owned(),
        version: VERSION,
        title: Some("Invented example: the Tarn tee".to_owned()),
        neckline: Neckline {
            readings_at: ReadingsAt::CutEdge,
            neckline_allowance_mm: usual("Neckline", "neckline_allowance_mm"),
            front: half(read.front_length, None, Some(read.front_depth)),
            back: half(read.back_length, Some(read.back_width), None),
        },
        garment_knit: Knit {
            name: Some("Invented cotton jersey with elastane".to_owned()),
            crosswise: Stretch::Readings {
                rest_mm: usual("StretchReadings", "rest_mm"),
                stretched_mm: read.stretched * unit_mm,
                released_mm: Some(read.released * unit_mm),
            },
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
            width_mm: usual("Band", "width_mm"),
            layers: Layers::Folded,
            point: PointFinish::Mitre,
            join_allowance_mm: usual("Band", "join_allowance_mm"),
            ratio_percent: None,
        }),
        stitch: Stitch::Overlock,
        head: Head { girth: HeadGirth::OwnMm(read.head * unit_mm), margin_mm: usual("Head", "margin_mm") },
        stays: Stays {
            tape_width_mm: usual("Stays", "tape_width_mm"),
            catch_mm: usual("Stays", "catch_mm"),
            ..Stays::default()
        },
        pattern_asks: None,
        rounding: rounding(system),
        tolerances: Tolerances::default(),
        rules: Rules::default(),
    }
}
