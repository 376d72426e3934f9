//! The order of work in words: for each of the plan's steps its words and its figures. What is done when is the core's.

use lieflat::Plan;
use lieflat::order::{MarkField, SewingStep};
use lieflat::plan::{Mark, StayZone};

use crate::words::{Code, Words};

/// A step in words.
pub(crate) fn text(step: &SewingStep, plan: &Plan, words: &Words<'_>) -> String {
    let mut values: Vec<(&str, String)> = Vec::new();
    values.extend(step.count.map(|count| ("count", count.to_string())));
    values.extend(step.figures.iter().map(|(figure, value)| {
        let name = figure.name();
        match name.strip_suffix("_mm") {
            Some(name) => (name, words.length(*value)),
            None => (name.trim_end_matches("_deg"), words.degrees(*value)),
        }
    }));
    values.extend(step.direction.map(|way| ("direction", words.page(&format!("order.runs.{}", Code(way))))));
    values.extend(step.at.map(|place| ("at", words.page(&format!("place.{}", Code(place))))));
    let join = words.page("order.join");
    values.push(("places", places(step, plan, words).join(&join)));
    // Last: a person's own name for an edge may look like a figure's.
    values.push(("parts", parts(step, plan, words).join(&join)));
    let values: Vec<(&str, &str)> = values.iter().map(|(name, value)| (*name, value.as_str())).collect();
    words.fill_page(&words.counted(&format!("order.step.{}", Code(step.step)), step.count), &values)
}

fn places(step: &SewingStep, plan: &Plan, words: &Words<'_>) -> Vec<String> {
    let (Some(field), Some(strip)) = (step.places, &plan.strip) else { return Vec::new() };
    let place = |mark: &Mark| {
        let at = match field {
            MarkField::OnStrip => mark.on_strip_mm,
            MarkField::OnSeamLine => mark.on_seam_line_mm,
        };
        words.fill_page("order.place", &[("at", &*words.length(at)), ("mark", &*words.mark(mark))])
    };
    strip.marks.iter().map(place).collect()
}

fn parts(step: &SewingStep, plan: &Plan, words: &Words<'_>) -> Vec<String> {
    let name = |zone: &StayZone| zone.name.clone().unwrap_or_else(|| words.page(&format!("part.{}", Code(zone.part))));
    step.zones.iter().filter_map(|zone| plan.stays.zones.get(*zone)).map(name).collect()
}
