//! Numbers put in order.

/// The numbers, least first. Each goes to its place among those before it: they are few, and a general sort weighs more in the page's
/// download than all that this core puts in order.
pub(crate) fn in_order(numbers: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut ordered: Vec<f64> = Vec::new();
    for number in numbers {
        let at = ordered.partition_point(|other| other.total_cmp(&number).is_le());
        ordered.insert(at, number);
    }
    ordered
}

#[cfg(test)]
mod tests {
    use super::in_order;

    #[test]
    fn each_goes_to_its_place() {
        let ordered = in_order([3.0, -1.0, 2.0, 2.0, f64::INFINITY, -0.0, 0.0].into_iter());
        assert_eq!(ordered, [-1.0, 0.0, 0.0, 2.0, 2.0, 3.0, f64::INFINITY]);
        assert!(ordered[1].is_sign_negative(), "as total order has it");
        assert!(in_order(core::iter::empty()).is_empty(), "none stay none");
    }
}
