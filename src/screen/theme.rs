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
    /// The sixteen that every terminal has. A console has only the first eight of them as grounds, and shows bold letters of
    /// those eight in the other eight; so neither is asked of it.
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
    /// A ringing timer.
    Alarm,
    /// What can hurt somebody: cautions and allergens.
    Caution,
    /// A question that waits.
    Question,
    /// What keys do, and other helps.
    Help,
}

/// All roles.
pub const ROLES: [Role; 7] = [
    Role::Text,
    Role::Big,
    Role::Timer,
    Role::Alarm,
    Role::Caution,
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
    /// The signs of a text console only.
    pub console: bool,
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
        Self {
            ground,
            depth,
            console: false,
        }
    }

    /// A sign as this terminal can show it. The font of a text console has the letters of a PC's first screens (code page
    /// 437) and little else.
    pub fn sign(self, sign: char) -> char {
        match sign {
            _ if !self.console => sign,
            '…' => '»',
            '\u{2018}' | '\u{2019}' => '\'',
            '\u{201c}' | '\u{201d}' => '"',
            '\u{2010}'..='\u{2014}' => '-',
            '×' => 'x',
            other => other,
        }
    }

    /// The theme for this terminal, from its environment.
    pub fn from_environment(ground: Ground) -> Self {
        let var = |name| std::env::var(name).ok();
        let (no_color, colorterm) = (var("NO_COLOR"), var("COLORTERM"));
        let theme = Self::for_terminal(ground, no_color.as_deref(), colorterm.as_deref());
        Self {
            console: var("TERM").as_deref() == Some("linux"),
            ..theme
        }
    }

    /// Letters and ground of a role; nothing without colours.
    pub fn pair(self, role: Role) -> Option<(Color, Color)> {
        let rgb = |hex: u32| Color::Rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8);
        let pair = match (self.depth, self.ground) {
            (Depth::None, _) => return None,
            (Depth::Sixteen, Ground::Dark) => match role {
                Role::Text => (Color::White, Color::Black),
                Role::Big | Role::Help | Role::Caution => (Color::LightYellow, Color::Black),
                Role::Timer => (Color::LightCyan, Color::Black),
                Role::Alarm => (Color::Black, Color::Cyan),
                Role::Question => (Color::Black, Color::Gray),
            },
            (Depth::Sixteen, Ground::Light) => match role {
                Role::Text | Role::Big | Role::Timer | Role::Help => (Color::Black, Color::Gray),
                Role::Alarm | Role::Caution => (Color::White, Color::Black),
                Role::Question => (Color::White, Color::Blue),
            },
            (Depth::Full, Ground::Dark) => match role {
                Role::Text => (rgb(0xf4_f1_ea), rgb(0x0c_10_14)),
                Role::Big | Role::Caution => (rgb(0xff_e0_82), rgb(0x0c_10_14)),
                Role::Timer => (rgb(0x8f_e3_e8), rgb(0x0c_10_14)),
                Role::Help => (rgb(0xd6_cf_c0), rgb(0x0c_10_14)),
                Role::Alarm => (rgb(0x0c_10_14), rgb(0xff_c2_4d)),
                Role::Question => (rgb(0x0c_10_14), rgb(0xf4_f1_ea)),
            },
            (Depth::Full, Ground::Light) => match role {
                Role::Text => (rgb(0x16_1a_1d), rgb(0xfd_fa_f3)),
                Role::Big => (rgb(0x00_00_00), rgb(0xfd_fa_f3)),
                Role::Caution => (rgb(0x7a_10_10), rgb(0xfd_fa_f3)),
                Role::Timer => (rgb(0x0b_3c_5d), rgb(0xfd_fa_f3)),
                Role::Help => (rgb(0x3d_3a_33), rgb(0xfd_fa_f3)),
                Role::Alarm => (rgb(0xff_ff_ff), rgb(0x7a_10_10)),
                Role::Question => (rgb(0xfd_fa_f3), rgb(0x16_1a_1d)),
            },
        };
        Some(pair)
    }

    /// The style of a role. Where there are no colours alarm and question are reversed and the other large things bold:
    /// both together would be dark grey on grey on a console, and so would bold black be.
    pub fn style(self, role: Role) -> Style {
        let stands_out = !matches!(role, Role::Text | Role::Help);
        let bold = |style: Style, is: bool| {
            if is {
                style.add_modifier(Modifier::BOLD)
            } else {
                style
            }
        };
        match self.pair(role) {
            Some((letters, ground)) => {
                let style = Style::new().fg(letters).bg(ground);
                bold(style, stands_out && self.depth == Depth::Full)
            }
            None if matches!(role, Role::Alarm | Role::Question) => {
                Style::new().add_modifier(Modifier::REVERSED)
            }
            None => bold(Style::new(), stands_out),
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
            Color::Cyan => palette[6],
            Color::Gray => palette[7],
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
                    let (letters, under) = Theme {
                        ground,
                        depth,
                        console: false,
                    }
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

    /// A console (Linux, `console_codes(4)`) has eight grounds, and letters of the first eight colours that are bold, or are
    /// shown the other way round, come out of the other eight: black becomes dark grey.
    #[test]
    fn a_console_with_eight_grounds_has_seven_to_one_as_well() {
        let eight = [Color::Black, Color::Blue, Color::Cyan, Color::Gray];
        for ground in [Ground::Dark, Ground::Light] {
            let depth = Depth::Sixteen;
            for role in ROLES {
                let theme = Theme {
                    ground,
                    depth,
                    console: false,
                };
                let (_, under) = theme.pair(role).expect("a pair with colours");
                assert!(eight.contains(&under), "{ground:?} {role:?}: {under:?}");
                let style = theme.style(role);
                assert!(
                    !style.add_modifier.contains(Modifier::BOLD),
                    "{ground:?} {role:?}"
                );
            }
            let style = Theme {
                ground,
                depth: Depth::None,
                console: false,
            }
            .style(Role::Alarm);
            assert_eq!(style.add_modifier, Modifier::REVERSED);
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
                console: false,
            }
            .style(role);
            assert_eq!((style.fg, style.bg), (None, None));
        }
    }
}
