//! Plans each line of standard input, a brief's JSON, and prints a line of JSON for it: the figures that the
//! differential test compares, or the problems. No ranges.

use std::io::{BufRead, Write};

use lieflat::plan::HalfLine;
use serde_json::{Value, json};

fn main() -> std::io::Result<()> {
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    for line in std::io::stdin().lock().lines() {
        let plan = lieflat::Brief::from_json(&line?).and_then(|brief| lieflat::plan_without_ranges(&brief));
        let answer = match plan {
            Ok(plan) => json!({
                "front": half(&plan.seam_line.front),
                "back": half(&plan.seam_line.back),
                "whole_turning_deg": plan.seam_line.whole_turning_deg,
                "relaxed_length_mm": plan.strip.map(|strip| strip.relaxed_length_mm),
            }),
            Err(errors) => json!({ "problems": errors.errors.iter().map(|e| json!(e)).collect::<Vec<Value>>() }),
        };
        writeln!(out, "{answer}")?;
    }
    out.flush()
}

fn half(line: &HalfLine) -> Value {
    json!({
        "length_mm": line.length_mm,
        "turning_deg": line.turning_deg,
        "half_width_mm": line.half_width_mm,
        "depth_mm": line.depth_mm,
    })
}
