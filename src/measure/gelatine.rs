//! Gelatine by its strength.

use std::sync::OnceLock;

use serde::Deserialize;

#[derive(Deserialize)]
struct File {
    jelly: Jelly,
    powder: Powder,
    kind: Vec<Gelatine>,
}

/// What a leaf sets.
#[derive(Debug, Deserialize)]
pub struct Jelly {
    /// Millilitres for one leaf.
    pub ml_for_a_leaf: f64,
    /// Where that comes from.
    pub source: String,
}

/// What powder sets.
#[derive(Debug, Deserialize)]
pub struct Powder {
    /// Millilitres for one gram.
    pub ml_for_a_gram: f64,
    /// Where that comes from.
    pub source: String,
}

/// One kind of gelatine.
#[derive(Debug, Clone, Deserialize)]
pub struct Gelatine {
    /// Its name.
    pub name: String,
    /// Its strength in degrees Bloom.
    pub bloom: f64,
    /// What a leaf of it weighs, where it comes in leaves.
    pub leaf_g: Option<f64>,
    /// Where that comes from.
    pub source: String,
}

fn table() -> &'static File {
    static TABLE: OnceLock<File> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../shared/tables/gelatine.toml"))
            .expect("the shipped table of gelatine is read by a test of every build")
    })
}

impl Jelly {
    /// As practised.
    pub fn usual() -> &'static Self {
        &table().jelly
    }
}

impl Powder {
    /// As practised.
    pub fn usual() -> &'static Self {
        &table().powder
    }
}

impl Gelatine {
    /// Every kind, the weakest leaf first.
    pub fn all() -> &'static [Self] {
        &table().kind
    }

    /// The kind of this name.
    pub fn find(name: &str) -> Option<&'static Self> {
        Self::all().iter().find(|kind| kind.name == name.trim())
    }
}
