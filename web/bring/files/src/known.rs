//! A known length held against one that was found, and what to look for where they differ.

use crate::messages::{Check, Checked, LookFor, OFF_PERCENT, Refused};

/// The shortest and the longest known length, mm: a shorter one tells too little, a longer one is on no table. Our judgement.
const KNOWN_MM: [f64; 2] = [5.0, 5000.0];

/// How near a ratio must be to one that has a name, as a share: a tape's reading. Our judgement.
const NEAR_SHARE: f64 = 0.015;

/// The least ratio of a page that was fitted to its paper. Common practice, no published source.
const FITTED: f64 = 0.88;

/// What seam allowances at one or both ends make of a length, mm: from the narrowest at one end to the widest at both. Common
/// practice, no published source.
const ALLOWANCES_MM: [f64; 2] = [4.0, 60.0];

/// Whether a length can be held against a drawing.
pub(crate) fn known(mm: f64) -> Result<f64, Refused> {
    let [least_mm, most_mm] = KNOWN_MM;
    if mm >= least_mm && mm <= most_mm { Ok(mm) } else { Err(Refused::Length { least_mm, most_mm }) }
}

/// Holds a length that was found against the real one.
pub(crate) fn checked(Check { found_mm, known_mm }: Check) -> Result<Checked, Refused> {
    let (found, known) = (known(found_mm)?, known(known_mm)?);
    Ok(Checked { off_percent: (known / found - 1.0) * 100.0, look_for: look_for(found, known) })
}

/// What a known length that is off by more than a percent is most like.
pub(crate) fn look_for(found: f64, known: f64) -> Option<LookFor> {
    let times = (known / found).max(found / known);
    if (times - 1.0) * 100.0 <= OFF_PERCENT {
        return None;
    }
    let near = |wanted: f64| (times / wanted - 1.0).abs() < NEAR_SHARE;
    let dots = [96.0 / 72.0, 90.0 / 72.0];
    let difference = (known - found).abs();
    let [least, most] = ALLOWANCES_MM;
    Some(if near(25.4) {
        LookFor::Inches
    } else if near(10.0) {
        LookFor::Centimetres
    } else if near(2.0) {
        LookFor::Half
    } else if dots.into_iter().any(near) {
        LookFor::Dots
    } else if times <= 1.0 / FITTED {
        LookFor::FittedToPage
    } else if (least..=most).contains(&difference) {
        LookFor::Allowance
    } else {
        LookFor::OtherLine
    })
}
