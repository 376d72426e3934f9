//! From the lines of a pattern that is brought to a neckline's edge: outlines, corners, notches, mirrors, sizes.
//!
//! Nothing here knows what kind of file lines came from. A reader gives a [`Drawing`]; the person points at a line of it and at two ends.
#![forbid(unsafe_code)]

pub mod drawing;

pub use drawing::{Drawing, Layer, Line, LineOf, Page, Style};
