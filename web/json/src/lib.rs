//! JSON text to values and back for the page's modules.
//!
//! A general-purpose library words every problem and writes every number to its last bit. Here a page has checked what it
//! sends, and each byte is downloaded by every visitor: problems are told in a word, and numbers read and written by the libraries
//! with the smallest tables. Measured on the page's module, that is more than twenty kilobytes less to download than the lightest
//! pair of libraries for values and text, with which the module is over its bar.
#![forbid(unsafe_code)]

mod read;
mod write;

pub use read::{Fit, Wrong, read};
pub use write::{Unwritten, write};
