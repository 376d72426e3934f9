//! The knits' working.

use crate::brief::{Knit, Stretch};
use crate::error::Unit::{Mm, Percent, Ratio};
use crate::field::under;
use crate::given::Given;
use crate::knit::{Cloth, USUAL_LENGTHWISE_SHARE, USUAL_THICKNESS_MM};
use crate::rule::Rule;
use crate::source::Source;
use crate::working::Working;

/// Both knits' figures.
pub(crate) fn explain(given: &Given<'_>, working: &mut Working) {
    let brief = given.brief;
    knit("garment_knit", &brief.garment_knit, &given.garment, given, working);
    knit("strip_knit", brief.strip_knit.as_ref().unwrap_or(&brief.garment_knit), &given.strip, given, working);
}

fn knit(name: &str, knit: &Knit, cloth: &Cloth, given: &Given<'_>, working: &mut Working) {
    one_way(&under(name, "crosswise_percent"), &knit.crosswise, cloth.crosswise, working);
    let (across, along) = (100.0 * cloth.crosswise, 100.0 * cloth.lengthwise);
    let figure = under(name, "lengthwise_percent");
    if let Some(way) = &knit.lengthwise {
        one_way(&figure, way, cloth.lengthwise, working);
    } else {
        let inputs = [("share", USUAL_LENGTHWISE_SHARE, Ratio), ("crosswise", across, Percent)];
        working.add(figure, Rule::LengthwiseTaken, &inputs, (along, Percent), Source::Judgement);
    }
    let figure = under(name, "diagonal_percent");
    if let Some(way) = &knit.diagonal {
        one_way(&figure, way, cloth.diagonal, working);
    } else {
        let inputs = [("crosswise", across, Percent), ("lengthwise", along, Percent)];
        working.add(figure, Rule::DiagonalTaken, &inputs, (100.0 * cloth.diagonal, Percent), Source::Judgement);
    }
    recovery(name, knit, cloth, working);
    let (figure, turn) = (under(name, "turn_of_cloth_mm"), given.brief.rules.turn_per_thickness);
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
    let figure = under(name, "recovery_percent");
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
                let figure = under(name, "growth_percent");
                working.add(figure, Rule::Growth, &[a, c], (100.0 * growth, Percent), Source::Growth);
            }
        }
        Stretch::Percent { recovery_percent: Some(given), .. } => {
            working.add(figure, Rule::AsGiven, &[("x", given, Percent)], result, Source::OwnMeasure);
        }
        _ => working.add(figure, Rule::Taken, &[("x", result.0, Percent)], result, Source::Judgement),
    }
}
