//! Corners of an outline, through the noise of a line that was sampled.

use kurbo::Vec2;

use crate::order::sorted_by;
use crate::run::{Run, tangent, turn_deg};

/// Over how long a stretch a corner's turn is taken, mm: half before it, half after.
const STRETCH_MM: f64 = 8.0;
/// The least turn of a corner, degrees.
const LEAST_TURN_DEG: f64 = 25.0;
/// Over a third of the stretch a corner still turns by this share; a curve by a third.
const SHARP_SHARE: f64 = 0.6;
/// How finely the outline is looked at, mm.
const STEP_MM: f64 = 0.25;
/// The most places that are looked at: an outline of 50 m.
const MOST_STEPS: usize = 200_000;
/// A turn of the file's own this near, mm, is the corner's place.
const OWN_TURN_MM: f64 = 1.0;

/// A corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// How far along the outline, mm.
    pub at: f64,
    /// How far the outline turns, degrees; 180 at an open end.
    pub turn_deg: f64,
}

/// All corners of an outline in their order along it, and the ends of an open one.
#[must_use]
pub(crate) fn corners(run: &Run) -> Vec<Corner> {
    let even = Even::new(run);
    let wide = even.turns(STRETCH_MM / 2.0);
    let narrow = even.turns(STRETCH_MM / 6.0);
    let reach = count(STRETCH_MM / 2.0);
    let mut found = Vec::new();
    for (i, turn) in wide.iter().enumerate() {
        if *turn < LEAST_TURN_DEG || even.around(i, reach).any(|j| wide[j] > *turn || (wide[j] == *turn && j < i)) {
            continue;
        }
        let sharpest = even.around(i, count(OWN_TURN_MM)).map(|j| narrow[j]).fold(narrow[i], f64::max);
        if sharpest >= SHARP_SHARE * turn {
            found.push(Corner { at: own_turn(run, even.step * i as f64), turn_deg: *turn });
        }
    }
    if !run.is_closed() {
        let ends = STRETCH_MM / 2.0;
        found.retain(|corner| corner.at > ends && corner.at < run.length() - ends);
        found.insert(0, Corner { at: 0.0, turn_deg: 180.0 });
        found.push(Corner { at: run.length(), turn_deg: 180.0 });
    }
    let mut found = sorted_by(found, |corner| corner.at);
    found.dedup_by(|a, b| (a.at - b.at).abs() < ends_apart(run));
    found
}

fn ends_apart(run: &Run) -> f64 {
    (OWN_TURN_MM / 2.0).min(run.length() / 4.0)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few steps")]
fn count(length_mm: f64) -> usize {
    (length_mm / STEP_MM).round().max(1.0) as usize
}

/// Where the file itself turns most near a place along an outline; the place where it does not.
fn own_turn(run: &Run, at: f64) -> f64 {
    let segments = run.segments();
    let turns = run.begins().iter().enumerate().filter_map(|(i, begin)| {
        let before = if i == 0 { segments.last().filter(|_| run.is_closed())? } else { segments.get(i - 1)? };
        let after =
            if i == segments.len() { segments.first().filter(|_| run.is_closed())? } else { segments.get(i)? };
        let apart = (begin - at).abs();
        let apart = if run.is_closed() { apart.min(run.length() - apart) } else { apart };
        (apart <= OWN_TURN_MM).then(|| (turn_deg(tangent(before, 1.0), tangent(after, 0.0)), *begin))
    });
    let most = turns.max_by(|a, b| a.0.total_cmp(&b.0));
    most.filter(|(turn, _)| *turn >= LEAST_TURN_DEG / 3.0).map_or(at, |(_, begin)| run.within(begin))
}

/// Places along an outline at even steps, and the sums of all up to each.
struct Even {
    step: f64,
    sums: Vec<Vec2>,
    closed: bool,
}

impl Even {
    fn new(run: &Run) -> Self {
        let steps = count(run.length()).min(MOST_STEPS);
        let places = run.places(0.5 * run.length() / steps as f64);
        let step = run.length() / steps as f64;
        let mut sums = vec![Vec2::ZERO];
        let mut sum = Vec2::ZERO;
        let mut j = 0;
        for i in 0..steps {
            let at = step * i as f64;
            while places.get(j + 1).is_some_and(|next| next.at < at) {
                j += 1;
            }
            let (Some(a), Some(b)) = (places.get(j), places.get(j + 1)) else { break };
            let share = if b.at > a.at { ((at - a.at) / (b.at - a.at)).clamp(0.0, 1.0) } else { 0.0 };
            sum += a.point.lerp(b.point, share).to_vec2();
            sums.push(sum);
        }
        Self { step, sums, closed: run.is_closed() }
    }

    fn len(&self) -> usize {
        self.sums.len() - 1
    }

    /// Steps next to one, on both sides.
    fn around(&self, i: usize, reach: usize) -> impl Iterator<Item = usize> + '_ {
        let n = self.len();
        let reach = reach.min(n.saturating_sub(1) / 2);
        (1..=reach)
            .flat_map(move |k| {
                let back = if i >= k { Some(i - k) } else { self.closed.then(|| i + n - k) };
                let on = if i + k < n { Some(i + k) } else { self.closed.then(|| i + k - n) };
                [back, on]
            })
            .flatten()
    }

    /// The middle of all places from one step to before another; round over the beginning where it is closed.
    fn middle(&self, from: i64, to: i64) -> Option<Vec2> {
        let n = i64::try_from(self.len()).ok()?;
        if n == 0 || to <= from {
            return None;
        }
        if !self.closed && (from < 0 || to > n) {
            return None;
        }
        let sum_to = |k: i64| {
            let whole = self.sums.last().copied().unwrap_or_default() * (k.div_euclid(n)) as f64;
            let rest = usize::try_from(k.rem_euclid(n)).unwrap_or(0);
            whole + self.sums.get(rest).copied().unwrap_or_default()
        };
        Some((sum_to(to) - sum_to(from)) / (to - from) as f64)
    }

    /// How far the outline turns at each step, degrees, between its direction over a stretch before and one after: each the way
    /// from the middle of the stretch's first half to that of its second, which evens noise out. 0 where a stretch is missing.
    fn turns(&self, stretch_mm: f64) -> Vec<f64> {
        let half = i64::try_from(count(stretch_mm / 2.0)).unwrap_or(1);
        let n = i64::try_from(self.len()).unwrap_or(0);
        let way = |from: i64| Some(self.middle(from + half, from + 2 * half)? - self.middle(from, from + half)?);
        let turn = |i: i64| Some(turn_deg(way(i - 2 * half)?, way(i)?));
        (0..n).map(|i| turn(i).unwrap_or(0.0)).collect()
    }
}
