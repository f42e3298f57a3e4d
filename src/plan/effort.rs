//! How hard a plan is thought about.

/// How much is tried before the best that was found is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effort {
    /// Most dinners of six dishes are proven; it may take a second or two.
    Whole,
    /// An answer while the cook waits: an order that is known is made better.
    AtOnce,
}
