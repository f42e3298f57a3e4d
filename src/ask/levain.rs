//! Flour, water and starter: what is in what, what feeds what, and ice in grams.

use super::bakery::{flour, grams, near_grams, plain};
use super::error::within;
use super::sums::percent_words;
use super::{Answer, AnswerPart, AskError, Context, Share};
use crate::dough::{self, WATER_MOST_C};
use crate::measure::words::capital;
use crate::measure::{Mass, print};
use crate::order::FeedPart;

const MOST_G: f64 = 1_000_000.0;
const ICE: &str =
    "common practice: water x (tap - wanted) / (tap + 80), the heat that melting takes";

fn n(x: f64) -> String {
    print::number(x, 2)
}

fn mass(what: &'static str, g: f64) -> Result<Mass, AskError> {
    Ok(Mass::grams(within(what, g, 0.001, MOST_G)?))
}

/// An answer of several masses: 'five hundred grams of flour and three hundred grams of water'.
fn of_parts(parts: &[(&str, Mass)], first: usize, sum: String, context: &Context) -> Answer {
    let mut ordered = vec![parts[first]];
    ordered.extend(
        parts
            .iter()
            .enumerate()
            .filter(|(at, _)| *at != first)
            .map(|(_, part)| *part),
    );
    let said: Vec<String> = ordered
        .iter()
        .map(|(name, mass)| format!("{} of {name}", near_grams(*mass, context)))
        .collect();
    let words = match said.as_slice() {
        [head @ .., last] if !head.is_empty() => format!("{} and {last}", head.join(", ")),
        _ => said.join(""),
    };
    Answer {
        parts: ordered
            .iter()
            .map(|(name, mass)| AnswerPart::grams(name, *mass))
            .collect(),
        ..plain(ordered[0].1.as_grams(), "g", words, sum)
    }
}

pub(super) fn flour_for(part_g: f64, percent: f64, context: &Context) -> Result<Answer, AskError> {
    let part = mass("grams", part_g)?;
    within("percent of the flour", percent, 0.01, 1000.0)?;
    let flour = part.times(100.0 / percent);
    Ok(plain(
        flour.as_grams(),
        "g",
        format!("{} of flour", near_grams(flour, context)),
        format!("{} g / {} x 100", n(part_g), n(percent)),
    ))
}

fn total(shares: &[Share]) -> Result<f64, AskError> {
    for share in shares {
        within("percent of the flour", share.percent, 0.0, 1000.0)?;
    }
    Ok(shares.iter().map(|s| s.percent).sum())
}

pub(super) fn flour_in_dough(
    dough_g: f64,
    shares: &[Share],
    context: &Context,
) -> Result<Answer, AskError> {
    let dough = mass("dough in grams", dough_g)?;
    let all = 100.0 + total(shares)?;
    let flour = dough.times(100.0 / all);
    let mut parts = vec![("flour", flour)];
    parts.extend(
        shares
            .iter()
            .map(|s| (&*s.name, flour.times(s.percent / 100.0))),
    );
    let sum = format!("{} g x 100 / {}", n(dough_g), n(all));
    Ok(of_parts(&parts, 0, sum, context))
}

pub(super) fn dough_mass(
    said: Option<f64>,
    shares: &[Share],
    context: &Context,
) -> Result<Answer, AskError> {
    if said.is_none() && shares.is_empty() {
        let dough = context.dough_g.ok_or(AskError::Missing {
            what: "the flour and the percentages",
        })?;
        let dough = Mass::grams(dough);
        return Ok(plain(
            dough.as_grams(),
            "g",
            format!("{} of dough in all", grams(dough, context)),
            "everything in the dough".to_owned(),
        ));
    }
    let flour = flour(said, context)?;
    let all = 100.0 + total(shares)?;
    let dough = flour.times(all / 100.0);
    Ok(plain(
        dough.as_grams(),
        "g",
        format!("{} of dough", near_grams(dough, context)),
        format!("{} g x {} / 100", n(flour.as_grams()), n(all)),
    ))
}

pub(super) fn shares(
    said: Option<f64>,
    shares: &[Share],
    context: &Context,
) -> Result<Answer, AskError> {
    let flour = flour(said, context)?;
    total(shares)?;
    let parts: Vec<(&str, Mass)> = shares
        .iter()
        .map(|s| (&*s.name, flour.times(s.percent / 100.0)))
        .collect();
    if parts.is_empty() {
        return Err(AskError::Missing {
            what: "the percentages",
        });
    }
    let percents: Vec<String> = shares.iter().map(|s| n(s.percent)).collect();
    let sum = format!("{} g x {} / 100", n(flour.as_grams()), percents.join(", "));
    Ok(of_parts(&parts, 0, sum, context))
}

pub(super) fn more_water(
    said: Option<f64>,
    from: f64,
    to: f64,
    context: &Context,
) -> Result<Answer, AskError> {
    let flour = flour(said, context)?;
    let (now, then) = (dough::water_for(flour, from)?, dough::water_for(flour, to)?);
    let more = Mass::grams((then.as_grams() - now.as_grams()).abs());
    let way = if to >= from { "more" } else { "less" };
    Ok(plain(
        more.as_grams(),
        "g",
        format!("{} {way} water", near_grams(more, context)),
        format!(
            "{} g x ({} - {}) / 100",
            n(flour.as_grams()),
            n(to),
            n(from)
        ),
    ))
}

/// Flour inside so much starter at a hydration.
fn inside(starter: Mass, percent: f64) -> Result<(Mass, Mass), AskError> {
    within("hydration of the starter in percent", percent, 20.0, 300.0)?;
    let flour = starter.times(100.0 / (100.0 + percent));
    Ok((flour, starter.less(flour)))
}

pub(super) fn hydration_of(
    flour_g: f64,
    water_g: f64,
    starter_g: f64,
    starter_percent: f64,
) -> Result<Answer, AskError> {
    let flour = mass("flour in grams", flour_g)?;
    let water = mass("water in grams", water_g)?;
    let (in_flour, in_water) = inside(mass("starter in grams", starter_g)?, starter_percent)?;
    let (flour, water) = (flour.plus(in_flour), water.plus(in_water));
    let percent = dough::bakers_percent(water, flour)?;
    let rounded = crate::measure::round_to(percent, 0.1);
    Ok(plain(
        percent,
        "%",
        format!(
            "{}: {} grams of water on {} grams of flour, with those of the starter",
            percent_words(rounded),
            n(water.as_grams()),
            n(flour.as_grams())
        ),
        format!(
            "{} g / {} g x 100",
            n(water.as_grams()),
            n(flour.as_grams())
        ),
    ))
}

pub(super) fn in_starter(
    starter_g: f64,
    percent: f64,
    water: bool,
    context: &Context,
) -> Result<Answer, AskError> {
    let (in_flour, in_water) = inside(mass("starter in grams", starter_g)?, percent)?;
    let sum = format!("{} g x 100 / (100 + {})", n(starter_g), n(percent));
    let parts = [("flour", in_flour), ("water", in_water)];
    Ok(of_parts(&parts, usize::from(water), sum, context))
}

pub(super) fn feed(
    seed_g: Option<f64>,
    wanted_g: Option<f64>,
    flour: f64,
    water: f64,
    first: Option<FeedPart>,
    context: &Context,
) -> Result<Answer, AskError> {
    within("parts of flour for one of starter", flour, 0.1, 100.0)?;
    within("parts of water for one of starter", water, 0.1, 100.0)?;
    let all = 1.0 + flour + water;
    let seed = match (seed_g, wanted_g) {
        (Some(seed), _) => mass("starter in grams", seed)?,
        (None, Some(wanted)) => mass("starter in grams", wanted)?.times(1.0 / all),
        (None, None) => {
            return Err(AskError::Missing {
                what: "how much starter you have, or how much you want",
            });
        }
    };
    let parts = [
        ("starter", seed),
        ("flour", seed.times(flour)),
        ("water", seed.times(water)),
    ];
    let at = match first {
        Some(FeedPart::Seed) => 0,
        Some(FeedPart::Water) => 2,
        Some(_) => 1,
        None => usize::from(seed_g.is_some()),
    };
    let ratio = format!("1 : {} : {}", n(flour), n(water));
    let sum = format!("{ratio} of {} g", n(seed.as_grams()));
    // Who asks what to feed knows what is fed: that comes last.
    let mut answer = of_parts(&parts, at, sum, context);
    if seed_g.is_some() && at != 0 {
        let (flour, water) = (parts[1], parts[2]);
        let order = if at == 1 {
            [flour, water]
        } else {
            [water, flour]
        };
        answer = of_parts(&order, 0, answer.sum, context);
    }
    let made = seed.times(all);
    if first == Some(FeedPart::All) {
        return Ok(Answer {
            value: made.as_grams(),
            words: format!("{} in all: {}", near_grams(made, context), answer.words),
            parts: std::iter::once(AnswerPart::grams("in all", made))
                .chain(
                    parts
                        .iter()
                        .map(|(name, mass)| AnswerPart::grams(name, *mass)),
                )
                .collect(),
            ..answer
        });
    }
    answer.words = format!("{}; that makes {}", answer.words, near_grams(made, context));
    Ok(answer)
}

pub(super) fn final_dough(
    flour_g: f64,
    water_g: f64,
    ahead_flour_g: f64,
    ahead_water_g: f64,
    context: &Context,
) -> Result<Answer, AskError> {
    let left = |what, all: f64, ahead: f64| -> Result<Mass, AskError> {
        within(what, ahead, 0.0, all)?;
        Ok(Mass::grams(all - ahead))
    };
    let parts = [
        (
            "flour",
            left("flour that went ahead", flour_g, ahead_flour_g)?,
        ),
        (
            "water",
            left("water that went ahead", water_g, ahead_water_g)?,
        ),
    ];
    let sum = format!(
        "{} - {} and {} - {}",
        n(flour_g),
        n(ahead_flour_g),
        n(water_g),
        n(ahead_water_g)
    );
    Ok(of_parts(&parts, 0, sum, context))
}

pub(super) fn ice(
    said: Option<f64>,
    tap_c: f64,
    water_c: f64,
    context: &Context,
) -> Result<Answer, AskError> {
    let water = said.or(context.water_g).ok_or(AskError::Missing {
        what: "how much water there is in all",
    })?;
    let water = mass("water in grams", water)?;
    within("tap water in celsius", tap_c, 0.1, WATER_MOST_C)?;
    within("wanted water in celsius", water_c, 0.0, tap_c)?;
    let ice = water.times((tap_c - water_c) / (tap_c + 80.0));
    let rest = water.less(ice);
    let words = format!(
        "{} of ice, and {} of tap water",
        near_grams(ice, context),
        near_grams(rest, context)
    );
    Ok(Answer {
        source: ICE.to_owned(),
        parts: vec![
            AnswerPart::grams("ice", ice),
            AnswerPart::grams("water", rest),
        ],
        ..plain(
            ice.as_grams(),
            "g",
            words,
            format!(
                "{} g x ({} - {}) / ({} + 80)",
                n(water.as_grams()),
                n(tap_c),
                n(water_c),
                n(tap_c)
            ),
        )
    })
}

pub(super) fn loss_is(dough_g: f64, baked_g: f64) -> Result<Answer, AskError> {
    mass("dough in grams", dough_g)?;
    within("baked mass in grams", baked_g, 0.001, dough_g)?;
    let percent = (dough_g - baked_g) / dough_g * 100.0;
    let rounded = crate::measure::round_to(percent, 0.1);
    Ok(plain(
        percent,
        "%",
        format!("{} lost in baking", capital(&percent_words(rounded))),
        format!("({} - {}) / {} x 100", n(dough_g), n(baked_g), n(dough_g)),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn share(name: &str, percent: f64) -> Share {
        Share {
            name: name.into(),
            percent,
        }
    }

    #[test]
    fn flour_from_what_stands_beside_it() {
        let c = Context::default();
        assert_eq!(flour_for(350.0, 70.0, &c).unwrap().value, 500.0);
        let dough =
            flour_in_dough(1640.0, &[share("water", 62.0), share("salt", 2.0)], &c).unwrap();
        assert!((dough.value - 1000.0).abs() < 1e-9);
        assert_eq!(dough.parts.len(), 3);
        assert!((dough.parts[2].value - 20.0).abs() < 1e-9);
        let back = dough_mass(
            Some(1000.0),
            &[share("water", 62.0), share("salt", 2.0)],
            &c,
        );
        assert!((back.unwrap().value - 1640.0).abs() < 1e-9);
        assert!(dough_mass(None, &[], &c).is_err());
        assert_eq!(more_water(Some(500.0), 65.0, 72.0, &c).unwrap().value, 35.0);
    }

    #[test]
    fn starters() {
        let c = Context::default();
        let fed = feed(Some(40.0), None, 2.0, 2.0, None, &c).unwrap();
        assert_eq!(
            fed.words,
            "eighty grams of flour and eighty grams of water; that makes two hundred grams"
        );
        let built = feed(None, Some(200.0), 2.0, 2.0, None, &c).unwrap();
        assert_eq!((built.value, built.parts[1].value), (40.0, 80.0));
        let wet = in_starter(450.0, 125.0, false, &c).unwrap();
        assert!((wet.value - 200.0).abs() < 1e-9 && (wet.parts[1].value - 250.0).abs() < 1e-9);
        let all = hydration_of(500.0, 360.0, 100.0, 100.0).unwrap();
        assert!((all.value - 410.0 / 550.0 * 100.0).abs() < 1e-9);
        let left = final_dough(1000.0, 680.0, 300.0, 300.0, &c).unwrap();
        assert_eq!((left.parts[0].value, left.parts[1].value), (700.0, 380.0));
        assert!(final_dough(100.0, 50.0, 300.0, 10.0, &c).is_err());
    }

    // The heat balance of ice at nought: m_ice (80 + wanted) = m_tap (tap - wanted), in calories a gram.
    #[test]
    fn ice_balances_the_heat() {
        let c = Context::default();
        for (water, tap, wanted) in [(350.0, 28.0, 12.0), (2000.0, 18.0, 4.0), (500.0, 22.0, 5.0)] {
            let ice = ice(Some(water), tap, wanted, &c).unwrap();
            let (cold, warm) = (ice.parts[0].value, ice.parts[1].value);
            assert!((cold * (80.0 + wanted) - warm * (tap - wanted)).abs() < 1e-6);
            assert!((cold + warm - water).abs() < 1e-9);
        }
        assert!(ice(Some(500.0), 10.0, 20.0, &c).is_err());
        assert!((loss_is(860.0, 750.0).unwrap().value - 12.790_697).abs() < 1e-5);
    }
}
