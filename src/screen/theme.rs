//! Colours, all of them: every pair that is ever drawn stands here and is measured in a test.

use ratatui::style::{Color, Modifier, Style};

/// Light on dark or dark on light.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ground {
    /// Light letters on a dark ground.
    #[default]
    Dark,
    /// Dark letters on a light ground.
    Light,
}

/// How many colours the terminal has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Depth {
    /// None are wanted: weight and reversal only.
    None,
    /// The sixteen that every terminal has.
    #[default]
    Sixteen,
    /// Any.
    Full,
}

/// What a piece of the screen is for. Every role also has words or a sign: colour only helps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Plain text.
    Text,
    /// The one big thing.
    Big,
    /// A running timer.
    Timer,
    /// A ringing timer, or what has gone wrong.
    Alarm,
    /// A question that waits.
    Question,
    /// What keys do, and other helps.
    Help,
}

/// All roles.
pub const ROLES: [Role; 6] = [
    Role::Text,
    Role::Big,
    Role::Timer,
    Role::Alarm,
    Role::Question,
    Role::Help,
];

/// A set of colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Theme {
    /// The ground.
    pub ground: Ground,
    /// The colours there are.
    pub depth: Depth,
}

impl Theme {
    /// The theme for a terminal: no colours when `NO_COLOR` is set and not empty (no-color.org), all of them when
    /// `COLORTERM` says so.
    pub fn for_terminal(ground: Ground, no_color: Option<&str>, colorterm: Option<&str>) -> Self {
        let depth = if no_color.is_some_and(|v| !v.is_empty()) {
            Depth::None
        } else if colorterm.is_some_and(|v| matches!(v, "truecolor" | "24bit")) {
            Depth::Full
        } else {
            Depth::Sixteen
        };
        Self { ground, depth }
    }

    /// The theme for this terminal, from its environment.
    pub fn from_environment(ground: Ground) -> Self {
        let var = |name| std::env::var(name).ok();
        Self::for_terminal(
            ground,
            var("NO_COLOR").as_deref(),
            var("COLORTERM").as_deref(),
        )
    }

    /// Letters and ground of a role; nothing without colours.
    pub fn pair(self, role: Role) -> Option<(Color, Color)> {
        let rgb = |hex: u32| Color::Rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8);
        let pair = match (self.depth, self.ground) {
            (Depth::None, _) => return None,
            (Depth::Sixteen, Ground::Dark) => match role {
                Role::Text => (Color::White, Color::Black),
                Role::Big | Role::Help => (Color::LightYellow, Color::Black),
                Role::Timer => (Color::LightCyan, Color::Black),
                Role::Alarm => (Color::Black, Color::LightYellow),
                Role::Question => (Color::Black, Color::White),
            },
            (Depth::Sixteen, Ground::Light) => match role {
                Role::Text | Role::Big => (Color::Black, Color::White),
                Role::Timer | Role::Help => (Color::Blue, Color::White),
                Role::Alarm => (Color::White, Color::Black),
                Role::Question => (Color::White, Color::Blue),
            },
            (Depth::Full, Ground::Dark) => match role {
                Role::Text => (rgb(0xf4_f1_ea), rgb(0x0c_10_14)),
                Role::Big => (rgb(0xff_e0_82), rgb(0x0c_10_14)),
                Role::Timer => (rgb(0x8f_e3_e8), rgb(0x0c_10_14)),
                Role::Help => (rgb(0xd6_cf_c0), rgb(0x0c_10_14)),
                Role::Alarm => (rgb(0x0c_10_14), rgb(0xff_c2_4d)),
                Role::Question => (rgb(0x0c_10_14), rgb(0xf4_f1_ea)),
            },
            (Depth::Full, Ground::Light) => match role {
                Role::Text => (rgb(0x16_1a_1d), rgb(0xfd_fa_f3)),
                Role::Big => (rgb(0x00_00_00), rgb(0xfd_fa_f3)),
                Role::Timer => (rgb(0x0b_3c_5d), rgb(0xfd_fa_f3)),
                Role::Help => (rgb(0x3d_3a_33), rgb(0xfd_fa_f3)),
                Role::Alarm => (rgb(0xff_ff_ff), rgb(0x7a_10_10)),
                Role::Question => (rgb(0xfd_fa_f3), rgb(0x16_1a_1d)),
            },
        };
        Some(pair)
    }

    /// The style of a role. Alarm and question are reversed and the large things bold where there are no colours.
    pub fn style(self, role: Role) -> Style {
        let style = match role {
            Role::Text | Role::Help => Style::new(),
            Role::Big | Role::Timer | Role::Question | Role::Alarm => {
                Style::new().add_modifier(Modifier::BOLD)
            }
        };
        match self.pair(role) {
            Some((letters, ground)) => style.fg(letters).bg(ground),
            None if matches!(role, Role::Alarm | Role::Question) => {
                style.add_modifier(Modifier::REVERSED)
            }
            None => style,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The sixteen colours as xterm has them by default (XTerm-col.ad) and as the Linux console has them (vga16).
    /// Written down from memory.
    const XTERM: [u32; 16] = [
        0x00_00_00, 0xcd_00_00, 0x00_cd_00, 0xcd_cd_00, 0x00_00_ee, 0xcd_00_cd, 0x00_cd_cd,
        0xe5_e5_e5, 0x7f_7f_7f, 0xff_00_00, 0x00_ff_00, 0xff_ff_00, 0x5c_5c_ff, 0xff_00_ff,
        0x00_ff_ff, 0xff_ff_ff,
    ];
    const VGA: [u32; 16] = [
        0x00_00_00, 0xaa_00_00, 0x00_aa_00, 0xaa_55_00, 0x00_00_aa, 0xaa_00_aa, 0x00_aa_aa,
        0xaa_aa_aa, 0x55_55_55, 0xff_55_55, 0x55_ff_55, 0xff_ff_55, 0x55_55_ff, 0xff_55_ff,
        0x55_ff_ff, 0xff_ff_ff,
    ];

    fn value(color: Color, palette: &[u32; 16]) -> u32 {
        match color {
            Color::Black => palette[0],
            Color::Blue => palette[4],
            Color::LightYellow => palette[11],
            Color::LightCyan => palette[14],
            Color::White => palette[15],
            Color::Rgb(r, g, b) => u32::from_be_bytes([0, r, g, b]),
            other => panic!("{other:?} is not measured"),
        }
    }

    /// WCAG 2.2, 'relative luminance'.
    fn luminance(rgb: u32) -> f64 {
        let channel = |shift: u32| {
            let c = f64::from(rgb >> shift & 0xff) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                ((c + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * channel(16) + 0.7152 * channel(8) + 0.0722 * channel(0)
    }

    /// WCAG 2.2, 'contrast ratio'.
    fn contrast(a: u32, b: u32) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn the_measure_is_right() {
        // WCAG 2.2: black on white is 21:1. #767676 on white is the well-known edge of 4.5:1 (from memory).
        assert!((contrast(0, 0xff_ff_ff) - 21.0).abs() < 1e-9);
        assert!((contrast(0x76_76_76, 0xff_ff_ff) - 4.54).abs() < 0.01);
    }

    #[test]
    fn every_pair_has_seven_to_one() {
        // WCAG 2.2, success criterion 1.4.6.
        for depth in [Depth::Sixteen, Depth::Full] {
            for ground in [Ground::Dark, Ground::Light] {
                for role in ROLES {
                    let (letters, under) = Theme { ground, depth }
                        .pair(role)
                        .expect("a pair with colours");
                    for palette in [&XTERM, &VGA] {
                        let ratio = contrast(value(letters, palette), value(under, palette));
                        assert!(ratio >= 7.0, "{ground:?} {depth:?} {role:?}: {ratio:.2}");
                    }
                }
            }
        }
    }

    #[test]
    fn colours_are_left_out_when_asked() {
        let theme = |no, depth| Theme::for_terminal(Ground::Dark, no, depth).depth;
        assert_eq!(theme(Some("1"), Some("truecolor")), Depth::None);
        assert_eq!(theme(Some(""), Some("truecolor")), Depth::Full);
        assert_eq!(theme(None, None), Depth::Sixteen);
        for role in ROLES {
            let style = Theme {
                ground: Ground::Light,
                depth: Depth::None,
            }
            .style(role);
            assert_eq!((style.fg, style.bg), (None, None));
        }
    }
}
