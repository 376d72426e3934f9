//! A photo of a pattern piece beside a known rectangle: its edge in millimetres, and how far that may be off.
#![forbid(unsafe_code)]

pub mod messages;
