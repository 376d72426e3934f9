//! Putting things in order by a number: one way for all, since each way weighs kilobytes.

use std::collections::BinaryHeap;

/// A whole number that lies among others as the number does among others, as `f64::total_cmp` has it.
fn rank(number: f64) -> i64 {
    let bits = number.to_bits().cast_signed();
    // Below zero the larger bits are the lesser number.
    if bits < 0 { bits ^ i64::MAX } else { bits }
}

/// The places of some numbers, from the least to the largest; equal ones in their order. By a heap: what sorts a slice weighs more.
pub(crate) fn order(numbers: &[f64]) -> Vec<usize> {
    let ranked: BinaryHeap<(i64, usize)> = numbers.iter().map(|number| rank(*number)).zip(0..).collect();
    ranked.into_sorted_vec().into_iter().map(|(_, i)| i).collect()
}

/// Numbers from the least to the largest.
pub(crate) fn sorted(numbers: &[f64]) -> Vec<f64> {
    order(numbers).into_iter().filter_map(|i| numbers.get(i).copied()).collect()
}

/// Things by a number of each, from the least to the largest.
pub(crate) fn sorted_by<T>(things: Vec<T>, number: impl Fn(&T) -> f64) -> Vec<T> {
    let numbers: Vec<f64> = things.iter().map(number).collect();
    let mut things: Vec<Option<T>> = things.into_iter().map(Some).collect();
    order(&numbers).into_iter().filter_map(|i| things.get_mut(i)?.take()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_put_in_order_and_equal_ones_stay_in_theirs() {
        let numbers =
            [3.0, -0.0, 0.0, -7.5, 3.0, f64::INFINITY, f64::NEG_INFINITY, 1e-300, -1e-300, f64::NAN, -f64::NAN];
        let mut wanted: Vec<usize> = (0..numbers.len()).collect();
        wanted.sort_by(|a, b| numbers[*a].total_cmp(&numbers[*b]));
        assert_eq!(order(&numbers), wanted, "as the standard library orders them");
    }
}
