//! From the lines of a pattern that is brought to a neckline's edge: outlines, corners, notches, mirrors, sizes.
//!
//! Nothing here knows what kind of file lines came from. A reader gives a [`Drawing`]; the person points at a line of it and at two
//! ends; what comes of it is the half neckline as a brief holds it.
//!
//! ```text
//! Drawing -> tiles (pages made one) -> chain (ends that meet, dashes) -> notch (passed over) -> corner -> Outline
//! Outline + ends -> smooth (sampled stretches) -> edge (half or whole, the centre line, the brief's frame) -> Edge
//! Edge -> sizes (the same of every size)
//! ```
#![forbid(unsafe_code)]

mod chain;
mod corner;
pub mod drawing;
mod edge;
mod notch;
mod order;
mod outline;
mod run;
mod sizes;
mod smooth;
mod suggest;
mod tiles;

pub use corner::Corner;
pub use drawing::{Drawing, Layer, Line, LineOf, Page, Style, filled};
pub use edge::{CentreFrom, Chosen, Down, Edge, NoEdge, edge};
pub use outline::{Outline, path_of};
pub use run::Run;
pub use sizes::{Size, sizes};
pub use suggest::{Suggested, suggested};
pub use tiles::{Laid, lay, lay_by_hand};
