//! Parts of a colour.

/// The nearest byte.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it is held between 0 and 255")]
pub(crate) fn byte(value: f64) -> Option<u8> {
    value.is_finite().then(|| value.round().clamp(0.0, 255.0) as u8)
}
