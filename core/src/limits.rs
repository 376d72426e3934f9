//! What a number of a brief may be. The limits themselves stand beside their fields.

/// The least and the greatest number that a field takes, both of them taken.
pub(crate) type Limits = [f64; 2];
