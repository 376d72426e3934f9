//! The page's behaviour.
