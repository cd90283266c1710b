//! Every style and every drawn sign, in one place.
//!
//! The colours are those of Okabe and Ito (2008) and shades of them ([`ink`]). No state is told by
//! colour alone: each has a sign or a line of its own, so the same screens work without colour
//! (NO_COLOR) and in plain ASCII.

mod glyphs;
mod ink;

use std::fmt;

use ratatui::style::{Color, Modifier, Style};

use crate::settings::{Colour, Palette, Settings};
use crate::text::Choice;
pub(super) use glyphs::{Glyphs, SLOTS};
use ink::{DARK, Ink, LIGHT};

/// How many colours the terminal takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colours {
    None,
    Indexed,
    True,
}

/// What a terminal can show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    pub colours: Colours,
    pub ascii: bool,
}

impl Look {
    /// What the environment says: NO_COLOR, COLORTERM, TERM and the locale.
    #[must_use]
    pub fn from_env(var: impl Fn(&str) -> Option<String>) -> Self {
        let set = |name: &str| var(name).filter(|value| !value.is_empty());
        let term = set("TERM").unwrap_or_default();
        let colours = if set("NO_COLOR").is_some() || term == "vt100" {
            Colours::None
        } else {
            depth(&set)
        };
        Self {
            colours,
            ascii: is_plain(&set) || set("RINGBOUND_ASCII").is_some(),
        }
    }
}

impl fmt::Display for Look {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.colours {
            Colours::None => "no colours",
            Colours::Indexed => "256 colours",
            Colours::True => "true colours",
        })?;
        f.write_str(if self.ascii { ", ASCII" } else { ", Unicode" })
    }
}

fn depth(set: &impl Fn(&str) -> Option<String>) -> Colours {
    let deep = set("COLORTERM").is_some_and(|v| v.contains("truecolor") || v.contains("24bit"));
    if deep {
        Colours::True
    } else {
        Colours::Indexed
    }
}

/// Whether the terminal or the locale knows ASCII only.
fn is_plain(set: &impl Fn(&str) -> Option<String>) -> bool {
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set);
    let utf8 = locale.is_none_or(|locale| {
        let locale = locale.to_lowercase();
        locale.contains("utf-8") || locale.contains("utf8")
    });
    !utf8 || set("TERM").is_some_and(|term| term == "linux")
}

/// Whether the background is light, by COLORFGBG (`15;0`, `0;default;15`): its last number is that
/// of the background among the sixteen first colours, of which 7 and 15 are white. `None` where
/// the terminal does not say it.
fn said_light(set: &impl Fn(&str) -> Option<String>) -> Option<bool> {
    let words = set("COLORFGBG")?;
    let number: u8 = words.rsplit(';').next()?.trim().parse().ok()?;
    Some(matches!(number, 7 | 15))
}

/// What a piece of the screen is, to be styled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    Text,
    Quiet,
    Strong,
    /// The head of a card, from edge to edge of its pocket.
    Bar,
    InPlace,
    Gap,
    Waiting,
    Misplaced,
    Keepsake,
    Cursor,
    /// What is in hand, where it travels.
    Carried,
    Key,
    Warning,
    Selected,
}

impl Role {
    /// Each with its word in the settings, and what it is, in the order of the type.
    pub(super) const ALL: [(Self, &'static str, &'static str); 14] = [
        (Self::Text, "text", "words"),
        (Self::Quiet, "quiet", "words of less weight"),
        (Self::Strong, "strong", "words of more weight"),
        (Self::Bar, "bar", "the head of a card in its pocket"),
        (Self::InPlace, "in-place", "a card in its pocket"),
        (Self::Gap, "gap", "a pocket that waits for a card"),
        (Self::Waiting, "waiting", "a loose copy could go in"),
        (
            Self::Misplaced,
            "misplaced",
            "a card in a pocket meant for another",
        ),
        (Self::Keepsake, "keepsake", "a keepsake"),
        (Self::Cursor, "cursor", "where you are"),
        (Self::Carried, "carried", "what is in hand"),
        (Self::Key, "key", "keys in the last line"),
        (Self::Warning, "warning", "what went wrong"),
        (Self::Selected, "selected", "the chosen line"),
    ];
}

/// Styles and signs for one terminal.
#[derive(Clone, Copy, Debug)]
pub struct Theme {
    pub look: Look,
    glyphs: &'static Glyphs,
    styles: [Style; Role::ALL.len()],
}

impl Theme {
    /// As it is built in, for a dark background.
    #[must_use]
    pub fn new(look: Look) -> Self {
        Self::of(look, false)
    }

    fn of(look: Look, light: bool) -> Self {
        let ink = if light { &LIGHT } else { &DARK };
        Self {
            look,
            glyphs: if look.ascii {
                &glyphs::ASCII
            } else {
                &glyphs::UNICODE
            },
            styles: Role::ALL.map(|(role, ..)| style(role, ink, look.colours)),
        }
    }

    /// For this terminal and person. What was `asked` for by an option goes before the environment
    /// (NO_COLOR, RINGBOUND_COLOURS, RINGBOUND_ASCII), that before the settings, and these before
    /// what the terminal is found to be. Whether that `is_light` is asked only where nothing else
    /// tells and it makes a difference.
    #[must_use]
    pub fn choose(
        var: impl Fn(&str) -> Option<String>,
        asked: Option<Palette>,
        settings: &Settings,
        is_light: impl FnOnce() -> Option<bool>,
    ) -> Self {
        let set = |name: &str| var(name).filter(|value| !value.is_empty());
        let mut look = Look::from_env(&var);
        if set("RINGBOUND_ASCII").is_none() {
            look.ascii = settings.screen.ascii.unwrap_or_else(|| is_plain(&set));
        }
        let named = set("RINGBOUND_COLOURS").and_then(|word| Palette::of_word(&word));
        let palette = asked.or(named).unwrap_or(settings.screen.palette);
        if asked.is_some_and(|asked| asked != Palette::None) {
            look.colours = depth(&set);
        }
        if palette == Palette::None {
            look.colours = Colours::None;
        }
        let light = match palette {
            Palette::Light => true,
            Palette::Auto if look.colours != Colours::None => {
                said_light(&set).or_else(is_light).unwrap_or(false)
            }
            Palette::Auto | Palette::Dark | Palette::None => false,
        };
        Self::of(look, light).with(settings)
    }

    /// With the colours and signs that a person has set.
    fn with(mut self, settings: &Settings) -> Self {
        for (at, (_, word, _)) in Role::ALL.iter().enumerate() {
            if let Some(colour) = settings.colours.get(*word) {
                let style = &mut self.styles[at];
                style.fg = in_depth(*colour, self.look.colours);
            }
        }
        let plain = |signs: &[String]| signs.iter().all(|sign| sign.is_ascii());
        let slots = SLOTS.iter().filter_map(|slot| {
            let signs = settings.signs.get(slot.word)?;
            (!self.look.ascii || plain(signs)).then_some((slot, signs))
        });
        let mut own: Option<Glyphs> = None;
        for (slot, signs) in slots {
            // A theme lasts as long as the program, and signs are drawn by reference to it.
            let signs: Vec<&'static str> = signs.iter().map(|sign| &*sign.clone().leak()).collect();
            slot.put(own.get_or_insert_with(|| self.glyphs.clone()), &signs);
        }
        if let Some(own) = own {
            self.glyphs = Box::leak(Box::new(own));
        }
        self
    }

    /// The symbol of a set, where the terminal can show it.
    #[must_use]
    pub(super) fn symbol<'s>(&self, symbol: &'s str) -> &'s str {
        if self.look.ascii && !symbol.is_ascii() {
            return "";
        }
        symbol
    }

    /// A number, and a sign before it where it may be less.
    pub(in crate::ui) fn number(&self, number: usize, may_be_less: bool) -> String {
        let sign = if may_be_less {
            self.glyphs().at_most
        } else {
            ""
        };
        format!("{sign}{number}")
    }

    #[must_use]
    pub(super) fn glyphs(&self) -> &'static Glyphs {
        self.glyphs
    }

    #[must_use]
    pub fn style(&self, role: Role) -> Style {
        self.styles[role as usize]
    }
}

fn style(role: Role, ink: &Ink, colours: Colours) -> Style {
    let plain = Style::new();
    let colour = |(rgb, index): (u32, u8)| match colours {
        Colours::None => plain,
        Colours::Indexed => plain.fg(Color::Indexed(index)),
        Colours::True => plain.fg(ink::rgb(rgb)),
    };
    match role {
        Role::Text => plain,
        Role::Quiet if colours == Colours::None => plain.add_modifier(Modifier::DIM),
        Role::Quiet => colour(ink.quiet),
        Role::Strong => plain.add_modifier(Modifier::BOLD),
        Role::Bar => plain.add_modifier(Modifier::BOLD | Modifier::REVERSED),
        Role::Selected => plain.add_modifier(Modifier::REVERSED),
        Role::InPlace => colour(ink.in_place).add_modifier(Modifier::BOLD),
        Role::Gap => colour(ink.gap),
        Role::Waiting => colour(ink.waiting).add_modifier(Modifier::BOLD),
        Role::Misplaced => colour(ink.misplaced).add_modifier(Modifier::BOLD),
        Role::Keepsake => colour(ink.keepsake),
        Role::Cursor => colour(ink.waiting).add_modifier(Modifier::BOLD),
        Role::Carried => colour(ink.waiting).add_modifier(Modifier::BOLD | Modifier::REVERSED),
        Role::Key => colour(ink.gap).add_modifier(Modifier::BOLD),
        Role::Warning => colour(ink.misplaced).add_modifier(Modifier::BOLD | Modifier::REVERSED),
    }
}

/// A colour of the settings on a terminal with so many.
fn in_depth(colour: Colour, colours: Colours) -> Option<Color> {
    match (colour, colours) {
        (_, Colours::None) | (Colour::Plain, _) => None,
        (Colour::Indexed(index), _) => Some(Color::Indexed(index)),
        (Colour::Rgb(red, green, blue), Colours::True) => Some(Color::Rgb(red, green, blue)),
        (Colour::Rgb(red, green, blue), Colours::Indexed) => {
            Some(Color::Indexed(ink::nearest([red, green, blue])))
        }
    }
}

#[cfg(test)]
mod tests;
