//! What may happen in a kitchen.

use serde::{Deserialize, Serialize};
use strum::{EnumString, IntoStaticStr, VariantArray};

/// What may happen in a kitchen, but for a burn of the skin.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Serialize,
    Deserialize,
    IntoStaticStr,
    EnumString,
    VariantArray,
)]
#[serde(rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
pub enum EmergencyKind {
    /// A cut that bleeds.
    Cut,
    /// The mouth or the tongue is burnt.
    BurntMouth,
    /// A pan or its oil burns.
    PanFire,
    /// Something burns in the oven, or an appliance does.
    OvenFire,
    /// Hair or clothes burn.
    ClothesFire,
    /// Something else burns.
    Fire,
    /// It smells of gas.
    Gas,
    /// Somebody chokes.
    Choking,
    /// An allergic reaction.
    Allergy,
    /// An electric shock.
    Shock,
    /// Something was swallowed that is no food.
    Swallowed,
    /// Something is in the eye, or a strong cleaner on the skin.
    Splash,
    /// Somebody has collapsed, or does not breathe.
    Collapse,
    /// Help is wanted, and nobody says for what.
    Call,
}
