//! Eggs by the sizes on the box: 'how heavy is a large yolk', 'how many medium eggs in 300 grams'.

use super::error::within;
use super::{Answer, AskError, Context, EggPart};
use crate::measure::words::{Style, counted};
use crate::measure::{Egg, Mass, Region, print, say};

/// Grams in one, and where that comes from. Without a size the usual one is meant: medium, but large in the United States
/// and Australia.
fn grams(part: EggPart, size: Option<&str>, region: Region) -> Result<(f64, String), AskError> {
    let size = size.unwrap_or(Egg::usual(region));
    let egg = Egg::of_size(size, region).ok_or_else(|| AskError::UnknownWord {
        expected: "small, medium, large or extra large eggs",
        found: size.to_owned(),
    })?;
    let g = match part {
        EggPart::Shell => return Ok((egg.shell_g, egg.source.to_owned())),
        EggPart::Whole => egg.inside_g,
        EggPart::White => egg.white_g(),
        EggPart::Yolk => egg.yolk_g(),
    };
    Ok((g, format!("{}; {}", egg.source, Egg::shares_source())))
}

pub(super) fn eggs(
    number: Option<f64>,
    mass_g: Option<f64>,
    part: EggPart,
    size: Option<&str>,
    region: Option<Region>,
    context: &Context,
) -> Result<Answer, AskError> {
    let (g, source) = grams(part, size, region.unwrap_or(context.region))?;
    // Where no country is meant, a size is one by the European or by the American box.
    let other = (region.is_none() && context.region == Region::Metric && size.is_some())
        .then(|| grams(part, size, Region::Us).ok())
        .flatten()
        .filter(|(us, _)| (us / g - 1.0).abs() > 0.03);
    let (one, many) = match part {
        EggPart::Whole | EggPart::Shell => ("egg", "eggs"),
        EggPart::White => ("egg white", "egg whites"),
        EggPart::Yolk => ("egg yolk", "egg yolks"),
    };
    let each = print::number(g, 1);
    if let Some(mass) = mass_g {
        let count = within("grams", mass, 0.0, 1_000_000.0)? / g;
        let near = |count: f64| {
            crate::measure::round_to(count, if count < 10.0 { 0.5 } else { 1.0 }).max(0.5)
        };
        let most = other
            .as_ref()
            .map(|(us, _)| mass / us)
            .filter(|most| near(*most) > near(count));
        let american = most.map_or_else(String::new, |most| {
            format!(
                "; of the smaller American size {}",
                crate::measure::words::number(near(most), Style::Kitchen)
            )
        });
        let near = near(count);
        return Ok(Answer {
            value: count,
            high: most,
            unit: one.rsplit(' ').next().unwrap_or(one).to_owned(),
            parts: Vec::new(),
            words: format!(
                "about {}{american}",
                counted(near, one, many, Style::Kitchen)
            ),
            sum: format!("{} g / {each} g", print::number(mass, 1)),
            source,
        });
    }
    let number = within("number", number.unwrap_or(1.0), 0.0, 1_000_000.0)?;
    let mass = Mass::grams(number * g);
    let shell = if part == EggPart::Shell {
        ", in the shell"
    } else {
        ""
    };
    let said = |mass: Mass| say::mass(mass.to_step(1.0), &context.say());
    if let Some((us, other)) = other.filter(|(us, _)| *us < g) {
        let least = Mass::grams(number * us);
        return Ok(Answer {
            value: least.as_grams(),
            high: Some(mass.as_grams()),
            unit: "g".to_owned(),
            parts: Vec::new(),
            words: format!(
                "about {}{shell} by the European size, {} by the American",
                said(mass),
                said(least)
            ),
            sum: format!(
                "{0} x {each} g, {0} x {1} g",
                print::number(number, 2),
                print::number(us, 1)
            ),
            source: format!("{source}; {other}"),
        });
    }
    Ok(Answer {
        value: mass.as_grams(),
        high: None,
        unit: "g".to_owned(),
        parts: Vec::new(),
        words: format!("about {}{shell}", said(mass)),
        sum: format!("{} x {each} g", print::number(number, 2)),
        source,
    })
}

#[cfg(test)]
mod tests {
    use super::eggs;
    use crate::ask::{Context, EggPart};
    use crate::measure::Region;

    // Regulation (EC) No 589/2008, article 4, and USDA AMS 56.218: in the shell. USDA SR28: inside a large one.
    #[test]
    fn sizes_go_by_the_region() {
        let one = |part, size, region| {
            eggs(
                Some(1.0),
                None,
                part,
                Some(size),
                Some(region),
                &Context::default(),
            )
            .unwrap()
            .value
        };
        let shell = |size, region| one(EggPart::Shell, size, region);
        assert_eq!(shell("medium", Region::Uk), 58.0);
        assert_eq!(shell("large", Region::Metric), 68.0);
        assert!((shell("large", Region::Us) * 12.0 / 28.349_523_125 - 24.0).abs() < 0.01);
        assert_eq!(one(EggPart::Whole, "large", Region::Us), 50.0);
        assert_eq!(one(EggPart::White, "large", Region::Us), 33.0);
        assert_eq!(one(EggPart::Yolk, "large", Region::Us), 17.0);
        assert!(
            one(EggPart::Whole, "large", Region::Uk) > one(EggPart::Whole, "large", Region::Us)
        );
        // Everywhere the usual egg is about fifty grams.
        for region in Region::ALL {
            let usual = eggs(
                Some(1.0),
                None,
                EggPart::Whole,
                None,
                Some(region),
                &Context::default(),
            );
            assert!((usual.unwrap().value - 50.0).abs() < 1.5, "{region:?}");
        }
        let count = eggs(
            None,
            Some(200.0),
            EggPart::Whole,
            Some("large"),
            Some(Region::Us),
            &Context::default(),
        );
        assert_eq!(count.unwrap().words, "about four eggs");
    }
}
