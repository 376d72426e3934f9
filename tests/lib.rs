//! Checks of Lieflat against references from outside the project, and its benchmarks.
