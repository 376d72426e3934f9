//! Pattern files: the lines of an SVG, a DXF or a PDF, and the edge that is taken from them.
//!
//! ```text
//! bytes -> kind -> svg | dxf | pdf -> Drawing (lines, layers, styles, pages) -> lieflat-bring: outline, corners, edge, sizes
//! ```
//!
//! [`Room`] holds one opened file and answers what the page asks ([`messages`]); in the browser it does so in a Worker of its own
//! (`worker`), which the page ends when it likes. Nothing is kept and nothing is sent. No file, however broken, makes it panic:
//! what cannot be read is refused with a code and the figures that its words name.
//!
//! The page fetches one of two modules: PDF by itself (the feature `pdf`), SVG and DXF together (`text`).
#![cfg_attr(not(target_arch = "wasm32"), forbid(unsafe_code))]

mod byte;
#[cfg(feature = "text")]
pub mod dxf;
mod kind;
mod known;
pub mod messages;
#[cfg(feature = "pdf")]
pub mod pdf;
pub mod room;
#[cfg(feature = "text")]
mod round;
mod shown;
#[cfg(feature = "text")]
pub mod svg;
#[cfg(target_arch = "wasm32")]
pub mod worker;

pub use room::Room;
