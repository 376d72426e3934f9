//! The order of work in words: for each of the plan's steps its words and its figures. What is done when is the core's.

use crate::node::Node;
use crate::plan::{Mark, Plan, Zone};
use crate::words::Words;

/// A step of the plan.
#[derive(Debug, Clone)]
pub(crate) struct Step {
    code: String,
    count: Option<u64>,
    direction: Option<String>,
    at: Option<String>,
    /// Lengths in mm, by the names that the words have for them.
    lengths: Vec<(String, f64)>,
    /// Angles in degrees, likewise.
    angles: Vec<(String, f64)>,
    /// The strip's marks are told, each where this field of it says.
    places: Option<String>,
    /// Parts to stay, by their index.
    zones: Vec<usize>,
}

impl Step {
    pub(crate) fn read(step: Node<'_>) -> Self {
        let named = |ending: &str| {
            let figures = step.fields().filter_map(|(name, value)| {
                let name = name.strip_suffix(ending)?;
                Some((name.to_owned(), value.number()?))
            });
            figures.collect()
        };
        let text = |name: &str| step.at(name).text().map(str::to_owned);
        Self {
            code: step.code("step"),
            count: step.at("count").whole(),
            direction: text("direction"),
            at: text("at"),
            lengths: named("_mm"),
            angles: named("_deg"),
            places: text("places"),
            zones: step.at("zones").items().filter_map(|zone| index(zone.whole()?)).collect(),
        }
    }

    /// The step in words.
    pub(crate) fn text(&self, plan: &Plan, words: &Words<'_>) -> String {
        let mut values: Vec<(&str, String)> = Vec::new();
        values.extend(self.count.map(|count| ("count", count.to_string())));
        values.extend(self.lengths.iter().map(|(name, mm)| (name.as_str(), words.length(*mm))));
        values.extend(self.angles.iter().map(|(name, degrees)| (name.as_str(), words.degrees(*degrees))));
        values.extend(self.direction.iter().map(|way| ("direction", words.page(&format!("order.runs.{way}")))));
        values.extend(self.at.iter().map(|place| ("at", words.page(&format!("place.{place}")))));
        let join = words.page("order.join");
        values.push(("places", self.places(plan, words).join(&join)));
        // Last: a person's own name for an edge may look like a figure's.
        values.push(("parts", self.parts(plan, words).join(&join)));
        let values: Vec<(&str, &str)> = values.iter().map(|(name, value)| (*name, value.as_str())).collect();
        words.fill_page(&words.counted(&format!("order.step.{}", self.code), self.count), &values)
    }

    fn places(&self, plan: &Plan, words: &Words<'_>) -> Vec<String> {
        let marks = plan.strip.as_ref().map_or(&[][..], |strip| &strip.marks);
        let place = |mark: &Mark| {
            let at = match self.places.as_deref()? {
                "on_strip_mm" => mark.on_strip,
                _ => mark.on_seam_line,
            };
            let values = [("at", &*words.length(at)), ("mark", &*words.mark(mark))];
            Some(words.fill_page("order.place", &values))
        };
        marks.iter().filter_map(place).collect()
    }

    fn parts(&self, plan: &Plan, words: &Words<'_>) -> Vec<String> {
        let name = |zone: &Zone| zone.name.clone().unwrap_or_else(|| words.page(&format!("part.{}", zone.part)));
        self.zones.iter().filter_map(|zone| plan.stays.zones.get(*zone)).map(name).collect()
    }
}

fn index(number: u64) -> Option<usize> {
    usize::try_from(number).ok()
}
