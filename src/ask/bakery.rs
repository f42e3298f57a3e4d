//! Dough sums as questions.

use super::error::within;
use super::{Answer, AnswerPart, AskError, Context, Question};
use crate::dough::{self, Preferment, WaterSum};
use crate::measure::words::{Style, cardinal, counted, number};
use crate::measure::{Mass, Temperature, print, say};
use crate::order::PrefermentKind;

const TRADE: &str = "common practice in the trade";
const MOST_G: f64 = 1_000_000.0;
/// Baking loss of a loaf when the formula gives none: 10 to 15 percent is common practice.
const LOSS_PERCENT: f64 = 12.0;

pub(super) fn grams(mass: Mass, context: &Context) -> String {
    say::mass(mass, &context.say())
}

/// One of several masses in a sentence: to the step of the scale, with 'about' where that moved it.
pub(super) fn near_grams(mass: Mass, context: &Context) -> String {
    let shown = mass.to_step(context.scale_step_g);
    let off = (shown.as_grams() - mass.as_grams()).abs() > mass.as_grams() * say::SILENT_SHARE;
    let about = if off { "about " } else { "" };
    format!("{about}{}", grams(shown, context))
}

pub(super) fn plain(value: f64, unit: &str, words: String, sum: String) -> Answer {
    Answer {
        value,
        high: None,
        parts: Vec::new(),
        unit: unit.to_owned(),
        words,
        sum,
        source: TRADE.to_owned(),
    }
}

pub(super) fn flour(said: Option<f64>, context: &Context) -> Result<Mass, AskError> {
    let g = said.or(context.flour_g).filter(|g| *g > 0.0);
    let g = g.ok_or(AskError::Missing { what: "the flour" })?;
    Ok(Mass::grams(within("flour in grams", g, 0.0, MOST_G)?))
}

fn dough(said: Option<f64>, context: &Context) -> Result<Mass, AskError> {
    let g = said.or(context.dough_g);
    let g = g.ok_or(AskError::Missing { what: "the dough" })?;
    Ok(Mass::grams(within("dough in grams", g, 0.0, MOST_G)?))
}

pub(super) fn water_for_flour(
    said: Option<f64>,
    percent: f64,
    context: &Context,
) -> Result<Answer, AskError> {
    let flour = flour(said, context)?;
    let water = dough::water_for(flour, percent)?;
    Ok(plain(
        water.as_grams(),
        "g",
        format!("{} of water", grams(water, context)),
        format!(
            "{} g x {} / 100",
            print::number(flour.as_grams(), 1),
            print::number(percent, 2)
        ),
    ))
}

pub(super) fn percent_of(percent: f64, g: f64, context: &Context) -> Result<Answer, AskError> {
    within("percent", percent, 0.0, 10_000.0)?;
    within("grams", g, 0.0, MOST_G)?;
    let part = Mass::grams(g * percent / 100.0);
    Ok(Answer {
        source: "arithmetic".to_owned(),
        ..plain(
            part.as_grams(),
            "g",
            grams(part, context),
            format!(
                "{} g x {} / 100",
                print::number(g, 2),
                print::number(percent, 3)
            ),
        )
    })
}

pub(super) fn percent_is(part_g: f64, whole_g: f64) -> Result<Answer, AskError> {
    within("grams", part_g, 0.0, MOST_G)?;
    within("flour in grams", whole_g, 0.0, MOST_G)?;
    let percent = dough::bakers_percent(Mass::grams(part_g), Mass::grams(whole_g))?;
    let rounded = crate::measure::round_to(percent, 0.1);
    Ok(plain(
        percent,
        "%",
        format!("{} percent", number(rounded, Style::Scale)),
        format!(
            "{} g / {} g x 100",
            print::number(part_g, 2),
            print::number(whole_g, 2)
        ),
    ))
}

pub(super) fn water_temperature(
    question: &Question,
    context: &Context,
) -> Result<Answer, AskError> {
    let &Question::WaterTemperature {
        dough_c,
        flour_c,
        room_c,
        preferment_c,
        friction_c,
        tap_c,
    } = question
    else {
        return Err(AskError::Missing {
            what: "a water temperature question",
        });
    };
    let dough_c = dough_c.or(context.dough_c).ok_or(AskError::Missing {
        what: "the dough temperature that you want",
    })?;
    let room_c = room_c.or(context.room_c).ok_or(AskError::Missing {
        what: "the temperature of the room",
    })?;
    let flour_assumed = flour_c.is_none();
    let flour_c = flour_c.unwrap_or(room_c);
    let friction_c = friction_c.unwrap_or(context.friction_c);
    let sum = WaterSum {
        dough: Temperature::celsius(dough_c),
        flour: Temperature::celsius(flour_c),
        room: Temperature::celsius(room_c),
        preferment: preferment_c.map(Temperature::celsius),
        friction_c,
        tap: tap_c.or(context.tap_c).map(Temperature::celsius),
    };
    let advice = dough::water_temperature(&sum)?;
    let n = |x: f64| print::number(x, 1);
    let mut steps = format!(
        "{} x {} - {} - {}",
        advice.factors,
        n(dough_c),
        n(flour_c),
        n(room_c)
    );
    if let Some(p) = preferment_c {
        steps.push_str(&format!(" - {}", n(p)));
    }
    if friction_c != 0.0 {
        steps.push_str(&format!(" - {}", n(friction_c)));
    }
    let water_c = advice.water.as_celsius();
    let mut words = match advice.ice {
        None => format!("{} degrees", say::degrees(water_c)),
        Some(ice) => {
            steps.push_str(&format!(
                "; ice = ({} - {}) / ({} + 80) of the water",
                n(ice.tap.as_celsius()),
                n(water_c),
                n(ice.tap.as_celsius())
            ));
            let percent = (ice.share * 100.0).ceil();
            let tap = format!("tap water at {}", say::degrees(ice.tap.as_celsius()));
            let assumed = if ice.tap_assumed {
                ", which I assumed"
            } else {
                ""
            };
            format!(
                "ice for {} percent of the water, the rest {tap}{assumed}",
                cardinal(percent as u64)
            )
        }
    };
    if flour_assumed {
        words.push_str(", with the flour as warm as the room");
    }
    Ok(plain(water_c, "c", words, steps))
}

pub(super) fn friction(question: &Question) -> Result<Answer, AskError> {
    let &Question::Friction {
        dough_c,
        flour_c,
        room_c,
        water_c,
        preferment_c,
    } = question
    else {
        return Err(AskError::Missing {
            what: "a friction question",
        });
    };
    for t in [
        Some(dough_c),
        Some(flour_c),
        Some(room_c),
        Some(water_c),
        preferment_c,
    ]
    .into_iter()
    .flatten()
    {
        within("temperature in celsius", t, -30.0, 100.0)?;
    }
    let c = Temperature::celsius;
    let value = dough::friction(
        c(dough_c),
        c(flour_c),
        c(room_c),
        c(water_c),
        preferment_c.map(c),
    );
    let factors = if preferment_c.is_some() { 4 } else { 3 };
    Ok(plain(
        value,
        "c",
        format!(
            "friction is {} degrees for this mixer and this time",
            say::degrees(value)
        ),
        format!(
            "{factors} x {} - {} - {} - {}{}",
            print::number(dough_c, 1),
            print::number(flour_c, 1),
            print::number(room_c, 1),
            print::number(water_c, 1),
            preferment_c.map_or_else(String::new, |p| format!(" - {}", print::number(p, 1)))
        ),
    ))
}

pub(super) fn rise(
    room_c: f64,
    minutes: Option<f64>,
    at_c: Option<f64>,
    halves_per_c: Option<f64>,
    context: &Context,
) -> Result<Answer, AskError> {
    let own = context.rise.as_ref().filter(|_| minutes.is_none());
    let known = minutes.or(own.map(|(_, minutes)| *minutes));
    // With no time to begin from, an hour stands for it and the answer is a multiple.
    let minutes = known.unwrap_or(60.0);
    let at = at_c.unwrap_or(dough::RISE_ROOM_C);
    let mut range = dough::rise_at(
        minutes,
        Temperature::celsius(at),
        Temperature::celsius(room_c),
    )?;
    if let Some(per) = halves_per_c {
        within("degrees that halve the time", per, 2.0, 30.0)?;
        let exact = minutes * 2f64.powf((at - room_c) / per);
        (range.from_minutes, range.to_minutes) = (exact, exact);
    }
    let (low, high) = (time_step(range.from_minutes), time_step(range.to_minutes));
    let mut words = if (low - high).abs() < 1e-9 {
        format!("about {}", time(low))
    } else {
        let (low, high) = (time(low), time(high));
        let unit = low.rsplit(' ').next().unwrap_or_default();
        // 'seventy five to eighty minutes', but 'eighty five minutes to one hour and a half'.
        match low
            .strip_suffix(unit)
            .filter(|_| high.ends_with(unit) && !low.contains("hour"))
        {
            Some(number) => format!("{number}to {high}"),
            None => format!("{low} to {high}"),
        }
    };
    if let Some((name, _)) = own {
        words.push_str(&format!(" for the {name}"));
    }
    let n = |x: f64| print::number(x, 1);
    let per = halves_per_c.map_or_else(|| "8 to 10".to_owned(), n);
    let mut sum = format!("2 ^ (({} - {}) / {per})", n(at), n(room_c));
    let (mut value, mut unit) = ((range.from_minutes, range.to_minutes), "min");
    if known.is_some() {
        sum = format!("{} min x {sum}", n(minutes));
    } else {
        words = format!(
            "what takes an hour at {} degrees takes {words}",
            say::degrees(at)
        );
        (value, unit) = ((value.0 / minutes, value.1 / minutes), "times");
    }
    Ok(Answer {
        high: Some(value.1),
        ..plain(value.0, unit, format!("{words}: look, not clock"), sum)
    })
}

/// Times of a rise are guesses: to five minutes below two hours, to a quarter of an hour above.
fn time_step(minutes: f64) -> f64 {
    crate::measure::round_to(minutes, if minutes < 120.0 { 5.0 } else { 15.0 }).max(5.0)
}

fn time(minutes: f64) -> String {
    if minutes < 90.0 {
        return counted(minutes, "minute", "minutes", Style::Scale);
    }
    let (hours, rest) = ((minutes / 60.0).floor(), minutes % 60.0);
    if rest == 0.0 || rest == 30.0 {
        return counted(minutes / 60.0, "hour", "hours", Style::Scale);
    }
    format!(
        "{} {}",
        counted(hours, "hour", "hours", Style::Scale),
        counted(rest, "minute", "minutes", Style::Scale)
    )
}

pub(super) fn pieces(
    said: Option<f64>,
    each_g: f64,
    context: &Context,
) -> Result<Answer, AskError> {
    let dough = dough(said, context)?;
    let pieces = dough::pieces_from(dough, Mass::grams(each_g))?;
    let mut words = match pieces.count {
        0 => format!("none: there are only {} of dough", grams(dough, context)),
        1 => "one piece".to_owned(),
        n => format!("{} pieces", cardinal(n)),
    };
    let over = pieces.over.as_grams();
    if pieces.count > 0 && over >= 0.5 {
        words.push_str(&format!(
            ", and {} over",
            grams(Mass::grams(over.round()), context)
        ));
        let even = pieces.even.as_grams().floor();
        if even > each_g.floor() {
            words.push_str(&format!(
                ": or make each {}",
                grams(Mass::grams(even), context)
            ));
        }
    }
    Ok(Answer {
        source: "arithmetic".to_owned(),
        ..plain(
            pieces.count as f64,
            "pieces",
            words,
            format!(
                "{} g / {} g",
                print::number(dough.as_grams(), 1),
                print::number(each_g, 1)
            ),
        )
    })
}

/// What baking takes: as said, else as the formula has it, else as a loaf commonly loses.
fn loss_percent(said: Option<f64>, context: &Context) -> f64 {
    said.or(context.loss_percent).unwrap_or(LOSS_PERCENT)
}

pub(super) fn dough_for(
    baked_g: f64,
    loss: Option<f64>,
    context: &Context,
) -> Result<Answer, AskError> {
    within("baked mass in grams", baked_g, 0.0, MOST_G)?;
    let loss = loss_percent(loss, context);
    let dough = dough::dough_for(Mass::grams(baked_g), loss)?;
    let rounded = Mass::grams(crate::measure::round_to(dough.as_grams(), 5.0));
    Ok(plain(
        dough.as_grams(),
        "g",
        format!(
            "about {} of dough, with {} percent lost in baking",
            grams(rounded, context),
            number(loss, Style::Scale)
        ),
        format!(
            "{} g / (1 - {} / 100)",
            print::number(baked_g, 1),
            print::number(loss, 1)
        ),
    ))
}

pub(super) fn baked(
    said: Option<f64>,
    loss: Option<f64>,
    context: &Context,
) -> Result<Answer, AskError> {
    let dough = dough(said, context)?;
    let loss = loss_percent(loss, context);
    let baked = dough::baked_mass(dough, loss)?;
    let rounded = Mass::grams(crate::measure::round_to(baked.as_grams(), 5.0));
    Ok(plain(
        baked.as_grams(),
        "g",
        format!(
            "about {}, with {} percent lost in baking",
            grams(rounded, context),
            number(loss, Style::Scale)
        ),
        format!(
            "{} g x (1 - {} / 100)",
            print::number(dough.as_grams(), 1),
            print::number(loss, 1)
        ),
    ))
}

pub(super) fn preferment(
    kind: PrefermentKind,
    percent: f64,
    said: Option<f64>,
    hydration: Option<f64>,
    context: &Context,
) -> Result<Answer, AskError> {
    let kind = match kind {
        PrefermentKind::Poolish => Preferment::Poolish,
        PrefermentKind::Biga => Preferment::Biga,
        PrefermentKind::Sponge => Preferment::Sponge,
        PrefermentKind::Levain => Preferment::Levain {
            hydration: hydration.unwrap_or(100.0),
        },
    };
    let flour = flour(said, context)?;
    // The water left is told where the formula gives the water; else it is taken as enough.
    let own = context.water_g.filter(|_| said.is_none());
    let water = own.map_or(flour.times(3.0), Mass::grams);
    let split = dough::split(flour, water, percent, kind)?;
    let grams = |mass| near_grams(mass, context);
    let mut words = format!(
        "{} of flour and {} of water for the {}; {} of flour",
        grams(split.ahead_flour),
        grams(split.ahead_water),
        kind.word(),
        grams(split.rest_flour)
    );
    if own.is_some() {
        words.push_str(&format!(" and {} of water", grams(split.rest_water)));
    }
    words.push_str(" stay for the dough");
    let mut parts = vec![
        AnswerPart::grams("flour ahead", split.ahead_flour),
        AnswerPart::grams("water ahead", split.ahead_water),
        AnswerPart::grams("flour left", split.rest_flour),
    ];
    if own.is_some() {
        parts.push(AnswerPart::grams("water left", split.rest_water));
    }
    Ok(Answer {
        parts,
        ..plain(
            split.ahead().as_grams(),
            "g",
            words,
            format!(
                "{} g x {} / 100, and {} / 100 of that in water",
                print::number(flour.as_grams(), 1),
                print::number(percent, 2),
                print::number(kind.hydration(), 1)
            ),
        )
    })
}
