//! Neckline and binding arithmetic.
#![forbid(unsafe_code)]
