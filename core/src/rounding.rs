//! A figure rounded to what can be cut, within its own range.

use crate::brief::Rounding;

/// Which way a figure was rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    Nearest,
    Down,
    Up,
}

/// A figure as it can be cut, and how it came about. mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rounded {
    pub mm: f64,
    pub step: f64,
    pub way: Way,
}

/// The nearest step; where that lies outside the range, the step on the other side; where that does too, the same in half
/// steps. A range so narrow that none of these lies in it is narrower than anyone cuts: then the nearest half step.
pub(crate) fn rounded(rounding: Rounding, exact: f64, low: f64, high: f64) -> Rounded {
    let whole = rounding.step_mm();
    let half = 0.5 * whole;
    let other = |step: f64| if nearest(exact, step).mm > exact { down(exact, step) } else { up(exact, step) };
    let in_turn = [nearest(exact, whole), other(whole), nearest(exact, half), other(half)];
    let within = in_turn.into_iter().find(|to| low <= to.mm && to.mm <= high);
    within.unwrap_or_else(|| nearest(exact, half))
}

/// The nearest step alone, for a figure whose range was not worked out.
pub(crate) fn nearest(exact: f64, step: f64) -> Rounded {
    Rounded { mm: (exact / step).round() * step, step, way: Way::Nearest }
}

fn down(exact: f64, step: f64) -> Rounded {
    Rounded { mm: (exact / step).floor() * step, step, way: Way::Down }
}

fn up(exact: f64, step: f64) -> Rounded {
    Rounded { mm: (exact / step).ceil() * step, step, way: Way::Up }
}

#[cfg(test)]
mod tests {
    use super::{Way, rounded};
    use crate::brief::Rounding;

    #[test]
    fn eighths_of_an_inch_go_the_way_that_their_range_leaves() {
        // An eighth of an inch is 3.175 mm: 33 of them are 104.775 mm, 34 are 107.95 mm, 32 and a half are 103.1875 mm.
        for (exact, low, high, mm, way) in [
            (105.0, 104.0, 106.0, 104.775, Way::Nearest),
            // 33 of them lie under the range.
            (105.0, 104.9, 110.0, 107.95, Way::Up),
            // 34 lie over it.
            (107.0, 104.0, 107.5, 104.775, Way::Down),
            // 32 and 33 lie beyond it.
            (104.0, 103.0, 104.2, 103.1875, Way::Down),
        ] {
            let to = rounded(Rounding::EighthInch, exact, low, high);
            assert!((to.mm - mm).abs() < 1e-9 && to.way == way, "{exact} mm: {to:?} and not {mm} mm, {way:?}");
        }
    }
}
