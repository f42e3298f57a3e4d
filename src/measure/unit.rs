//! Units: their sizes, symbols, and the words that cooks use for them.

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::mass::{GRAMS_PER_OUNCE, GRAMS_PER_POUND};
use super::{MeasureError, Region};

/// What a unit measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Grams and their kin.
    Mass,
    /// Millilitres and their kin.
    Volume,
    /// Pieces.
    Count,
}

impl Kind {
    /// In words, for messages.
    pub fn word(self) -> &'static str {
        match self {
            Self::Mass => "mass",
            Self::Volume => "volume",
            Self::Count => "count",
        }
    }
}

/// A unit of amount. Cups, spoons, pints and fluid ounces know whose they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    /// mg
    Milligram,
    /// g
    Gram,
    /// kg
    Kilogram,
    /// oz (avoirdupois)
    Ounce,
    /// lb (avoirdupois)
    Pound,
    /// stone: fourteen pounds
    Stone,
    /// ml
    Millilitre,
    /// cl
    Centilitre,
    /// dl
    Decilitre,
    /// l
    Litre,
    /// The Japanese cup of 200 ml.
    JapaneseCup,
    /// The cup of a rice cooker, 180 ml: one go.
    RiceCup,
    /// tsp
    Teaspoon(Region),
    /// dessertspoon: two teaspoons
    Dessertspoon(Region),
    /// tbsp
    Tablespoon(Region),
    /// fl oz
    FluidOunce(Region),
    /// cup
    Cup(Region),
    /// gill: a quarter of a pint
    Gill(Region),
    /// pint
    Pint(Region),
    /// quart
    Quart(Region),
    /// gallon
    Gallon(Region),
    /// A pinch: about a sixteenth of a teaspoon.
    Pinch,
    /// A dash: about an eighth of a teaspoon.
    Dash,
    /// A drop: about a twentieth of a millilitre.
    Drop,
    /// A smidgen: about a thirty-second of a teaspoon.
    Smidgen,
    /// A splash: about a teaspoon.
    Splash,
    /// A glug: about a tablespoon.
    Glug,
    /// A knob, of butter: about fifteen grams.
    Knob,
    /// A handful: about thirty grams of leaves.
    Handful,
    /// So many of a thing.
    Count(Thing),
}

/// What one is called where things are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Thing {
    /// Just a number: 2 lemons are two pieces of lemon.
    Piece,
    /// egg
    Egg,
    /// yolk
    Yolk,
    /// egg white
    White,
    /// clove
    Clove,
    /// sheet
    Sheet,
    /// packet, sachet
    Packet,
    /// slice
    Slice,
    /// sprig
    Sprig,
    /// bunch
    Bunch,
    /// stalk, stick of celery
    Stalk,
    /// leaf
    Leaf,
    /// head, bulb
    Head,
    /// tin, can
    Tin,
    /// jar
    Jar,
    /// bottle
    Bottle,
    /// cube
    Cube,
    /// block
    Block,
    /// rasher
    Rasher,
    /// fillet
    Fillet,
    /// ball
    Ball,
    /// bag
    Bag,
    /// box, carton
    Carton,
    /// ear, cob
    Ear,
    /// pod
    Pod,
    /// loaf
    Loaf,
    /// strip
    Strip,
    /// envelope of powdered gelatine
    Envelope,
    /// pot, tub
    Pot,
    /// breast
    Breast,
    /// thigh
    Thigh,
    /// floret
    Floret,
    /// wedge
    Wedge,
    /// root, thumb of ginger
    Thumb,
    /// stick: of butter, celery or cinnamon
    Stick,
    /// cake, of pressed yeast
    Cake,
}

/// (symbol, singular, plural, other spellings)
type Names = (
    &'static str,
    &'static str,
    &'static str,
    &'static [&'static str],
);

impl Thing {
    /// All of them.
    pub const ALL: [Self; 36] = [
        Self::Piece,
        Self::Egg,
        Self::Yolk,
        Self::White,
        Self::Clove,
        Self::Sheet,
        Self::Packet,
        Self::Slice,
        Self::Sprig,
        Self::Bunch,
        Self::Stalk,
        Self::Leaf,
        Self::Head,
        Self::Tin,
        Self::Jar,
        Self::Bottle,
        Self::Cube,
        Self::Block,
        Self::Rasher,
        Self::Fillet,
        Self::Ball,
        Self::Bag,
        Self::Carton,
        Self::Ear,
        Self::Pod,
        Self::Loaf,
        Self::Strip,
        Self::Envelope,
        Self::Pot,
        Self::Breast,
        Self::Thigh,
        Self::Floret,
        Self::Wedge,
        Self::Thumb,
        Self::Stick,
        Self::Cake,
    ];

    fn names(self) -> Names {
        match self {
            Self::Piece => (
                "piece",
                "piece",
                "pieces",
                &["pcs", "pc", "ea", "each", "whole"],
            ),
            Self::Egg => ("egg", "egg", "eggs", &[]),
            Self::Yolk => ("yolk", "egg yolk", "egg yolks", &["yolks"]),
            Self::White => ("white", "egg white", "egg whites", &["whites"]),
            Self::Clove => ("clove", "clove", "cloves", &[]),
            Self::Sheet => ("sheet", "sheet", "sheets", &[]),
            Self::Packet => (
                "packet",
                "packet",
                "packets",
                &[
                    "pkt", "pkts", "pkg", "pkgs", "pack", "packs", "package", "packages", "sachet",
                    "sachets",
                ],
            ),
            Self::Slice => ("slice", "slice", "slices", &[]),
            Self::Sprig => ("sprig", "sprig", "sprigs", &[]),
            Self::Bunch => ("bunch", "bunch", "bunches", &[]),
            Self::Stalk => (
                "stalk",
                "stalk",
                "stalks",
                &["rib", "ribs", "stem", "stems"],
            ),
            Self::Leaf => ("leaf", "leaf", "leaves", &[]),
            Self::Head => ("head", "head", "heads", &["bulb", "bulbs"]),
            Self::Tin => ("tin", "tin", "tins", &["can", "cans"]),
            Self::Jar => ("jar", "jar", "jars", &[]),
            Self::Bottle => ("bottle", "bottle", "bottles", &[]),
            Self::Cube => ("cube", "cube", "cubes", &[]),
            Self::Block => ("block", "block", "blocks", &["bar", "bars"]),
            Self::Rasher => ("rasher", "rasher", "rashers", &[]),
            Self::Fillet => ("fillet", "fillet", "fillets", &["filet", "filets"]),
            Self::Ball => ("ball", "ball", "balls", &[]),
            Self::Bag => ("bag", "bag", "bags", &[]),
            Self::Carton => (
                "carton",
                "carton",
                "cartons",
                &["box", "boxes", "container", "containers"],
            ),
            Self::Ear => ("ear", "ear", "ears", &["cob", "cobs"]),
            Self::Pod => ("pod", "pod", "pods", &[]),
            Self::Loaf => ("loaf", "loaf", "loaves", &[]),
            Self::Strip => ("strip", "strip", "strips", &[]),
            Self::Envelope => ("envelope", "envelope", "envelopes", &[]),
            Self::Pot => ("pot", "pot", "pots", &["tub", "tubs"]),
            Self::Breast => ("breast", "breast", "breasts", &[]),
            Self::Thigh => ("thigh", "thigh", "thighs", &[]),
            Self::Floret => ("floret", "floret", "florets", &[]),
            Self::Wedge => ("wedge", "wedge", "wedges", &[]),
            Self::Thumb => ("thumb", "thumb", "thumbs", &[]),
            Self::Stick => ("stick", "stick", "sticks", &[]),
            Self::Cake => ("cake", "cake", "cakes", &[]),
        }
    }
}

impl Unit {
    /// Units without a region and without things that are counted.
    const PLAIN: [Self; 20] = [
        Self::Milligram,
        Self::Gram,
        Self::Kilogram,
        Self::Ounce,
        Self::Pound,
        Self::Stone,
        Self::Millilitre,
        Self::Centilitre,
        Self::Decilitre,
        Self::Litre,
        Self::JapaneseCup,
        Self::RiceCup,
        Self::Pinch,
        Self::Dash,
        Self::Drop,
        Self::Smidgen,
        Self::Splash,
        Self::Glug,
        Self::Knob,
        Self::Handful,
    ];

    /// The measures of one region.
    pub const fn of_region(region: Region) -> [Self; 9] {
        [
            Self::Teaspoon(region),
            Self::Dessertspoon(region),
            Self::Tablespoon(region),
            Self::FluidOunce(region),
            Self::Cup(region),
            Self::Gill(region),
            Self::Pint(region),
            Self::Quart(region),
            Self::Gallon(region),
        ]
    }

    /// Every unit: the plain ones, each region's measures, and the things that are counted.
    pub fn all() -> impl Iterator<Item = Self> {
        Self::PLAIN
            .into_iter()
            .chain(Region::ALL.into_iter().flat_map(Self::of_region))
            .chain(Thing::ALL.into_iter().map(Self::Count))
    }

    /// The units as one region has them, and the things that are counted.
    pub fn of_here(region: Region) -> impl Iterator<Item = Self> {
        Self::PLAIN
            .into_iter()
            .chain(Self::of_region(region))
            .chain(Thing::ALL.into_iter().map(Self::Count))
    }

    /// What it measures.
    pub fn kind(self) -> Kind {
        match self {
            Self::Milligram
            | Self::Gram
            | Self::Kilogram
            | Self::Ounce
            | Self::Pound
            | Self::Stone
            | Self::Knob
            | Self::Handful => Kind::Mass,
            Self::Count(_) => Kind::Count,
            _ => Kind::Volume,
        }
    }

    /// Its size in grams, millilitres or pieces. Exact by definition unless `is_approximate`.
    ///
    /// Mass, US volume: NIST SP 811 appendix B and Handbook 44 appendix C. UK volume: Weights and Measures Act 1985,
    /// schedule 1. Kitchen spoons of 5 and 15 ml (Australia 20), cup of 250 ml and the half-pint UK cup: common
    /// practice. A metric or Australian pint, quart, gallon and fluid ounce is the imperial one.
    pub fn size(self) -> f64 {
        const US_TSP: f64 = 4.928_921_593_75;
        const UK_FL_OZ: f64 = 28.413_062_5;
        match self {
            Self::Milligram => 0.001,
            Self::Gram | Self::Millilitre | Self::Count(_) => 1.0,
            Self::Kilogram | Self::Litre => 1000.0,
            Self::Ounce => GRAMS_PER_OUNCE,
            Self::Pound => GRAMS_PER_POUND,
            Self::Stone => GRAMS_PER_POUND * 14.0,
            Self::JapaneseCup => 200.0,
            Self::RiceCup => 180.0,
            Self::Centilitre => 10.0,
            Self::Decilitre => 100.0,
            Self::Teaspoon(Region::Us) => US_TSP,
            Self::Dessertspoon(Region::Us) => US_TSP * 2.0,
            Self::Tablespoon(Region::Us) => 14.786_764_781_25,
            Self::FluidOunce(Region::Us) => 29.573_529_562_5,
            Self::Cup(Region::Us) => 236.588_236_5,
            Self::Gill(Region::Us) => 118.294_118_25,
            Self::Gill(_) => 142.065_312_5,
            Self::Pint(Region::Us) => 473.176_473,
            Self::Quart(Region::Us) => 946.352_946,
            Self::Gallon(Region::Us) => 3_785.411_784,
            Self::Teaspoon(_) => 5.0,
            Self::Dessertspoon(_) => 10.0,
            Self::Tablespoon(Region::Au) => 20.0,
            Self::Tablespoon(_) => 15.0,
            Self::FluidOunce(_) => UK_FL_OZ,
            Self::Cup(Region::Uk) => 284.130_625,
            Self::Cup(_) => 250.0,
            Self::Pint(_) => 568.261_25,
            Self::Quart(_) => 1_136.522_5,
            Self::Gallon(_) => 4_546.09,
            // Common practice, no source; all marked approximate.
            Self::Pinch => 5.0 / 16.0,
            Self::Dash => 5.0 / 8.0,
            Self::Drop => 0.05,
            Self::Smidgen => 5.0 / 32.0,
            Self::Splash => 5.0,
            Self::Glug | Self::Knob => 15.0,
            Self::Handful => 30.0,
        }
    }

    /// True for measures by feel: a pinch, a dash, a knob. Their sizes are common practice, said with 'about'.
    pub fn is_approximate(self) -> bool {
        matches!(
            self,
            Self::Pinch
                | Self::Dash
                | Self::Drop
                | Self::Smidgen
                | Self::Splash
                | Self::Glug
                | Self::Knob
                | Self::Handful
        )
    }

    /// Whose measure it is, where that matters.
    pub fn region(self) -> Option<Region> {
        match self {
            Self::Teaspoon(r)
            | Self::Dessertspoon(r)
            | Self::Tablespoon(r)
            | Self::FluidOunce(r)
            | Self::Cup(r)
            | Self::Gill(r)
            | Self::Pint(r)
            | Self::Quart(r)
            | Self::Gallon(r) => Some(r),
            _ => None,
        }
    }

    /// The same measure in another region; units without one stay as they are.
    pub fn in_region(self, region: Region) -> Self {
        match self {
            Self::Teaspoon(_) => Self::Teaspoon(region),
            Self::Dessertspoon(_) => Self::Dessertspoon(region),
            Self::Tablespoon(_) => Self::Tablespoon(region),
            Self::FluidOunce(_) => Self::FluidOunce(region),
            Self::Cup(_) => Self::Cup(region),
            Self::Gill(_) => Self::Gill(region),
            Self::Pint(_) => Self::Pint(region),
            Self::Quart(_) => Self::Quart(region),
            Self::Gallon(_) => Self::Gallon(region),
            other => other,
        }
    }

    fn names(self) -> Names {
        match self {
            Self::Milligram => (
                "mg",
                "milligram",
                "milligrams",
                &["milligramme", "milligrammes"],
            ),
            Self::Gram => (
                "g",
                "gram",
                "grams",
                &["gr", "gm", "gms", "grm", "gramme", "grammes"],
            ),
            Self::Kilogram => (
                "kg",
                "kilogram",
                "kilograms",
                &["kilo", "kilos", "kgs", "kilogramme", "kilogrammes"],
            ),
            Self::Ounce => ("oz", "ounce", "ounces", &["ozs"]),
            Self::Pound => ("lb", "pound", "pounds", &["lbs", "#"]),
            Self::Stone => ("st", "stone", "stone", &["stones"]),
            Self::JapaneseCup => (
                "japanese cup",
                "Japanese cup",
                "Japanese cups",
                &["japanese cups"],
            ),
            Self::RiceCup => (
                "rice cooker cup",
                "rice cooker cup",
                "rice cooker cups",
                &[],
            ),
            Self::Millilitre => (
                "ml",
                "millilitre",
                "millilitres",
                &["mls", "milliliter", "milliliters", "mil", "mils", "cc"],
            ),
            Self::Centilitre => (
                "cl",
                "centilitre",
                "centilitres",
                &["centiliter", "centiliters"],
            ),
            Self::Decilitre => (
                "dl",
                "decilitre",
                "decilitres",
                &["deciliter", "deciliters"],
            ),
            Self::Litre => ("l", "litre", "litres", &["ltr", "lt", "liter", "liters"]),
            Self::Teaspoon(_) => (
                "tsp",
                "teaspoon",
                "teaspoons",
                &["tsps", "teaspoonful", "teaspoonfuls", "teaspoonsful"],
            ),
            Self::Dessertspoon(_) => (
                "dsp",
                "dessertspoon",
                "dessertspoons",
                &["dstspn", "dessertspoonful", "dessertspoonfuls"],
            ),
            Self::Tablespoon(_) => (
                "tbsp",
                "tablespoon",
                "tablespoons",
                &[
                    "tbsps",
                    "tbs",
                    "tbl",
                    "tblsp",
                    "tbspn",
                    "tablespoonful",
                    "tablespoonfuls",
                    "tablespoonsful",
                ],
            ),
            Self::FluidOunce(_) => (
                "fl oz",
                "fluid ounce",
                "fluid ounces",
                &["floz", "fl. oz", "fl ozs", "fl ounce", "fl ounces"],
            ),
            Self::Cup(_) => ("cup", "cup", "cups", &["cupful", "cupfuls"]),
            Self::Gill(_) => ("gill", "gill", "gills", &[]),
            Self::Pint(_) => ("pint", "pint", "pints", &["pt", "pts"]),
            Self::Quart(_) => ("qt", "quart", "quarts", &["qts"]),
            Self::Gallon(_) => ("gal", "gallon", "gallons", &["gals"]),
            Self::Pinch => ("pinch", "pinch", "pinches", &[]),
            Self::Dash => ("dash", "dash", "dashes", &[]),
            Self::Drop => ("drop", "drop", "drops", &[]),
            Self::Smidgen => ("smidgen", "smidgen", "smidgens", &["smidge", "smidgeon"]),
            Self::Splash => ("splash", "splash", "splashes", &[]),
            Self::Glug => ("glug", "glug", "glugs", &[]),
            Self::Knob => ("knob", "knob", "knobs", &[]),
            Self::Handful => ("handful", "handful", "handfuls", &[]),
            Self::Count(thing) => thing.names(),
        }
    }

    /// Its symbol, without its region: `g`, `tsp`, `fl oz`, `cup`, `egg`.
    pub fn symbol(self) -> &'static str {
        self.names().0
    }
    /// Its spoken name for one: 'gram', 'fluid ounce'.
    pub fn singular(self) -> &'static str {
        self.names().1
    }
    /// Its spoken name for several: 'grams', 'fluid ounces'.
    pub fn plural(self) -> &'static str {
        self.names().2
    }
    /// Every way to write it, the symbol first.
    pub fn spellings(self) -> impl Iterator<Item = &'static str> {
        let (symbol, singular, plural, more) = self.names();
        [symbol, singular, plural]
            .into_iter()
            .chain(more.iter().copied())
    }
    /// 'a' or 'an', as its name begins.
    pub fn article(self) -> &'static str {
        if self.singular().starts_with(['a', 'e', 'i', 'o']) {
            "an"
        } else {
            "a"
        }
    }
    /// Its symbol with its region in front, so that it reads back as itself: `us cup`.
    pub fn full_symbol(self) -> String {
        self.region().map_or_else(
            || self.symbol().to_owned(),
            |r| format!("{} {}", r.symbol(), self.symbol()),
        )
    }

    /// Reads a unit by symbol, name or spelling; a bare cup or spoon is the region's own.
    ///
    /// # Errors
    /// [`MeasureError::UnknownUnit`], with the nearest spelling when one is near.
    pub fn find(text: &str, region: Region) -> Result<Self, MeasureError> {
        let trimmed = text.trim().trim_end_matches('.');
        // One letter is the one place where capitals matter: T is a tablespoon, t a teaspoon.
        match trimmed {
            "T" => return Ok(Self::Tablespoon(region)),
            "t" => return Ok(Self::Teaspoon(region)),
            "c" | "C" => return Ok(Self::Cup(region)),
            _ => {}
        }
        let word = trimmed.to_lowercase().replace(['.', '-'], " ");
        let word = word.split_whitespace().collect::<Vec<_>>().join(" ");
        if let Some((first, rest)) = word.split_once(' ')
            && let Some(said) = Region::find(first)
            && let Some(unit) = Self::exact(rest, said)
        {
            return Ok(unit);
        }
        Self::exact(&word, region).ok_or_else(|| MeasureError::UnknownUnit {
            unit: trimmed.to_owned(),
            near: Self::near(&word),
        })
    }

    fn exact(word: &str, region: Region) -> Option<Self> {
        if word.is_empty() {
            return None;
        }
        Self::of_here(region).find(|unit| unit.spellings().any(|name| name == word))
    }

    /// The nearest spelling of a unit, when one is near enough to be meant.
    fn near(word: &str) -> Option<String> {
        Self::of_here(Region::Metric)
            .flat_map(|unit| {
                let (symbol, singular, plural, _) = unit.names();
                [symbol, singular, plural]
            })
            .map(|name| (strsim::jaro_winkler(word, name), name))
            .filter(|&(score, _)| score >= 0.75)
            .max_by(|a, b| a.0.total_cmp(&b.0).then_with(|| b.1.len().cmp(&a.1.len())))
            .map(|(_, name)| name.to_owned())
    }

    /// How many of `to` one of this is.
    ///
    /// # Errors
    /// [`MeasureError::Kinds`] when they measure different things.
    pub fn factor_to(self, to: Self) -> Result<f64, MeasureError> {
        if self.kind() == to.kind() {
            Ok(self.size() / to.size())
        } else {
            Err(MeasureError::Kinds {
                from: self.singular().to_owned(),
                from_kind: self.kind().word(),
                to: to.singular().to_owned(),
                to_kind: to.kind().word(),
            })
        }
    }
}

impl Serialize for Unit {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.full_symbol())
    }
}

impl<'de> Deserialize<'de> for Unit {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::find(&text, Region::default()).map_err(serde::de::Error::custom)
    }
}
