//! Every style and every drawn sign, in one place.
//!
//! The colours are those of Okabe and Ito (2008), told apart with the common colour-vision
//! deficiencies. No state is told by colour alone: each has a sign or a line of its own, so the
//! same screens work without colour (NO_COLOR) and in plain ASCII.

use ratatui::style::{Color, Modifier, Style};

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
        let deep = set("COLORTERM").is_some_and(|v| v.contains("truecolor") || v.contains("24bit"));
        let colours = if set("NO_COLOR").is_some() || term == "vt100" {
            Colours::None
        } else if deep {
            Colours::True
        } else {
            Colours::Indexed
        };
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set);
        let utf8 = locale.is_none_or(|locale| {
            let locale = locale.to_lowercase();
            locale.contains("utf-8") || locale.contains("utf8")
        });
        Self {
            colours,
            ascii: !utf8 || term == "linux" || set("RINGBOUND_ASCII").is_some(),
        }
    }
}

/// What a piece of the screen is, to be styled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    Text,
    Quiet,
    Strong,
    /// A title bar, the heading of a box.
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

/// Signs drawn on the screen, each one column wide.
#[derive(Debug)]
pub struct Glyphs {
    /// Corners (top left, top right, bottom left, bottom right), across, down.
    pub card: [&'static str; 6],
    pub gap: [&'static str; 6],
    pub keepsake: [&'static str; 6],
    pub page: [&'static str; 6],
    pub cursor: [&'static str; 6],
    pub in_place: &'static str,
    pub gap_sign: &'static str,
    pub waiting: &'static str,
    pub misplaced: &'static str,
    pub blank: &'static str,
    pub under_way: &'static str,
    pub differs: &'static str,
    /// Corners of a marked pocket.
    pub mark: [&'static str; 6],
    pub keepsake_sign: &'static str,
    pub ring_hole: &'static str,
    pub ring: &'static str,
    pub stitch: &'static str,
    pub shelf: &'static str,
    pub finger_hole: &'static str,
    pub bar_full: &'static str,
    pub bar_empty: &'static str,
    /// A pair of pockets, one above the other: none, upper, lower, both filled.
    pub pair: [&'static str; 4],
    pub pair_open: &'static str,
    /// A box to tick.
    pub box_open: &'static str,
    /// Before a number that may be less.
    pub at_most: &'static str,
    pub here: &'static str,
    pub back: &'static str,
    pub on: &'static str,
    pub up: &'static str,
    pub down: &'static str,
    pub dot: &'static str,
    pub more: char,
}

static UNICODE: Glyphs = Glyphs {
    card: ["┌", "┐", "└", "┘", "─", "│"],
    gap: ["┌", "┐", "└", "┘", "╌", "╎"],
    keepsake: ["╔", "╗", "╚", "╝", "═", "║"],
    page: ["╭", "╮", "╰", "╯", "─", "│"],
    cursor: ["┏", "┓", "┗", "┛", "━", "┃"],
    in_place: "■",
    gap_sign: "□",
    waiting: "◂",
    misplaced: "≠",
    blank: "╳",
    under_way: "↑",
    differs: "◇",
    mark: ["╔", "╗", "╚", "╝", "═", "║"],
    keepsake_sign: "❖",
    ring_hole: "◉",
    ring: "═",
    stitch: "║",
    shelf: "▀",
    finger_hole: "○",
    bar_full: "█",
    bar_empty: "░",
    pair: [" ", "▀", "▄", "█"],
    pair_open: "·",
    box_open: "□",
    at_most: "≤",
    here: "▸",
    back: "◂",
    on: "▸",
    up: "▴",
    down: "▾",
    dot: "·",
    more: '…',
};

static ASCII: Glyphs = Glyphs {
    card: ["+", "+", "+", "+", "-", "|"],
    gap: [".", ".", "'", "'", ".", ":"],
    keepsake: ["#", "#", "#", "#", "=", "#"],
    page: ["+", "+", "+", "+", "-", "|"],
    cursor: ["@", "@", "@", "@", "=", "!"],
    in_place: "*",
    gap_sign: "o",
    waiting: "<",
    misplaced: "!",
    blank: "%",
    under_way: "^",
    differs: "~",
    mark: ["*", "*", "*", "*", "=", "|"],
    keepsake_sign: "&",
    ring_hole: "O",
    ring: "=",
    stitch: "|",
    shelf: "=",
    finger_hole: "o",
    bar_full: "#",
    bar_empty: ".",
    pair: [" ", "'", ".", ":"],
    pair_open: "-",
    box_open: "[]",
    at_most: "<=",
    here: ">",
    back: "<",
    on: ">",
    up: "^",
    down: "v",
    dot: "-",
    more: '~',
};

/// Styles and signs for one terminal.
#[derive(Clone, Copy, Debug)]
pub struct Theme {
    pub look: Look,
}

impl Theme {
    #[must_use]
    pub fn new(look: Look) -> Self {
        Self { look }
    }

    #[must_use]
    pub fn glyphs(&self) -> &'static Glyphs {
        if self.look.ascii { &ASCII } else { &UNICODE }
    }

    #[must_use]
    pub fn style(&self, role: Role) -> Style {
        let plain = Style::new();
        match role {
            Role::Text => plain,
            Role::Quiet => plain.add_modifier(Modifier::DIM),
            Role::Strong => plain.add_modifier(Modifier::BOLD),
            Role::Bar => plain.add_modifier(Modifier::BOLD | Modifier::REVERSED),
            Role::Selected => plain.add_modifier(Modifier::REVERSED),
            Role::InPlace => self.colour(BLUISH_GREEN).add_modifier(Modifier::BOLD),
            Role::Gap => self.colour(SKY_BLUE),
            Role::Waiting => self.colour(ORANGE).add_modifier(Modifier::BOLD),
            Role::Misplaced => self.colour(VERMILLION).add_modifier(Modifier::BOLD),
            Role::Keepsake => self.colour(REDDISH_PURPLE),
            Role::Cursor => self.colour(ORANGE).add_modifier(Modifier::BOLD),
            Role::Carried => self
                .colour(ORANGE)
                .add_modifier(Modifier::BOLD | Modifier::REVERSED),
            Role::Key => self.colour(SKY_BLUE).add_modifier(Modifier::BOLD),
            Role::Warning => self
                .colour(VERMILLION)
                .add_modifier(Modifier::BOLD | Modifier::REVERSED),
        }
    }

    fn colour(&self, (rgb, index): (u32, u8)) -> Style {
        let [_, red, green, blue] = rgb.to_be_bytes();
        match self.look.colours {
            Colours::None => Style::new(),
            Colours::Indexed => Style::new().fg(Color::Indexed(index)),
            Colours::True => Style::new().fg(Color::Rgb(red, green, blue)),
        }
    }
}

// The palette with the nearest of the 256 indexed colours.
const ORANGE: (u32, u8) = (0x00E6_9F00, 178);
const SKY_BLUE: (u32, u8) = (0x0056_B4E9, 74);
const BLUISH_GREEN: (u32, u8) = (0x0000_9E73, 36);
const VERMILLION: (u32, u8) = (0x00D5_5E00, 166);
const REDDISH_PURPLE: (u32, u8) = (0x00CC_79A7, 175);
