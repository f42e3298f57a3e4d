//! One ingredient line: amount, name, note, alternatives, what more is needed, and what of it is unsure.

use crate::measure::{Amount, Kind, Region, Thing, Unit, ingredients, singular};

use super::words::{Word, number, words};

/// What a line says.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Item {
    pub(super) part: Option<String>,
    /// The line as it stands in the source.
    pub(super) source: String,
    /// The amount as a formula file takes it: `2 1/2 cups`, `3 (200 g)`, `to taste`; none where the source gives none.
    pub(super) amount: Option<String>,
    pub(super) name: String,
    pub(super) note: Vec<String>,
    pub(super) or: Vec<String>,
    pub(super) extra: Option<String>,
    pub(super) optional: bool,
    /// What is not sure, in a sentence.
    pub(super) unsure: Vec<String>,
    /// Percent of the flour, where the source gives nothing else.
    pub(super) percent: Option<f64>,
}

/// Spellings that the reader of amounts does not know, and how it writes them. Whole words only.
#[rustfmt::skip]
const SPELT: [(&str, &str); 66] = [
    ("gr", "g"), ("grs", "g"), ("gms", "g"), ("gm", "g"), ("grammes", "g"), ("gramme", "g"), ("kilo", "kg"),
    ("kilos", "kg"), ("kgs", "kg"), ("mls", "ml"), ("tbsps", "tbsp"), ("tblsp", "tbsp"), ("tbs", "tbsp"),
    ("tblspn", "tbsp"), ("tsps", "tsp"), ("tspn", "tsp"), ("ts", "tsp"), ("lbs", "lb"), ("ozs", "oz"),
    ("el", "tbsp"), ("tl", "tsp"), ("teaspon", "tsp"), ("teaspons", "tsp"), ("tabelspoon", "tbsp"),
    ("tabelspoons", "tbsp"), ("tablespon", "tbsp"), ("tablespons", "tbsp"), ("tablspoons", "tbsp"),
    ("teasponful", "tsp"), ("teacup", "gill"), ("teacupful", "gill"), ("teacups", "gills"), ("pinchs", "pinches"),
    ("litters", "litres"), ("teasp", "tsp"), ("teasps", "tsp"), ("tablesp", "tbsp"), ("tbspn", "tbsp"),
    ("tblsps", "tbsp"), ("tbl", "tbsp"), ("dessertsp", "dessertspoon"), ("dsp", "dessertspoon"), ("dstsp", "dessertspoon"),
    ("gramms", "g"), ("gramm", "g"), ("liter", "litre"), ("ltr", "litre"), ("ltrs", "litres"), ("lt", "litre"),
    ("spoon", "tbsp"), ("spoons", "tbsp"), ("spoonful", "tbsp"), ("spoonfuls", "tbsp"), ("msp", "pinch"),
    ("prise", "pinch"), ("teacupfuls", "gills"), ("kgm", "kg"), ("millilitres", "ml"),
    ("pck", "packet"), ("pkt", "packet"), ("pkts", "packets"), ("pckg", "packet"), ("coffeespoon", "tsp"), ("coffeespoons", "tsp"), ("soupspoons", "tbsp"), ("soupspoon", "tbsp"),
];

/// Two words for one measure.
#[rustfmt::skip]
const SPELT_TWO: [(&str, &str, &str); 12] = [
    ("soup", "spoon", "tbsp"), ("soup", "spoons", "tbsp"), ("dessert", "spoon", "dessertspoon"),
    ("dessert", "spoons", "dessertspoons"), ("tea", "spoon", "tsp"), ("tea", "spoons", "tsp"),
    ("table", "spoon", "tbsp"), ("table", "spoons", "tbsp"), ("coffee", "spoon", "tsp"),
    ("coffee", "spoons", "tsp"), ("fluid", "oz", "fl oz"), ("breakfast", "cup", "cup"),
];

/// Words of size before a name, which are no part of it.
#[rustfmt::skip]
const SIZE: [&str; 20] = [
    "large", "medium", "small", "medium-sized", "big", "extra-large", "good-sized", "heaped", "heaping", "level",
    "scant", "generous", "rounded", "very", "lg", "lge", "med", "sm", "sml", "xl",
];

/// What is done to an ingredient before it goes in: before the name it is a note.
#[rustfmt::skip]
const DONE: [&str; 54] = [
    "chpd", "choped", "dicd", "slcd",
    "chopped", "diced", "sliced", "grated", "sifted", "melted", "softened", "crushed", "minced", "peeled", "beaten",
    "toasted", "finely", "roughly", "coarsely", "thinly", "thickly", "freshly", "lightly", "cubed", "shredded",
    "drained", "rinsed", "washed", "trimmed", "halved", "quartered", "crumbled", "packed", "boneless", "skinless",
    "cooked", "pitted", "deseeded", "stoned", "squeezed", "chilled", "heaping", "firmly", "loosely", "separated",
    "mashed", "soaked", "torn", "picked", "scrubbed", "warmed", "cold", "lukewarm", "ripe",
];

/// Where a name ends and a note begins.
#[rustfmt::skip]
const ENDS: [&str; 24] = [
    ", ", "; ", " - ", " – ", " — ", " to serve", " for ", " to taste", " plus ", " + ", " to garnish",
    " as needed", " to finish", " at room temperature", " cut into", " if you ", " to cover", " mixed with",
    " dissolved in", " soaked in", " made with", " made from", " blended with", " thinned with",
];

/// Reads a line. A bare cup is the region's own.
pub(super) fn read(text: &str, region: Region) -> Item {
    let source = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut item = Item {
        source: source.clone(),
        ..Item::default()
    };
    let mut line = plain(&source);
    take_optional(&mut line, &mut item);
    take_words(&mut line);
    if !begins_with_amount(&line) {
        line = spelt(&line, &mut item.unsure);
    }
    line = turned(&line);
    take_extra(&mut line, &mut item);
    line = spelt(
        line.trim().trim_end_matches([',', ';']).trim(),
        &mut item.unsure,
    );
    // 'A little nutmeg' is no number of them.
    let little = ["a little ", "little ", "a bit of "]
        .iter()
        .any(|lead| strip(&line, lead).is_some());
    match Amount::parse_prefix(&line, region) {
        _ if little => without_amount(&mut item, &line, region),
        Ok((amount, rest)) => with_amount(&mut item, &line, amount, rest, region),
        Err(_) => without_amount(&mut item, &line, region),
    }
    finish(&mut item);
    item
}

/// What tells that a thing may be left out, at the end of a line or in brackets.
const MAY: [&str; 18] = [
    "optional",
    "optionally",
    "if you like",
    "if liked",
    "if using",
    "if desired",
    "if you have",
    "if wanted",
    "if wished",
    "if you wish",
    "if available",
    "if you want",
    "if you can get",
    "if you fancy",
    "if you find",
    "if u want",
    "if u like",
    "if u have",
];

/// Takes off '(optional)', ', if you like' and their kin; what else stands in such brackets is a note.
fn take_optional(line: &mut String, item: &mut Item) {
    for lead in [
        "optional: ",
        "optional - ",
        "optionally ",
        "optional ",
        "opt: ",
        "opt. ",
    ] {
        if let Some(rest) = strip(line, lead) {
            item.optional = true;
            *line = rest.to_owned();
        }
    }
    let lower = line.to_lowercase();
    if lower.len() != line.len() {
        return;
    }
    let mut from = 0;
    while let Some(open) = lower[from..].find('(').map(|n| from + n) {
        let Some(close) = lower[open..].find(')').map(|n| open + n) else {
            break;
        };
        let inside = &lower[open + 1..close];
        if MAY
            .iter()
            .any(|may| inside.starts_with(may) || inside.ends_with(may))
        {
            item.optional = true;
            let note = line[open + 1..close].to_owned();
            let note = MAY[..2].iter().fold(note, |note, word| {
                find(&note, word).map_or(note.clone(), |at| {
                    format!("{}{}", &note[..at], &note[at + word.len()..])
                })
            });
            let note = note.trim_matches([',', ':', ';', '-', '–', ' ', '.', '!']);
            if !note.is_empty() {
                item.note.push(note.to_owned());
            }
            line.replace_range(open..=close, "");
            return;
        }
        from = close;
    }
    for may in MAY {
        for lead in [", ", " - ", " – ", " — ", "; ", " "] {
            let mark = format!("{lead}{may}");
            let Some(at) = lower.find(&mark).filter(|at| *at > 0) else {
                continue;
            };
            let end = at + mark.len();
            if lower[end..].starts_with(char::is_alphanumeric) {
                continue;
            }
            item.optional = true;
            let tail = line[end..].trim_matches([',', ' ', '!', '.']).to_owned();
            let kept = if may.starts_with("optional") {
                tail
            } else {
                line[at + lead.len()..]
                    .trim_matches([',', ' ', '!', '.'])
                    .to_owned()
            };
            if !kept.is_empty() && may.starts_with("optional") {
                item.note.push(kept);
            }
            line.truncate(at);
            *line = line.trim_end_matches([',', ' ']).to_owned();
            return;
        }
    }
}

/// Takes off what stands in place of an amount at the end of a line: 'as much as suffices', 'q.b.'.
fn take_words(line: &mut String) {
    const WORDS: [(&str, &str); 19] = [
        ("on taste", "to taste"),
        ("by taste", "to taste"),
        ("after taste", "to taste"),
        ("as much as suffices", "as needed"),
        ("as much as needed", "as needed"),
        ("as much as you like", "to taste"),
        ("as much as is needed", "as needed"),
        ("as much as necessary", "as needed"),
        ("as required", "as needed"),
        ("as necessary", "as needed"),
        ("q.b", "as needed"),
        ("q.b.", "as needed"),
        ("q. b", "as needed"),
        ("qb", "as needed"),
        ("q.s", "as needed"),
        ("according to taste", "to taste"),
        ("to your taste", "to taste"),
        ("quantum satis", "as needed"),
        ("to your liking", "to taste"),
    ];
    let lower = line.to_lowercase();
    if lower.len() != line.len() || begins_with_amount(line) {
        return;
    }
    for (said, meant) in WORDS {
        if let Some(at) = lower.strip_suffix(said).map(str::len)
            && at > 2
            && lower[..at].ends_with([' ', ','])
        {
            line.truncate(at);
            *line = format!(
                "{}, {meant}",
                line.trim_end_matches([' ', ',', '-', '–', ':', '.'])
            );
            return;
        }
    }
}

/// French and German household measures in English words: 'c. à soupe' is no cup.
fn household(text: &str) -> String {
    const FRENCH: [(&str, &str); 22] = [
        ("cuillères à soupe de ", "tbsp "),
        ("cuillère à soupe de ", "tbsp "),
        ("cuillères à soupe d'", "tbsp "),
        ("cuillère à soupe d'", "tbsp "),
        ("cuillères à soupe", "tbsp"),
        ("cuillère à soupe", "tbsp"),
        ("cuillères à café de ", "tsp "),
        ("cuillère à café de ", "tsp "),
        ("cuillères à café", "tsp"),
        ("cuillère à café", "tsp"),
        ("c. à soupe de ", "tbsp "),
        ("c. à soupe", "tbsp"),
        ("c. à s. de ", "tbsp "),
        ("c. à s.", "tbsp"),
        ("c. à café de ", "tsp "),
        ("c. à café", "tsp"),
        ("c. à c. de ", "tsp "),
        ("c. à c.", "tsp"),
        ("c à soupe", "tbsp"),
        ("c à café", "tsp"),
        ("une pincée de ", "1 pinch "),
        ("gestr. ", "level "),
    ];
    let mut out = text.replace('’', "'");
    for (from, to) in FRENCH {
        if let Some(at) = out.to_lowercase().find(from)
            && out.to_lowercase().len() == out.len()
        {
            out.replace_range(at..at + from.len(), to);
            // 'D'huile'
            if let Some(rest) = out[at + to.len()..].trim_start().strip_prefix("d'") {
                out = format!("{} {rest}", &out[..at + to.len()].trim_end());
            }
            return out;
        }
    }
    text.to_owned()
}

/// A line without bullets, boxes and odd spaces.
fn plain(text: &str) -> String {
    let text = &household(text);
    let text = text
        .trim_start_matches(['-', '•', '*', '–', '·', '☐', '▢', '✓', ' ', '+'])
        .trim();
    let text = text.trim_end_matches(['.', ';', ',', ' ']);
    let unbracketed = text.strip_prefix('[').map(|t| t.replacen(']', "", 1));
    let mut out = unbracketed
        .as_deref()
        .unwrap_or(text)
        .replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ")
        .replace(['\u{2011}', '\u{2010}'], "-")
        .replace(" + juice", " and juice")
        .replace(" + zest", " and zest")
        .replace(" & juice", " and juice")
        .replace(" ,", ",")
        .replace("approx.", "about")
        .replace(" )", ")")
        .replace("( ", "(");
    for (from, to) in [
        ("lb.", "lb"),
        ("oz.", "oz"),
        ("tsp.", "tsp"),
        ("tbsp.", "tbsp"),
        ("Tbsp.", "tbsp"),
        ("c. ", "cup "),
        ("pkg.", "pkg"),
        ("gr.", "g"),
        ("approx ", "about "),
        ("approximately ", "about "),
        ("ca. ", "about "),
        ("Tbs.", "tbsp"),
        ("teasp.", "tsp"),
        ("tablesp.", "tbsp"),
        ("dessertsp.", "dessertspoon"),
        ("kg.", "kg"),
        ("ml.", "ml"),
        ("pkt.", "packet"),
        ("Pck.", "packet"),
        ("Pkt.", "packet"),
        ("sm.", "small"),
        ("lg.", "large"),
        ("med.", "medium"),
        (" nos.", " nos"),
        (" no.", " nos"),
    ] {
        out = out.replace(from, to);
    }
    // 'Onions - 2 nos', '1 no onion'
    let mut kept: Vec<&str> = Vec::new();
    for word in out.split(' ') {
        let counted = kept
            .last()
            .is_some_and(|w| w.ends_with(|c: char| c.is_ascii_digit()));
        if counted
            && matches!(
                word.to_lowercase().as_str(),
                "nos" | "no" | "pcs" | "pc" | "pcs."
            )
        {
            continue;
        }
        kept.push(word);
    }
    kept.join(" ")
}

fn find(text: &str, word: &str) -> Option<usize> {
    let lower = text.to_lowercase();
    (lower.len() == text.len())
        .then(|| lower.find(&word.to_lowercase()))
        .flatten()
}

fn strip<'t>(text: &'t str, lead: &str) -> Option<&'t str> {
    let begin = text.get(..lead.len())?;
    begin
        .eq_ignore_ascii_case(lead)
        .then(|| &text[lead.len()..])
}

/// 'yolks of 3 eggs' is three egg yolks, 'butter, 100 g' and 'Flour: 500 g' begin with their amount, '2 tins of 400 g
/// tomatoes' are 2 x 400 g tins, 'half a pound' is one half.
fn turned(line: &str) -> String {
    let lower = line.to_lowercase();
    if lower.len() != line.len() {
        return line.to_owned();
    }
    for (lead, thing) in [
        ("the yolks of ", "egg yolks"),
        ("yolks of ", "egg yolks"),
        ("the whites of ", "egg whites"),
        ("whites of ", "egg whites"),
    ] {
        if let Some(rest) = lower.strip_prefix(lead)
            && let Some(n) = rest
                .strip_suffix(" eggs")
                .or_else(|| rest.strip_suffix(" egg"))
        {
            return format!("{n} {thing}");
        }
    }
    for lead in [
        "a walnut of ",
        "a nut of ",
        "a hazelnut of ",
        "1 walnut of ",
        "1 nut of ",
    ] {
        if let Some(rest) = lower.strip_prefix(lead) {
            return format!("a knob of {}", &line[line.len() - rest.len()..]);
        }
    }
    for lead in [
        "leaves from ",
        "leaves of ",
        "the leaves from ",
        "the leaves of ",
    ] {
        if let Some(rest) = lower.strip_prefix(lead)
            && begins_with_amount(rest)
        {
            let rest = &line[line.len() - rest.len()..];
            return match rest.split_once(',') {
                Some((rest, note)) => format!("{rest}, leaves,{note}"),
                None => format!("{rest}, leaves"),
            };
        }
    }
    for part in [
        "zest and juice",
        "juice and zest",
        "grated zest",
        "finely grated zest",
        "grated rind",
        "juice",
        "zest",
        "peel",
        "rind",
    ] {
        for the in ["", "the "] {
            if let Some(rest) = lower.strip_prefix(&format!("{the}{part} of ")) {
                let fruit_at = line.len() - rest.len();
                let fruit = &line[fruit_at..];
                let of = words(fruit);
                if let Some((.., end)) = super::words::range(&of, 0)
                    && let Some(first) = of.get(end)
                {
                    let skip =
                        usize::from(first.is(&["of", "a", "an", "large", "small", "medium"]));
                    let Some(first) = of.get(end + skip) else {
                        continue;
                    };
                    let tail = &fruit[first.start..];
                    let (name, note) = tail
                        .split_once(',')
                        .map_or((tail, String::new()), |(n, t)| (n, format!(",{t}")));
                    let amount = fruit[..first.start].trim().trim_end_matches(" of");
                    let (how, part) = match part.rsplit_once(' ') {
                        Some((how, part)) if !how.contains(" and") => (format!(", {how}"), part),
                        _ => (String::new(), part),
                    };
                    return format!("{amount} {} {part}{how}{note}", singular_of(name));
                }
            }
        }
    }
    let all = words(line);
    if let Some(turned) = thing_behind(line, &all) {
        return turned;
    }
    if let Some(turned) = long(line, &all) {
        return turned;
    }
    // '3 sliced cloves of garlic'
    if let Some((_, at)) = number(&all, 0) {
        let done = all[at..]
            .iter()
            .take_while(|w| DONE.contains(&w.lower.as_str()))
            .count();
        if done > 0
            && all
                .get(at + done)
                .is_some_and(|w| w.is_word() && Unit::find(&w.lower, Region::Metric).is_ok())
            && all.get(at + done + 1).is_some_and(|w| w.is(&["of"]))
        {
            let how = &line[all[at].start..all[at + done - 1].end];
            return format!(
                "{} {}, {how}",
                line[..all[at].start].trim_end(),
                &line[all[at + done].start..]
            );
        }
    }
    // '1 dkg' is ten grams.
    if let Some((n, at)) = number(&all, 0)
        && let Some(unit) = all.get(at).filter(|w| w.is(&["dkg", "dag", "deka"]))
    {
        return format!(
            "{} g{}",
            crate::measure::print::number(n * 10.0, 1),
            &line[unit.end..]
        );
    }
    // 'a wee knob of butter', 'a good handful'
    if let Some((_, at)) = number(&all, 0)
        && all.get(at).is_some_and(|w| {
            w.is(&["wee", "good", "nice", "big", "little", "tiny", "fat", "generous", "large", "small", "decent", "hefty"])
        })
        && all.get(at + 1).is_some_and(|w| {
            w.is_word()
                && Unit::find(&w.lower, Region::Metric).is_ok_and(|u| {
                    u.is_approximate() || matches!(u, Unit::Count(t) if !matches!(t, Thing::Piece | Thing::Egg | Thing::Yolk | Thing::White))
                })
                && all.get(at + 2).is_some_and(|w| w.is(&["of"]))
        })
    {
        return format!("{}{}", &line[..all[at].start], &line[all[at + 1].start..]);
    }
    // '2 tins of 400 g tomatoes', '2 tins (400 g each) tomatoes'
    if let Some((_, at)) = number(&all, 0)
        && let Some(holder) = all.get(at).filter(|w| {
            Unit::find(&w.lower, Region::Metric)
                .is_ok_and(|u| matches!(u, Unit::Count(t) if t != Thing::Piece))
        })
    {
        let next = all.get(at + 1);
        let open = next.is_some_and(|w| w.is(&["("]));
        if (open || next.is_some_and(|w| w.is(&["of"])))
            && let Some((_, after)) = number(&all, at + 2)
            && let Some(unit) = all
                .get(after)
                .filter(|w| w.is(&["g", "ml", "oz", "kg", "ounce", "ounces", "gr", "l"]))
        {
            let each = all.get(after + 1).filter(|w| w.is(&["each"]));
            let count = line[..holder.start].trim();
            if !open || each.is_some() {
                let mut end = each.map_or(unit.end, |w| w.end);
                if open && let Some(close) = line[end..].find(')') {
                    end += close + 1;
                }
                let size = &line[all[at + 2].start..unit.end];
                let rest = line[end..].trim_start();
                let rest = strip(rest, "of ").unwrap_or(rest);
                return format!("{count} x {size} {} {rest}", holder.text);
            }
        }
    }
    // 'Handfull walnuts'
    if let Some(first) = all.first()
        && first.is_word()
        && let Some(unit) = ["handful", "pinch", "splash", "drizzle", "knob"]
            .iter()
            .find(|unit| first.lower != **unit && first.lower.len() > 3 && near(&first.lower, unit))
    {
        return format!("{unit}{}", &line[first.end..]);
    }
    // 'Ground cloves ........ a pinch'
    if let Some(at) = line.find("...").or_else(|| line.find("…"))
        && at > 1
    {
        let tail = line[at..].trim_start_matches(['.', '…', ' ']);
        let name = line[..at].trim();
        if !tail.is_empty() && begins_with_amount(tail) {
            return format!("{tail} {name}");
        }
        return format!("{name}, {tail}");
    }
    // 'Saffron - a big pinch, soaked'
    if let Some((name, tail)) = [" - ", " – ", ": "]
        .iter()
        .find_map(|sep| line.split_once(sep))
        && words(tail)
            .first()
            .is_some_and(|w| w.is(&["a", "an", "one", "two", "half", "three", "four"]))
        && !begins_with_amount(line)
        && name.split_whitespace().count() <= 5
        && begins_with_amount(tail)
    {
        return match tail.split_once(',') {
            Some((amount, note)) => format!("{amount} {name},{note}"),
            None => format!("{tail} {name}"),
        };
    }
    if !begins_with_amount(line)
        && let Some((name, amount, note)) = amount_behind(line)
    {
        return format!("{amount} {name}{note}");
    }
    line.to_owned()
}

/// '5 cm piece ginger', '1 (2-inch) piece ginger', '2 cm ginger': one of it, so long.
fn long(line: &str, all: &[Word]) -> Option<String> {
    let (n, mut at) = number(all, 0)?;
    let (mut count, mut from) = (1.0, 0);
    // '1 x 5 cm', '2 (3-inch)'
    if all.get(at).is_some_and(|w| w.is(&["x", "×", "("])) && number(all, at + 1).is_some() {
        (count, from) = (n, at + 1);
        at = number(all, at + 1)?.1;
    }
    at += usize::from(all.get(at).is_some_and(|w| w.is(&["-"])));
    let unit = all.get(at).filter(|w| {
        w.is(&[
            "cm",
            "mm",
            "inch",
            "inches",
            "in",
            "\"",
            "”",
            "″",
            "centimetre",
            "centimeter",
        ])
    })?;
    let length = line[all[from].start..unit.end].replace('-', " ");
    at += 1;
    while all.get(at).is_some_and(|w| {
        w.is(&[
            ")", "-", "piece", "pieces", "knob", "length", "lump", "chunk", "slice", "thumb", "of",
            "long", "strip", "strips",
        ])
    }) {
        at += 1;
    }
    let rest = &line[all.get(at).filter(|w| w.is_word())?.start..];
    let (name, note) = rest
        .split_once(',')
        .map_or((rest, String::new()), |(n, t)| (n, format!(",{t}")));
    let count = crate::measure::print::number(count, 2);
    Some(format!("{count} {name}, {length}{note}"))
}

/// 'Six garlic cloves' are six cloves of garlic, 'three rosemary sprigs' three sprigs of rosemary.
fn thing_behind(line: &str, all: &[Word]) -> Option<String> {
    const THINGS: [(&str, &[&str]); 6] = [
        ("clove", &["garlic"]),
        (
            "sprig",
            &[
                "rosemary",
                "thyme",
                "parsley",
                "mint",
                "sage",
                "dill",
                "tarragon",
                "oregano",
                "basil",
                "coriander",
            ],
        ),
        ("rasher", &["bacon"]),
        ("stick", &["celery", "cinnamon"]),
        ("stalk", &["celery", "lemongrass", "rhubarb"]),
        ("rib", &["celery"]),
    ];
    let (_, mut at) = super::words::range(all, 0).map(|(n, _, end)| (n, end))?;
    let from = at;
    while all.get(at).is_some_and(|w| {
        w.is(&[
            "large", "small", "medium", "fat", "big", "fresh", "plump", "sliced", "crushed",
            "chopped", "whole", "peeled",
        ])
    }) {
        at += 1;
    }
    // A tooth or wedge of garlic, as other languages call it.
    if all.get(at).is_some_and(|w| {
        w.is(&[
            "wedge", "wedges", "tooth", "teeth", "toe", "toes", "segment", "segments", "bud",
            "buds",
        ])
    }) && all.get(at + 1).is_some_and(|w| w.is(&["of"]))
        && all.get(at + 2).is_some_and(|w| w.is(&["garlic"]))
    {
        let many = if all[at].lower.ends_with('s') || all[at].is(&["teeth"]) {
            "cloves"
        } else {
            "clove"
        };
        return Some(format!(
            "{} {many}{}",
            line[..all[at].start].trim_end(),
            &line[all[at].end..]
        ));
    }
    let (name, thing) = (all.get(at)?, all.get(at + 1)?);
    let single = one(&thing.lower);
    THINGS
        .iter()
        .find(|(t, names)| *t == single && names.contains(&name.lower.as_str()))?;
    let size = if from < at {
        format!(", {}", line[all[from].start..all[at - 1].end].trim())
    } else {
        String::new()
    };
    let number = line[..all[from].start].trim_end();
    Some(format!(
        "{number} {} {}{size}{}",
        thing.text,
        name.text,
        &line[thing.end..]
    ))
}

fn singular_of(name: &str) -> String {
    let name = name.trim();
    match name.rsplit_once(' ') {
        Some((lead, last)) => format!("{lead} {}", one(last)),
        None => one(name),
    }
}

/// One of what a word names: `lemons` is `lemon`.
pub(super) fn one(word: &str) -> String {
    let lower = word.to_lowercase();
    if lower == "pies" {
        return "pie".to_owned();
    }
    for (many, single) in [("shes", "sh"), ("ches", "ch"), ("lves", "lf")] {
        if let Some(stem) = lower.strip_suffix(many) {
            return format!("{stem}{single}");
        }
    }
    singular(&lower)
}

fn begins_with_amount(line: &str) -> bool {
    Amount::parse_prefix(line, Region::Metric).is_ok()
}

/// It begins with an amount, however many words follow.
pub(super) fn is_measured(line: &str) -> bool {
    begins_with_amount(&plain(line))
}

/// Something in it is measured, or stands without a measure as only a recipe says it.
pub(super) fn any_amount(found: &super::draft::Found) -> bool {
    found.ingredients.iter().any(|e| {
        let text = plain(&e.text);
        begins_with_amount(&text)
            || ends_with_amount(&text)
            || find(&text, "to taste").is_some()
            || ingredients().find(&text).is_some()
    })
}

/// A line that begins with a figure or a number, and so with an amount.
pub(super) fn has_amount_first(line: &str) -> bool {
    let all = words(line.trim_start_matches(['[', '~', '≈', ' ']));
    let Some((n, end)) = number(&all, 0) else {
        return all
            .first()
            .is_some_and(|w| w.is(&["pinch", "handful", "knob", "dash", "juice", "zest"]));
    };
    let sure = all[0].text.starts_with(|c: char| c.is_numeric());
    sure && n > 0.0
        || all
            .get(end)
            .is_some_and(|w| Unit::find(&w.lower, Region::Metric).is_ok())
        || all.len() <= 6
}

/// `Flour 500 g`, `Butter: 100 g`: the amount stands behind.
pub(super) fn ends_with_amount(line: &str) -> bool {
    amount_behind(line).is_some()
}

/// The name, the amount behind it, and what follows that.
fn amount_behind(line: &str) -> Option<(String, String, String)> {
    if line.len() > 300 {
        return None;
    }
    let all = words(line);
    // The first figure with a unit of mass or volume, or a last bare figure after a sign.
    for at in 1..all.len() {
        if !all[at].text.starts_with(|c: char| c.is_numeric()) {
            continue;
        }
        let before = line[..all[at].start].trim_end();
        let name = before.trim_end_matches([':', '-', '–', '—', ',', '=', '.', '…', ' ', '\t']);
        // 'Water about 1.2 litres'
        let about = [" about", " approx", " ca", " circa", " around", " ~"]
            .iter()
            .find_map(|word| name.strip_suffix(word));
        let (name, sense) = match about {
            Some(name) => (name.trim_end_matches([',', ':', '-', ' ']), "about "),
            None => (name, ""),
        };
        if name.ends_with('(') || name.is_empty() || name.split_whitespace().count() > 6 {
            return None;
        }
        let marked = name.len() < before.len();
        let rest = &line[all[at].start..];
        let Ok((amount, tail)) = Amount::parse_prefix(rest, Region::Metric) else {
            return None;
        };
        let bare = amount.count().is_some_and(|(_, one)| one == "piece");
        // A year.
        if bare && (1500.0..2100.0).contains(&amount.parts[0].middle()) {
            return None;
        }
        // 'Rice, 3 glasses (600 g)': how much that is stands beside.
        if bare
            && let Some((measure, inside)) = tail.strip_suffix(')').and_then(|t| t.split_once(" ("))
            && measure.chars().all(char::is_alphabetic)
            && Amount::parse(inside, Region::Metric)
                .is_ok_and(|a| a.parts.iter().all(|p| p.unit.kind() != Kind::Count))
        {
            let figures = rest[..rest.len() - tail.len()].trim();
            return Some((
                name.to_owned(),
                inside.to_owned(),
                format!(", {figures} {measure}"),
            ));
        }
        // 'Wheat flour, type 1050, 1100 g', 'Water, 28 °C, 500 g'
        let more = all[at + 1..]
            .iter()
            .any(|w| w.text.starts_with(|c: char| c.is_numeric()));
        if bare && more && !tail.starts_with('%') {
            continue;
        }
        if bare && tail.starts_with('%') {
            return Some((
                name.to_owned(),
                format!(
                    "{figures} %",
                    figures = rest[..rest.len() - tail.len()].trim()
                ),
                String::new(),
            ));
        }
        let good = if bare {
            let pieces = rest[..rest.len() - tail.len()].contains("piece");
            marked
                && (tail.is_empty()
                    || tail.starts_with(['(', ','])
                    || words(tail).first().is_some_and(|w| w.is(&SIZE))
                        && words(tail).get(1).is_none_or(|w| w.is(&[",", "("]))
                    || pieces && tail.split_whitespace().count() <= 3)
                // 'Onions 3'
                || tail.is_empty()
                    && amount.parts[0].high <= 30.0
                    && ingredients().find(name).is_some()
        } else {
            tail.is_empty()
                || tail.starts_with(['(', ',', ';', '-', '–', '%', '+'])
                || words(tail)
                    .first()
                    .is_some_and(|w| w.text.starts_with(|c: char| c.is_numeric()))
                || tail.starts_with("without ")
                || tail.split_whitespace().count() <= 3
                    && tail.split_whitespace().all(|w| {
                        let w = w.trim_matches([',', '.', '!']).to_lowercase();
                        DONE.contains(&w.as_str())
                            || matches!(
                                w.as_str(),
                                "soft" | "hot" | "warm" | "fresh" | "each" | "and" | "whole"
                            )
                    })
        };
        if !good || name.chars().any(|c| c == '(') && !name.contains(')') {
            return None;
        }
        let figures = rest[..rest.len() - tail.len()].trim();
        let tail = tail.trim_start_matches(['-', '–', ' ', ',', ';']);
        let note = if tail.is_empty() {
            String::new()
        } else {
            format!(", {tail}")
        };
        return Some((name.to_owned(), format!("{sense}{figures}"), note));
    }
    None
}

/// Takes off `, plus extra for dusting` and its kin.
fn take_extra(line: &mut String, item: &mut Item) {
    for lead in [
        ", plus extra",
        " plus extra",
        ", plus a little extra",
        ", plus more",
        " plus more",
        ", and extra",
        ", and more",
        " + extra",
        " + more",
        "(plus extra",
        "(plus more",
        ", extra ",
        " and extra ",
    ] {
        if let Some(at) = find(line, lead) {
            let tail = line[at + lead.len()..]
                .trim()
                .trim_end_matches(')')
                .trim()
                .to_owned();
            line.truncate(at);
            *line = line.trim_end().to_owned();
            item.extra = Some(if tail.is_empty() {
                "as needed".to_owned()
            } else {
                tail
            });
            return;
        }
    }
}

/// Writes measures as the reader of amounts knows them. What is only near to one is taken for it, and told.
fn spelt(line: &str, unsure: &mut Vec<String>) -> String {
    let all = words(line);
    let Some(first) = all
        .iter()
        .position(|w| number(&all, 0).is_none() || w.is_word())
    else {
        return line.to_owned();
    };
    let mut out = String::with_capacity(line.len());
    let mut at = 0;
    let mut done = 0;
    // Only what stands in the first words can be a measure of this line.
    while at < all.len().min(first + 8) {
        let word = &all[at];
        let after_number = at > 0
            && (all[at - 1].text.starts_with(|c: char| c.is_numeric())
                || number(&all, at - 1).is_some()
                || all[at - 1].is(&[
                    "heaped", "level", "scant", "good", "-", "large", "small", "rounded", "heaping",
                ]));
        if after_number && word.is_word() {
            let two = all.get(at + 1).and_then(|next| {
                SPELT_TWO
                    .iter()
                    .find(|(a, b, _)| word.lower == *a && next.lower == *b)
            });
            let own = SPELT.iter().find(|(from, _)| word.lower == *from);
            let known = Unit::find(word.text, Region::Metric).is_ok();
            if let Some((_, _, to)) = two {
                out.push_str(&line[done..word.start]);
                out.push_str(to);
                done = all[at + 1].end;
                at += 1;
            } else if let Some((_, to)) = own {
                out.push_str(&line[done..word.start]);
                out.push_str(to);
                done = word.end;
                // A teacup is a quarter of a pint: old household practice, from memory.
                if word.lower.starts_with("teacup") {
                    unsure.push("A teacup is taken for a gill, a quarter of a pint.".into());
                } else if word.lower.starts_with("spoon") {
                    unsure.push("A spoon is taken for a tablespoon.".into());
                }
            } else if !known
                && word.lower.len() >= 5
                && [
                    "tablespoon",
                    "tablespoons",
                    "teaspoon",
                    "teaspoons",
                    "ounces",
                    "pounds",
                    "grams",
                    "cloves",
                    "pinch",
                    "litre",
                    "handful",
                ]
                .iter()
                .find(|unit| near(&word.lower, unit))
                .is_some_and(|unit| {
                    out.push_str(&line[done..word.start]);
                    out.push_str(unit);
                    unsure.push(format!("`{}` is read as {unit}.", word.text));
                    true
                })
            {
                done = word.end;
            }
        }
        at += 1;
    }
    out.push_str(&line[done..]);
    out
}

/// One slip of the pen apart.
pub(super) fn near(a: &str, b: &str) -> bool {
    if a == b || a.len().abs_diff(b.len()) > 1 || !a.is_ascii() {
        return a == b;
    }
    let (a, b) = (a.as_bytes(), b.as_bytes());
    let head = a.iter().zip(b).take_while(|(x, y)| x == y).count();
    let tail = a
        .iter()
        .rev()
        .zip(b.iter().rev())
        .take_while(|(x, y)| x == y)
        .count();
    let longest = a.len().max(b.len());
    let swapped = a.len() == b.len()
        && head + 2 <= a.len()
        && a[head] == b[head + 1]
        && a[head + 1] == b[head]
        && a[head + 2..] == b[head + 2..];
    head >= 1 && (head + tail >= longest - 1 || swapped)
}

/// `about 200 g in all` without what stands around the mass.
fn bare_mass(note: &str) -> &str {
    note.trim_start_matches("about ")
        .trim_start_matches("total ")
        .trim_start_matches("around ")
        .trim_end_matches(" total")
        .trim_end_matches(" in all")
        .trim_end_matches(" in total")
}

fn with_amount(item: &mut Item, line: &str, amount: Amount, rest: &str, region: Region) {
    let mut written = line[..line.len() - rest.len()].trim().to_owned();
    if let Some(stem) = written.strip_suffix(" of").map(str::len) {
        written.truncate(stem);
    }
    let mut rest = rest.trim().to_owned();
    let bare =
        amount.count().is_some_and(|(_, one)| one == "piece") && amount.parts[0].each.is_none();
    let few = words(&written).iter().any(|w| w.is(&["few", "several"]));
    // 'Flour 100 %'
    if bare && rest.starts_with('%') {
        item.percent = Some(amount.parts[0].middle());
        rest = rest.trim_start_matches(['%', ' ']).to_owned();
        name_and_notes(item, &rest, region);
        return;
    }
    if few {
        item.note.push(written.clone());
        item.unsure
            .push(format!("`{written}` is no number: how many?"));
        item.amount = None;
        name_and_notes(item, &rest, region);
        return;
    }
    // '1 glass of water', '2 ladles stock': a measure that nobody knows stays in words.
    if bare
        && let Some((measure, of)) = rest
            .split_once(" of ")
            .filter(|(m, _)| m.split(' ').count() == 1 && m.chars().all(char::is_alphabetic))
    {
        let known_as_whole = ingredients().find(&rest).is_some();
        if !known_as_whole {
            item.note.push(format!("{written} {measure}"));
            item.unsure.push(format!(
                "`{written} {measure}` is a measure that I do not know: how much is it?"
            ));
            let of = of.to_owned();
            name_and_notes(item, &of, region);
            return;
        }
    }
    // 'Sugar, 1 lb to each pound of pulp' goes by something else.
    let by = [
        "to each ",
        "to every ",
        "per ",
        "for each ",
        "for every ",
        "a head",
    ];
    if by.iter().any(|lead| strip(&rest, lead).is_some()) {
        item.note.push(format!("{written} {rest}"));
        item.unsure.push(format!(
            "`{written}` goes by something else: how much is it today?"
        ));
        return;
    }
    // '3 glasses (600 g) rice': how much that is stands beside.
    if bare
        && let Some((measure, behind)) = rest.split_once(" (")
        && let Some((inside, name)) = behind.split_once(") ")
        && let (size, only) = measure.rsplit_once(' ').unwrap_or(("", measure))
        && (size.is_empty() || SIZE.contains(&size))
        && only.chars().all(char::is_alphabetic)
        && ingredients().find(only).is_none()
        && name
            .split(',')
            .next()
            .unwrap_or(name)
            .split_whitespace()
            .any(|word| {
                ingredients().find(&one(word)).is_some() || ingredients().find(word).is_some()
            })
        && Amount::parse(inside, region)
            .is_ok_and(|a| a.parts.iter().all(|p| p.unit.kind() != Kind::Count))
    {
        item.note.push(format!("{written} {measure}"));
        item.amount = Some(inside.to_owned());
        name_and_notes(item, name, region);
        return;
    }
    // The thing counted is the name: '2 eggs', '3 egg yolks, beaten'.
    let counted = match amount.parts.last().map(|p| p.unit) {
        Some(Unit::Count(thing)) if thing != Thing::Piece => {
            let named = matches!(thing, Thing::Egg | Thing::Yolk | Thing::White);
            (named || rest.is_empty() || rest.starts_with([',', '(', '-', '–', ';'])).then(|| {
                let many = amount.parts[0].high > 1.0;
                let unit = Unit::Count(thing);
                if many { unit.plural() } else { unit.singular() }.to_owned()
            })
        }
        _ => None,
    };
    // Words of size that were taken with the amount: '2 large eggs'.
    for size in ["large", "medium", "small"] {
        if words(&written).iter().any(|w| w.is(&[size])) {
            item.note.push(size.to_owned());
        }
    }
    if let Some(thing) = counted {
        let (name, after) = match rest.chars().next() {
            None | Some(',' | '(' | '-' | '–' | ';') => (thing, rest.clone()),
            Some(_) => (thing, format!(", {rest}")),
        };
        item.amount = Some(tidy(&written));
        name_and_notes(item, &format!("{name}{after}"), region);
    } else {
        item.amount = Some(tidy(&written));
        name_and_notes(item, &rest, region);
    }
    check_pair(item, &amount);
    // A mass in brackets behind the name: '3 carrots (about 200 g)'.
    let weighed = amount
        .parts
        .iter()
        .any(|p| p.unit.kind() == Kind::Mass || p.each.is_some());
    // '4 salmon fillets (about 150 g each)'
    let one_each = item.note.iter().position(|note| {
        note.trim_end().strip_suffix(" each").is_some_and(|mass| {
            Amount::parse(bare_mass(mass.trim_end_matches(" weight")), region).is_ok_and(|a| {
                a.parts.len() == 1
                    && a.parts[0].unit.kind() == Kind::Mass
                    && a.parts[0].low == a.parts[0].high
            })
        })
    });
    if bare
        && !weighed
        && amount.parts[0].low == amount.parts[0].high
        && let Some(at) = one_each
    {
        let note = item.note.remove(at);
        let mass = bare_mass(note.trim_end().trim_end_matches(" each"));
        item.amount = item.amount.as_ref().map(|a| format!("{a} x {mass}"));
        return;
    }
    // '1 (4 to 5 lb) shoulder': between these.
    if bare
        && amount.parts[0].low == 1.0
        && amount.parts[0].high == 1.0
        && let [mass] = amount.also.as_slice()
        && mass.unit.kind() == Kind::Mass
        && mass.low < mass.high
    {
        let figure = |n: f64| crate::measure::print::number(n, 2);
        item.amount = Some(format!(
            "{} to {} {}",
            figure(mass.low),
            figure(mass.high),
            mass.unit.symbol()
        ));
        item.note.insert(0, "one".to_owned());
        return;
    }
    // '4 (6 oz) salmon fillets' are 6 oz each, as American books write it.
    if bare
        && amount.parts[0].low > 1.0
        && amount.parts[0].low == amount.parts[0].high
        && let [mass] = amount.also.as_slice()
        && mass.unit.kind() == Kind::Mass
    {
        item.amount = Some(format!(
            "{} x {} {}",
            crate::measure::print::number(amount.parts[0].low, 2),
            crate::measure::print::number(mass.low, 2),
            mass.unit.symbol()
        ));
        item.unsure
            .push("I took the weight for that of each.".into());
        return;
    }
    // '2 lb oranges, 900 g', '512 g flour, 4 cups' of a table: the same in another measure.
    let measured = |a: &Amount| {
        a.also.is_empty()
            && a.parts.iter().all(|p| {
                matches!(p.unit.kind(), Kind::Mass | Kind::Volume)
                    && p.each.is_none()
                    && !p.unit.is_approximate()
            })
    };
    if measured(&amount)
        && let Some(at) = item
            .note
            .iter()
            .position(|note| Amount::parse(note, region).is_ok_and(|a| measured(&a)))
    {
        let both = item
            .amount
            .as_ref()
            .map(|a| format!("{a} ({})", item.note[at]));
        if let Some(read) = both.as_ref().and_then(|a| Amount::parse(a, region).ok()) {
            item.note.remove(at);
            item.amount = both;
            check_pair(item, &read);
            return;
        }
    }
    // 'One can coconut milk - 400 ml'
    let holds = |thing: Thing| {
        matches!(
            thing,
            Thing::Tin
                | Thing::Jar
                | Thing::Bottle
                | Thing::Carton
                | Thing::Packet
                | Thing::Pot
                | Thing::Bag
        )
    };
    if let [part] = amount.parts.as_slice()
        && let Unit::Count(thing) = part.unit
        && holds(thing)
        && part.each.is_none()
        && part.low == part.high
        && amount.also.is_empty()
        && let Some(at) = item.note.iter().position(|note| {
            Amount::parse(note, region)
                .is_ok_and(|a| a.parts.len() == 1 && a.parts[0].unit.kind() == Kind::Volume)
        })
    {
        let size = item.note.remove(at);
        let many = crate::measure::print::number(part.low, 2);
        let unit = if part.low > 1.0 {
            part.unit.plural()
        } else {
            part.unit.singular()
        };
        item.amount = Some(format!("{many} x {size} {unit}"));
        return;
    }
    if !weighed && amount.also.is_empty() {
        let found = item.note.iter().position(|note| {
            Amount::parse(bare_mass(note), region).is_ok_and(|a| {
                a.parts
                    .iter()
                    .all(|p| p.unit.kind() == Kind::Mass && !p.unit.is_approximate())
            })
        });
        if let Some(at) = found {
            let note = item.note.remove(at);
            let mass = bare_mass(&note);
            let mass = mass.split(" / ").next().unwrap_or(mass).trim();
            let all = words(item.amount.as_deref().unwrap_or_default());
            let one = if number(&all, 0).is_none() && all.first().is_some_and(Word::is_word) {
                "1 "
            } else {
                ""
            };
            item.amount = item.amount.as_ref().map(|a| format!("{one}{a} ({mass})"));
            if let Some(both) = item
                .amount
                .as_ref()
                .and_then(|a| Amount::parse(a, region).ok())
            {
                check_pair(item, &both);
            }
        }
    }
}

/// An amount as a file takes it, without words of size.
fn tidy(written: &str) -> String {
    let kept: Vec<&str> = written
        .split_whitespace()
        .filter(|w| {
            !matches!(
                w.to_lowercase().as_str(),
                "large" | "medium" | "small" | "medium-sized" | "extra-large"
            )
        })
        .collect();
    kept.join(" ").trim_end_matches([',', '-', ' ']).to_owned()
}

/// Both measures of a line must tell the same.
fn check_pair(item: &mut Item, amount: &Amount) {
    if amount.also.is_empty() {
        return;
    }
    let row = ingredients().find(&item.name);
    let first = Amount {
        also: Vec::new(),
        ..amount.clone()
    };
    let second = Amount {
        parts: amount.also.clone(),
        also: Vec::new(),
        ..amount.clone()
    };
    if let (Ok(a), Ok(b)) = (first.mass(row), second.mass(row)) {
        let ratio = a.as_grams() / b.as_grams().max(1e-9);
        let counted = amount.count().is_some();
        let wide = if counted { 0.4..=2.5 } else { 0.75..=1.34 };
        if !wide.contains(&ratio) {
            item.unsure.push(format!(
                "The two measures differ: {:.0} g and {:.0} g.",
                a.as_grams(),
                b.as_grams()
            ));
        }
    }
}

fn without_amount(item: &mut Item, line: &str, region: Region) {
    let line = [
        "some ",
        "a little ",
        "little ",
        "a bit of ",
        "a drizzle of ",
        "a sprinkle of ",
        "plenty of ",
        "enough ",
        "a good grind of ",
        "a grinding of ",
        "a grating of ",
        "grating of ",
    ]
    .iter()
    .find_map(|lead| strip(line, lead).map(|rest| (lead, rest)));
    let (lead, text) = match line {
        Some((lead, rest)) => (Some(lead.trim()), rest.to_owned()),
        None => (None, item_line(item)),
    };
    name_and_notes(item, &text, region);
    if let Some(lead) = lead {
        item.note.insert(0, lead.trim_end_matches(" of").to_owned());
    }
    // 'oil for frying', 'salt to taste': the words stand in place of the amount.
    let words = item.note.iter().position(|n| {
        [
            "for ",
            "to taste",
            "as needed",
            "to serve",
            "to garnish",
            "to finish",
            "enough ",
            "to cover",
            "to dust",
            "to glaze",
        ]
        .iter()
        .any(|w| n.starts_with(w))
            && !n.contains(|c: char| c.is_numeric())
    });
    if let Some(at) = words {
        item.amount = Some(item.note.remove(at));
    }
}

/// The line of an item again, as `read` turned it.
fn item_line(item: &Item) -> String {
    let mut line = plain(&item.source);
    take_optional(&mut line, &mut Item::default());
    take_words(&mut line);
    let mut again = Item::default();
    take_extra(&mut line, &mut again);
    turned(&line)
}

/// The name ends at a comma, a bracket or a word such as 'to serve'; words of size and doing before it are notes.
fn name_and_notes(item: &mut Item, rest: &str, region: Region) {
    let mut rest = rest
        .trim()
        .trim_start_matches([',', '.', ':', ';', '–'])
        .trim_start_matches("- ")
        .trim()
        .to_owned();
    while let Some(inside) = rest.strip_prefix('(')
        && let Some((note, after)) = inside.split_once(')')
    {
        item.note.push(note.trim().to_owned());
        rest = after.trim_start_matches([',', ' ']).to_owned();
    }
    for lead in ["of the ", "of ", "de la ", "de ", "d'", "d’"] {
        if let Some(after) = strip(&rest, lead) {
            rest = after.to_owned();
        }
    }
    // What is in brackets is a note, wherever it stands.
    let mut brackets = Vec::new();
    while let Some(open) = rest.find('(')
        && let Some(close) = rest[open..].find(')')
    {
        brackets.push(rest[open + 1..open + close].trim().to_owned());
        let tail = rest[open + close + 1..].to_owned();
        rest = format!("{}{tail}", rest[..open].trim_end());
    }
    let lower = rest.to_lowercase();
    let end = if lower.len() == rest.len() {
        ENDS.iter()
            .filter_map(|mark| lower.find(mark))
            .filter(|at| *at > 0)
            .min()
            .unwrap_or(rest.len())
    } else {
        rest.find(',').unwrap_or(rest.len())
    };
    let mut name = rest[..end]
        .trim()
        .trim_end_matches([',', '.', '*'])
        .to_owned();
    let mut note = rest[end..]
        .trim_matches([',', ' ', '-', '–', '—', ';'])
        .to_owned();
    // 'butter, cold, 1 tbsp': doing words in front go to the notes, and 'and' between them.
    let mut before: Vec<&str> = Vec::new();
    let whole = name.clone();
    let mut left: Vec<&str> = whole.split_whitespace().collect();
    let doing = |w: &str| {
        let w = w.trim_end_matches(',').to_lowercase();
        DONE.contains(&w.as_str())
            || SIZE.contains(&w.as_str())
            || ["-in", "-on", "-off", "-cut", "-trimmed"]
                .iter()
                .any(|end| w.ends_with(end))
    };
    while left.len() > 1
        && (doing(left[0])
            || left[0] == "and" && !before.is_empty() && doing(left[1])
            || left[0] == "x")
    {
        let kept = ingredients().find(&left.join(" ")).is_some_and(|row| {
            let full = left.join(" ").to_lowercase();
            row.name == full || row.also.contains(&full)
        });
        let of_its_own = left[0].eq_ignore_ascii_case("crushed")
            && ["red", "chilli", "chili", "chillies", "tomatoes"]
                .contains(&left[1].to_lowercase().as_str());
        if kept && !SIZE.contains(&left[0].to_lowercase().as_str()) || of_its_own {
            break;
        }
        before.push(left.remove(0));
    }
    // 'butter cold' as well.
    while left.len() > 1
        && left.last().is_some_and(|w| doing(w))
        && !left.last().is_some_and(|w| SIZE.contains(w))
    {
        before.extend(left.pop());
    }
    // '200 g, chopped walnuts': the name stands behind the comma.
    if left.is_empty() || name.is_empty() {
        name = std::mem::take(&mut note);
    } else {
        name = left.join(" ");
    }
    if left.len() == 1 && doing(left[0]) && !note.is_empty() {
        // 'chopped, peeled tomatoes'
        before.push(left[0]);
        name = std::mem::take(&mut note);
    }
    if !before.is_empty() {
        item.note
            .push(before.join(" ").trim_end_matches(',').to_owned());
    }
    item.note.extend(brackets);
    if !note.is_empty() {
        item.note.push(note);
    }
    choices(item, name, region);
}

/// `butter or margarine`: one of them is the name, and the others may be taken in its place.
fn choices(item: &mut Item, name: String, region: Region) {
    item.name = name;
    // A note may hold the choice: '(or margarine)', ', or lard'.
    for note in std::mem::take(&mut item.note) {
        match strip(&note, "or ").or_else(|| strip(&note, "or, ")) {
            Some(other)
                if other.split_whitespace().count() <= 5
                    && !other.contains(|c: char| c.is_numeric())
                    && !other.starts_with("to ")
                    && !other.starts_with("more") =>
            {
                item.or.push(other.trim().to_owned());
            }
            _ => item.note.push(note),
        }
    }
    let Some((left, right)) = item
        .name
        .split_once(" or ")
        .map(|(a, b)| (a.trim().to_owned(), b.trim().to_owned()))
    else {
        return;
    };
    if begins_with_amount(&right) {
        let (_, rest) =
            Amount::parse_prefix(&right, region).unwrap_or((Amount::of(1.0, Unit::Gram), &right));
        let other = rest.to_owned();
        item.unsure
            .push(format!("`{right}` is another amount: which is meant?"));
        item.note.push(format!("or {right}"));
        item.name = if left.split_whitespace().all(|w| SIZE.contains(&w)) {
            other
                .split_whitespace()
                .filter(|w| !SIZE.contains(w))
                .collect::<Vec<_>>()
                .join(" ")
        } else {
            left
        };
        return;
    }
    let known = |name: &str| ingredients().find(name).is_some();
    let (left_known, right_known) = (known(&left), known(&right));
    let last = right.split_whitespace().last().unwrap_or_default();
    let shared = format!("{left} {last}");
    if left.split_whitespace().count() == 1
        && right.contains(' ')
        && (known(&shared) || !left_known)
        && !matches!(left.as_str(), "fresh" | "frozen" | "dried" | "hot" | "cold")
    {
        item.name = shared;
        item.or.push(right);
    } else if left_known
        || right_known
        || !matches!(
            left.split_whitespace().last(),
            Some("fresh" | "frozen" | "dried" | "red" | "white" | "hot" | "more")
        )
    {
        item.name = left;
        item.or.push(right);
    }
}

fn finish(item: &mut Item) {
    let clean = |text: &str| {
        text.trim()
            .trim_matches([',', ';', ' ', '.', '*', '-'])
            .to_owned()
    };
    item.name = clean(&item.name);
    item.note = item
        .note
        .iter()
        .map(|n| clean(n))
        .filter(|n| !n.is_empty())
        .collect();
    for at in (0..item.note.len()).rev() {
        if item.note[at].eq_ignore_ascii_case("optional") {
            item.note.remove(at);
            item.optional = true;
        }
    }
    if item.name.is_empty() {
        item.name = if item.note.is_empty() {
            item.source.clone()
        } else {
            item.note.remove(0)
        };
        item.unsure.push("I could not tell what this is.".into());
    }
    // '28 °C', '14-16 h' are no food.
    let bare = item.name.to_lowercase();
    let bare = bare.trim_matches(|c: char| !c.is_alphabetic());
    if matches!(
        bare,
        "" | "c"
            | "f"
            | "h"
            | "hr"
            | "hrs"
            | "hour"
            | "hours"
            | "min"
            | "mins"
            | "minute"
            | "minutes"
    ) && item.amount.is_some()
    {
        item.note.extend(item.amount.take());
        item.unsure.push("I could not tell what this is.".into());
    }
    // Sugar, 'size of a walnut'.
    if item.amount.is_none() && item.percent.is_none() {
        let all = format!("{} {}", item.name, item.note.join(" "));
        if all.contains("size of")
            || words(&item.source)
                .iter()
                .any(|w| w.text.starts_with(|c: char| c.is_numeric()))
                && item.unsure.is_empty()
        {
            item.unsure
                .push("There is an amount that I could not read.".into());
        }
    }
}

/// What one line names more than once: '1 tsp each cumin and coriander', '1 egg plus 2 yolks'.
pub(super) fn several(line: &str) -> Vec<String> {
    let text = plain(line);
    let alone = || vec![line.to_owned()];
    let names = |list: &str| -> Option<Vec<String>> {
        let list = list.replace(" and ", ", ").replace(" & ", ", ");
        let all: Vec<String> = list
            .split(',')
            .map(|n| n.trim().to_owned())
            .filter(|n| !n.is_empty())
            .collect();
        let few = |n: &String| {
            n.split_whitespace().count() <= 4 && !n.contains(['(', ')']) && !begins_with_amount(n)
        };
        ((2..=6).contains(&all.len()) && all.iter().all(few)).then_some(all)
    };
    let of_all =
        |amount: &str, all: Vec<String>| all.into_iter().map(|n| format!("{amount} {n}")).collect();
    if let Some(at) = find(&text, " each ")
        && Amount::parse(&text[..at], Region::Metric).is_ok()
    {
        let rest = text[at + 6..].trim_start_matches([':', ' ']);
        let rest = strip(rest, "of ").unwrap_or(rest);
        if let Some(all) = names(rest) {
            return of_all(&text[..at], all);
        }
    }
    // 'Mint & coriander - 1 cup each, chopped'
    let each = find(&text, " each").filter(|at| {
        let tail = &text[at + 5..];
        tail.is_empty() || tail.starts_with(',')
    });
    if let Some(end) = each
        && let (head, note) = (&text[..end], &text[end + 5..])
        && let Some((at, len)) = [",", "–", ":", " - "]
            .iter()
            .filter_map(|sep| head.rfind(sep).map(|at| (at, sep.len())))
            .max()
        && let amount = head[at + len..].trim()
        && Amount::parse(amount, Region::Metric).is_ok()
        && let Some(all) = names(&head[..at])
    {
        return all
            .into_iter()
            .map(|n| format!("{amount} {n}{note}"))
            .collect();
    }
    // 'Salt, pepper, nutmeg': three foods, where nothing is measured.
    if !text.contains(|c: char| c.is_numeric())
        && let Some(all) = names(&text)
        && text.contains(',')
        && all.iter().all(|n| ingredients().find(n).is_some())
        && (all.len() > 2
            || all
                .iter()
                .any(|n| one(n).ends_with("salt") || one(n).ends_with("pepper")))
        && all
            .iter()
            .all(|n| all.iter().filter(|m| one(m).ends_with(&one(n))).count() == 1)
    {
        return all;
    }
    for sep in [", plus ", " plus ", " + ", " and ", " & "] {
        let Some(at) = find(&text, sep) else { continue };
        let (left, right) = (&text[..at], &text[at + sep.len()..]);
        let (Ok((first, name)), Ok((second, other))) = (
            Amount::parse_prefix(left, Region::Metric),
            Amount::parse_prefix(right, Region::Metric),
        ) else {
            continue;
        };
        let is_thing = |a: &Amount| {
            a.parts
                .iter()
                .all(|p| matches!(p.unit, Unit::Count(Thing::Egg | Thing::Yolk | Thing::White)))
        };
        let open = left.matches('(').count() > left.matches(')').count();
        if open || name.is_empty() && !is_thing(&first) {
            continue;
        }
        // '1 cup flour plus 2 tablespoons' is one amount of flour.
        let kinds = |a: &Amount| a.parts.iter().map(|p| p.unit.kind()).collect::<Vec<_>>();
        if other.is_empty()
            && kinds(&first) == kinds(&second)
            && kinds(&first) != [Kind::Count]
            && first.also.is_empty()
        {
            let amount = &left[..left.len() - name.len()];
            return vec![format!("{} plus {right} {name}", amount.trim_end())];
        }
        let begins = other
            .split_whitespace()
            .next()
            .unwrap_or_default()
            .to_lowercase();
        let more = ["for", "to", "more", "extra", "each", "if", "or"].contains(&begins.as_str())
            || DONE.contains(&begins.as_str())
            // 'Butter + 1 nut for the dish' is a nut of butter.
            || begins == "nut"
            || !other.starts_with(char::is_alphabetic);
        let figures = right.starts_with(|c: char| c.is_numeric());
        if !more && figures || is_thing(&second) {
            return vec![left.trim_end_matches(',').to_owned(), right.to_owned()];
        }
    }
    alone()
}

/// Several ingredients on one line: `flour, salt, 2 eggs`. One line is one where no second amount follows a comma.
pub(super) fn split_list(line: &str) -> Vec<String> {
    // 'Fruit, 6 lb; water, 1 pint; sugar': commas stand inside of each.
    let parts: Vec<&str> = line
        .split(';')
        .map(str::trim)
        .filter(|p| !p.is_empty())
        .collect();
    let measured = |p: &&&str| begins_with_amount(&plain(p)) || ends_with_amount(&plain(p));
    if parts.len() > 1 && parts.iter().filter(measured).count() >= 2 {
        return parts.into_iter().map(str::to_owned).collect();
    }
    let pieces: Vec<&str> = cut(line);
    let amounts = pieces
        .iter()
        .filter(|p| begins_with_amount(&plain(p)))
        .count();
    if amounts < 2 || amounts * 2 < pieces.len() {
        return vec![line.to_owned()];
    }
    let mut out: Vec<String> = Vec::new();
    for piece in pieces {
        let piece = piece
            .trim()
            .trim_start_matches("and ")
            .trim_end_matches('.');
        let first = piece
            .split_whitespace()
            .next()
            .unwrap_or_default()
            .to_lowercase();
        let of_it = Amount::parse_prefix(piece, Region::Metric).is_ok_and(|(_, rest)| {
            let next = rest.split_whitespace().next().unwrap_or_default();
            rest.starts_with("it ")
                || rest.starts_with("them ")
                || DONE.contains(&next.to_lowercase().as_str())
                    && rest.split_whitespace().all(|w| {
                        DONE.contains(&w.to_lowercase().as_str())
                            || matches!(w, "and" | "or" | "&" | "one" | "the" | "other" | "1" | "2")
                    })
        });
        let doing = DONE.contains(&first.as_str())
            || first == "to"
            || first == "for"
            || first == "plus"
            || first == "cut";
        // 'One chicken, about 1.5 kg'
        let bare = Amount::parse_prefix(piece, Region::Metric).is_ok_and(|(a, rest)| {
            rest.is_empty() && a.parts.iter().all(|p| p.unit.kind() == Kind::Mass)
        });
        match out.last_mut() {
            Some(last) if doing && !begins_with_amount(piece) || bare || of_it => {
                *last = format!("{last}, {piece}");
            }
            _ => out.push(piece.to_owned()),
        }
    }
    out.retain(|p| !p.is_empty());
    out
}

/// Cuts at commas and semicolons that stand outside brackets and between no digits.
fn cut(line: &str) -> Vec<&str> {
    let mut out = Vec::new();
    let (mut from, mut depth) = (0, 0_i32);
    for (at, c) in line.char_indices() {
        match c {
            '(' => depth += 1,
            ')' => depth -= 1,
            ',' | ';' if depth <= 0 && line[at + 1..].starts_with(' ') => {
                out.push(&line[from..at]);
                from = at + 1;
            }
            _ => {}
        }
    }
    out.push(&line[from..]);
    out
}

/// A row of a table as a line: the amount in front.
pub(super) fn of_cells(cells: &[String], titles: &[String]) -> String {
    let full: Vec<(usize, &String)> = cells
        .iter()
        .enumerate()
        .filter(|(_, c)| !c.is_empty())
        .collect();
    let title = |at: usize| titles.get(at).map_or("", String::as_str);
    let is_percent = |at: usize, c: &str| {
        c.ends_with('%') || title(at).contains('%') || title(at).contains("percent")
    };
    let is_figure = |c: &str| c.starts_with(|c: char| c.is_numeric());
    let amount = full
        .iter()
        .find(|(at, c)| is_figure(c) && !is_percent(*at, c));
    let percent = full
        .iter()
        .find(|(at, c)| is_figure(c) && is_percent(*at, c));
    let name = full
        .iter()
        .find(|(at, c)| !is_figure(c) && !is_percent(*at, c));
    let Some((name_at, name)) = name else {
        return cells.join(" ");
    };
    let unit = |at: usize| {
        let title = title(at);
        let cell = &cells[at];
        let bare = cell.chars().all(|c| c.is_numeric() || " .,/".contains(c));
        ["kg", "ml", "g", "oz"]
            .iter()
            .find(|u| {
                bare && (title.contains(&format!("({u})"))
                    || title == **u
                    || title.ends_with(&format!(" {u}"))
                    || **u == "g" && title.contains("gram"))
            })
            .map_or("", |u| u)
    };
    let more: Vec<&str> = full
        .iter()
        .filter(|(at, _)| {
            at != name_at
                && amount.is_none_or(|(a, _)| a != at)
                && percent.is_none_or(|(p, _)| p != at)
        })
        .map(|(_, c)| c.as_str())
        .collect();
    let more = if more.is_empty() {
        String::new()
    } else {
        format!(", {}", more.join(", "))
    };
    match (amount, percent) {
        (Some((at, figure)), _) => format!("{figure} {} {name}{more}", unit(*at)),
        (None, Some((_, figure))) => {
            format!("{} % {name}{more}", figure.trim_end_matches(['%', ' ']))
        }
        (None, None) => format!("{name}{more}"),
    }
}

/// Ingredients that only the prose names, with their amounts: 'take half a pound of flour and two eggs'.
pub(super) fn in_prose(text: &str) -> Vec<String> {
    let all = words(text);
    let mut out: Vec<(usize, String)> = Vec::new();
    let mut at = 0;
    while at < all.len() {
        let start = all[at].start;
        // No amount and name are longer than this.
        let mut near = (start + 300).min(text.len());
        while !text.is_char_boundary(near) {
            near -= 1;
        }
        let within = all[at..]
            .iter()
            .take(60)
            .take_while(|w| w.end <= near)
            .count();
        if within == 0 {
            at += 1;
            continue;
        }
        let Some(mut end) = prose_item(&text[start..near], &all[at..at + within]) else {
            at += 1;
            continue;
        };
        // 'the yolks of four eggs', 'the juice of a lemon'
        let part = at >= 2
            && all[at - 1].is(&["of"])
            && all[at - 2].is(&["yolks", "whites", "juice", "zest", "rind", "peel"]);
        let from = if part { all[at - 2].start } else { start };
        end = end.min(text.len() - start);
        while !text.is_char_boundary(start + end) {
            end += 1;
        }
        out.push((from, text[from..start + end].trim().to_owned()));
        while at < all.len() && all[at].start < start + end {
            at += 1;
        }
    }
    // What goes in without an amount: 'season with salt', 'some chopped tarragon'.
    let has = |out: &[(usize, String)], name: &str| {
        out.iter()
            .any(|(_, l)| words(l).iter().any(|w| w.lower == name))
    };
    for (at, word) in all.iter().enumerate() {
        let before = at.checked_sub(1).map_or("", |b| all[b].lower.as_str());
        if matches!(before, "some" | "plenty" | "little") {
            let skip = all[at..]
                .iter()
                .take_while(|w| DONE.contains(&w.lower.as_str()) || w.is(&["of", "fresh"]))
                .count();
            let known = (1..=3).rev().find_map(|len| {
                let run = all.get(at + skip..at + skip + len)?;
                let name = &text[run[0].start..run[len - 1].end];
                ingredients().find(name).map(|_| name)
            });
            let known = known.or_else(|| {
                let own = all
                    .get(at + skip)
                    .filter(|w| w.is_word() && w.lower.len() > 3 && skip > 0)?;
                Some(own.text)
            });
            if let Some(name) = known.filter(|n| !has(&out, &n.to_lowercase())) {
                out.push((word.start, format!("some {name}")));
            }
        } else if word.is(&["salt", "pepper"])
            && !matches!(
                before,
                "bell" | "red" | "green" | "yellow" | "sweet" | "the"
            )
            && !all
                .get(at + 1)
                .is_some_and(|w| w.is(&["the", "it", "them"]))
            && !has(&out, &word.lower)
        {
            let black = matches!(before, "black" | "white" | "sea" | "flaky");
            let from = if black { all[at - 1].start } else { word.start };
            out.push((from, format!("{}, to taste", &text[from..word.end])));
        }
    }
    out.sort_by_key(|(at, _)| *at);
    out.into_iter().map(|(_, line)| line).collect()
}

/// Where an amount with a known food begins: how long it is.
fn prose_item(text: &str, all: &[Word]) -> Option<usize> {
    number(all, 0).or_else(|| all[0].is(&["pinch", "handful"]).then_some((1.0, 1)))?;
    let (amount, rest) = Amount::parse_prefix(text, Region::Metric).ok()?;
    if rest.is_empty() {
        return None;
    }
    let from = text.len() - rest.len();
    let counted = matches!(
        amount.parts.last()?.unit,
        Unit::Count(Thing::Egg | Thing::Yolk | Thing::White)
    );
    if counted && amount.parts[0].middle() >= 1.0 {
        return Some(from);
    }
    let bare = amount.count().is_some_and(|(_, one)| one == "piece");
    let names = words(rest);
    // '1 chopped onion', '3 sliced cloves of garlic'
    let skip = names
        .iter()
        .take_while(|w| {
            DONE.contains(&w.lower.as_str())
                || SIZE.contains(&w.lower.as_str())
                || w.is(&["fresh", "good"])
        })
        .count();
    if skip > 0 && skip < names.len() && names[skip].is_word() {
        let rest = &rest[names[skip].start..];
        let joined = format!("{} {rest}", &text[..from].trim_end());
        let shift = joined.len();
        let end = prose_item(&joined, &words(&joined))?;
        return Some((text.len() + end).saturating_sub(shift));
    }
    // The longest run of words that the tables know.
    let mut best = None;
    for len in 1..=4.min(names.len()) {
        let run = &names[..len];
        if run.iter().any(|w| !w.is_word() && !w.is(&["-"])) {
            break;
        }
        let name = &rest[run[0].start..run[len - 1].end];
        if ingredients().find(name).is_some() {
            best = Some(from + run[len - 1].end);
        }
    }
    // 'Tomato purée' where only the tomato is known, 'chicken thighs' where neither is.
    if let Some(end) = best
        && let Some(next) = names.iter().find(|w| w.start + from > end)
        && next.is(&[
            "purée", "puree", "paste", "powder", "sauce", "stock", "juice", "oil", "vinegar",
            "seeds", "leaves", "cheese", "flour",
        ])
    {
        best = Some(from + next.end);
    }
    if best.is_none() && bare && amount.parts[0].middle() >= 2.0 {
        let plural = names
            .iter()
            .take(3)
            .take_while(|w| {
                w.is_word()
                    && !w.is(&[
                        "of", "and", "the", "or", "in", "for", "to", "more", "hours", "days",
                    ])
            })
            .find(|w| w.lower.len() > 3 && w.lower.ends_with('s') && !w.lower.ends_with("ss"));
        let thing = plural.filter(|w| {
            !w.is(&[
                "minutes", "mins", "seconds", "hours", "days", "weeks", "times", "pieces",
                "batches", "persons", "people", "guests", "inches", "degrees", "layers",
                "portions", "servings", "parts", "halves", "tins", "rounds", "slices", "sides",
                "thirds", "quarters", "balls", "loaves", "rolls", "squares", "bars", "cakes",
                "jars", "bowls", "plates", "pans", "sheets", "trays", "dishes", "strips", "rows",
                "whistles", "months", "years",
            ])
        });
        best = thing.map(|w| from + w.end);
    }
    let fallback = || {
        let first = names.first().filter(|w| w.is_word() && !bare)?;
        Some(from + first.end)
    };
    best.filter(|_| {
        !(bare
            && number(all, 0).is_some_and(|(_, end)| {
                all[..end].iter().all(|w| w.is(&["a", "an", "the", "one"]))
            }))
    })
    .or_else(fallback)
}
