//! The core against closed forms, published values, an independent reference and properties: one binary, as linking
//! a dozen takes longer than running them. `cargo test -p lieflat-tests --test checks geometry::` runs one subject.

mod as_sewn;
mod bounds;
mod briefs;
mod circle;
mod cures;
mod edges;
mod finishes;
mod garments;
mod generated;
mod geometry;
mod habits;
mod house;
mod learned;
mod lengths;
mod opening;
mod order;
mod paths;
mod properties;
mod ranges;
mod reference;
mod schema;
mod sizes;
mod stay_tape;
mod straight;
mod straight_runs;
mod trade;
mod working;
