//! The order of sewing: which steps this finish takes, with this plan's figures in them.

use crate::plan::{Ends, Plan};
use crate::told::{Kind, Told};
use crate::words::Words;

/// The steps in order.
pub(crate) fn steps(told: &Told, plan: &Plan, words: &Words<'_>) -> Vec<String> {
    let mut keys = vec!["wash"];
    if !plan.stays.zones.is_empty() {
        keys.push("stay");
    }
    match told.finish.kind {
        Kind::Band => {
            keys.extend(["cut_strip", "mark", "shoulders", ends(plan)]);
            if told.finish.folded {
                keys.push("fold_band");
            }
            keys.extend(["pin", "sew_band", "press_band"]);
        }
        Kind::Tape => {
            keys.extend(["cut_strip", "mark", "shoulders"]);
            if ends(plan) == "join_ring" {
                keys.push("join_ring");
            }
            if told.finish.turn_under > 0.0 {
                keys.push("turn_under");
            }
            keys.extend(["pin", "sew_tape", "clip", "turn_tape"]);
            if ends(plan) == "overhang" {
                keys.push("overhang");
            }
            keys.push("topstitch_tape");
        }
        Kind::Facing => {
            keys.extend(["cut_facing", "shoulders", "join_facing", "sew_facing", "clip", "understitch", "turn_facing"]);
            if told.finish.topstitch.is_some() {
                keys.push("topstitch");
            }
        }
        Kind::Bound => {
            keys.extend(["shoulders", "trim", "cut_strip", "mark", ends(plan)]);
            if told.finish.folded {
                keys.push("fold_bound");
            }
            keys.extend(["sew_bound", "wrap_bound", "stitch_bound"]);
        }
    }
    keys.retain(|key| *key != "clip" || plan.clips.as_ref().is_some_and(|clips| clips.count > 0));
    let values = values(told, plan, words);
    let values: Vec<(&str, &str)> = values.iter().map(|(name, value)| (*name, value.as_str())).collect();
    keys.into_iter().map(|key| words.fill(&format!("step.{key}"), &values)).collect()
}

fn ends(plan: &Plan) -> &'static str {
    match plan.strip.as_ref().map(|strip| strip.ends) {
        Some(Ends::Mitre { .. }) => "mitre",
        Some(Ends::Lap { .. }) => "lap",
        Some(Ends::Overhang { .. }) => "overhang",
        _ => "join_ring",
    }
}

fn values<'a>(told: &Told, plan: &Plan, words: &Words<'_>) -> Vec<(&'a str, String)> {
    let finish = &told.finish;
    let mut values = vec![
        ("allowance", words.length(told.neckline_allowance)),
        ("finished", words.length(finish.width)),
        ("join", words.length(finish.join_allowance)),
        ("under", words.length(finish.turn_under)),
        ("direction", words.t(&format!("direction.{}", told.strip_direction))),
        ("count", plan.clips.as_ref().map_or(0, |clips| clips.count).to_string()),
    ];
    let mut say = |name, mm: Option<f64>| values.extend(mm.map(|mm| (name, words.length(mm))));
    if let Some(strip) = &plan.strip {
        say("length", Some(strip.cut_length.cut));
        say("width", Some(strip.cut_width.cut));
        say("trim", strip.trim);
        say("topstitch", strip.topstitch.or(Some(finish.width)));
    }
    if let Some(facing) = &plan.facing {
        say("understitch", Some(facing.understitch_distance));
        say("favour", Some(facing.favour));
        say("topstitch", finish.topstitch);
    }
    values
}
