//! Putting things in order by a number: one way for all, since each way weighs kilobytes.

/// The places of some numbers, from the least to the largest; equal ones in their order.
pub(crate) fn order(numbers: &[f64]) -> Vec<usize> {
    let mut keyed: Vec<(f64, usize)> = numbers.iter().copied().zip(0..).collect();
    keyed.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    keyed.into_iter().map(|(_, i)| i).collect()
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
