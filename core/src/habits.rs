//! What a new brief begins with: lengths that are usual where nothing else is told, as people who measure in each system
//! have them. They are a person's to change, and once told they belong to the brief: another unit changes none of them.
//!
//! Common practice, no published source: a metric pattern has 10 mm where one in inches has 3/8 in, and neither is the other.
//! Stitches are not here, for machines are set in millimetres everywhere; nor are tolerances and rules, which a change of
//! unit must not bend.

use crate::brief::Rounding;
use crate::length::MM_PER_INCH;

/// A system of measures that people have habits in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum System {
    /// Millimetres and centimetres.
    Metric,
    /// Inches and their fractions.
    Inch,
}

/// What a length begins with, by system.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Habit {
    /// The type of the brief that has the length.
    pub of: &'static str,
    /// Its field there.
    pub field: &'static str,
    /// In metric. mm.
    pub metric_mm: f64,
    /// In inches. In sixteenths, which every tape has.
    pub sixteenths: u32,
}

impl Habit {
    /// The length in a system. mm.
    #[must_use]
    pub fn mm(&self, system: System) -> f64 {
        match system {
            System::Metric => self.metric_mm,
            System::Inch => f64::from(self.sixteenths) / 16.0 * MM_PER_INCH,
        }
    }
}

const fn habit(of: &'static str, field: &'static str, metric_mm: f64, sixteenths: u32) -> Habit {
    Habit { of, field, metric_mm, sixteenths }
}

/// Every length that a new brief begins with.
pub const HABITS: [Habit; 19] = [
    habit("Neckline", "neckline_allowance_mm", 10.0, 6),
    habit("Half", "shoulder_allowance_mm", 10.0, 6),
    habit("CentreSeam", "allowance_mm", 10.0, 6),
    habit("StretchReadings", "rest_mm", 100.0, 64),
    habit("Band", "width_mm", 15.0, 10),
    habit("Band", "join_allowance_mm", 6.0, 4),
    habit("Bound", "width_mm", 10.0, 6),
    habit("Bound", "turn_under_mm", 6.0, 4),
    habit("Bound", "join_allowance_mm", 6.0, 4),
    habit("Tape", "width_mm", 12.0, 8),
    habit("Tape", "turn_under_mm", 0.0, 0),
    habit("Tape", "join_allowance_mm", 6.0, 4),
    habit("Facing", "width_mm", 55.0, 36),
    habit("Facing", "understitch_mm", 1.6, 1),
    habit("Facing", "edge_allowance_mm", 0.0, 0),
    habit("Head", "margin_mm", 20.0, 12),
    habit("Stays", "tape_width_mm", 9.5, 6),
    habit("Stays", "catch_mm", 1.0, 1),
    habit("StayEdge", "allowance_mm", 10.0, 6),
];

/// What cut figures are rounded to: whole millimetres, or the eighths that every inch ruler for cutting has.
#[must_use]
pub const fn rounding(system: System) -> Rounding {
    match system {
        System::Metric => Rounding::Millimetre,
        System::Inch => Rounding::EighthInch,
    }
}
