//! Signs, in Unicode and in plain ASCII, and which of them can be set.

/// Signs drawn on the screen, each one column wide.
#[derive(Clone, Debug)]
pub(in crate::ui) struct Glyphs {
    /// Corners (top left, top right, bottom left, bottom right), across, down.
    pub(in crate::ui) card: [&'static str; 6],
    pub(in crate::ui) gap: [&'static str; 6],
    pub(in crate::ui) keepsake: [&'static str; 6],
    pub(in crate::ui) page: [&'static str; 6],
    pub(in crate::ui) cursor: [&'static str; 6],
    pub(in crate::ui) in_place: &'static str,
    pub(in crate::ui) gap_sign: &'static str,
    pub(in crate::ui) waiting: &'static str,
    pub(in crate::ui) misplaced: &'static str,
    pub(in crate::ui) blank: &'static str,
    pub(in crate::ui) under_way: &'static str,
    pub(in crate::ui) differs: &'static str,
    /// Corners of a marked pocket.
    pub(in crate::ui) mark: [&'static str; 6],
    pub(in crate::ui) keepsake_sign: &'static str,
    pub(in crate::ui) ring_hole: &'static str,
    pub(in crate::ui) ring: &'static str,
    pub(in crate::ui) stitch: &'static str,
    pub(in crate::ui) shelf: &'static str,
    pub(in crate::ui) finger_hole: &'static str,
    pub(in crate::ui) bar_full: &'static str,
    pub(in crate::ui) bar_empty: &'static str,
    /// A pair of pockets, one above the other: none, upper, lower, both filled.
    pub(in crate::ui) pair: [&'static str; 4],
    pub(in crate::ui) pair_open: &'static str,
    /// A box to tick, and one that is ticked.
    pub(in crate::ui) box_open: &'static str,
    pub(in crate::ui) box_ticked: &'static str,
    /// Before a number that may be less.
    pub(in crate::ui) at_most: &'static str,
    pub(in crate::ui) here: &'static str,
    pub(in crate::ui) back: &'static str,
    pub(in crate::ui) on: &'static str,
    pub(in crate::ui) up: &'static str,
    pub(in crate::ui) down: &'static str,
    pub(in crate::ui) dot: &'static str,
    pub(in crate::ui) more: char,
}

pub(super) static UNICODE: Glyphs = Glyphs {
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
    mark: ["▛", "▜", "▙", "▟", "▀", "▌"],
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
    box_open: "▢",
    box_ticked: "▣",
    at_most: "≤",
    here: "▸",
    back: "‹",
    on: "›",
    up: "▴",
    down: "▾",
    dot: "·",
    more: '…',
};

pub(super) static ASCII: Glyphs = Glyphs {
    card: ["+", "+", "+", "+", "-", "|"],
    gap: [".", ".", "'", "'", ".", ":"],
    keepsake: ["#", "#", "#", "#", "=", "#"],
    page: ["+", "+", "+", "+", "-", "|"],
    cursor: ["@", "@", "@", "@", "=", "!"],
    in_place: "*",
    gap_sign: "o",
    waiting: "(",
    misplaced: "x",
    blank: "%",
    under_way: "/",
    differs: "~",
    mark: ["*", "*", "*", "*", "=", "|"],
    keepsake_sign: "&",
    ring_hole: "O",
    ring: "=",
    stitch: "|",
    shelf: "=",
    finger_hole: "0",
    bar_full: "#",
    bar_empty: ".",
    pair: [" ", "'", ".", ":"],
    pair_open: "-",
    box_open: "[]",
    box_ticked: "[x]",
    at_most: "<=",
    here: ">",
    back: "<",
    on: ">",
    up: "^",
    down: "v",
    dot: "-",
    more: '~',
};

/// A sign that a person may set otherwise, or several that belong together.
pub(in crate::ui) struct Slot {
    pub(in crate::ui) word: &'static str,
    pub(in crate::ui) says: &'static str,
    /// It tells what a pocket is.
    pub(in crate::ui) is_state: bool,
    of: fn(&Glyphs) -> &[&'static str],
    of_mut: fn(&mut Glyphs) -> &mut [&'static str],
}

impl Slot {
    pub(in crate::ui) fn usual(&self) -> &'static [&'static str] {
        (self.of)(&UNICODE)
    }

    /// Puts other signs in; where these are fewer or more, as far as both go.
    pub(super) fn put(&self, glyphs: &mut Glyphs, signs: &[&'static str]) {
        for (place, sign) in (self.of_mut)(glyphs).iter_mut().zip(signs) {
            *place = sign;
        }
    }
}

macro_rules! slot {
    ($word:literal, $field:ident, $says:literal) => {
        slot!($word, $field, $says, false)
    };
    ($word:literal, state $field:ident, $says:literal) => {
        slot!($word, $field, $says, true)
    };
    ($word:literal, $field:ident, $says:literal, $is_state:literal) => {
        Slot {
            word: $word,
            says: $says,
            is_state: $is_state,
            of: |glyphs| std::slice::from_ref(&glyphs.$field),
            of_mut: |glyphs| std::slice::from_mut(&mut glyphs.$field),
        }
    };
    ($word:literal, many $field:ident, $says:literal) => {
        Slot {
            word: $word,
            says: $says,
            is_state: false,
            of: |glyphs| &glyphs.$field,
            of_mut: |glyphs| &mut glyphs.$field,
        }
    };
}

/// All of them.
pub(in crate::ui) const SLOTS: &[Slot] = &[
    slot!("in-place", state in_place, "a card in its pocket"),
    slot!("gap", state gap_sign, "a pocket whose card is missing from it"),
    slot!("waiting", state waiting, "a gap that a loose copy can fill"),
    slot!("misplaced", state misplaced, "a card in a pocket meant for another"),
    slot!("blank", state blank, "left empty on purpose"),
    slot!("under-way", state under_way, "a card that the work takes out"),
    slot!("differs", state differs, "in a draft: not as in the layout"),
    slot!("keepsake", state keepsake_sign, "a keepsake"),
    slot!("card-edge", many card, "the edge of a card in its pocket"),
    slot!("gap-edge", many gap, "the edge of a gap"),
    slot!("keepsake-edge", many keepsake, "the edge of a keepsake"),
    slot!("page-edge", many page, "the edge of a page and of a window"),
    slot!("cursor-edge", many cursor, "corners of the pocket under the cursor"),
    slot!("mark-edge", many mark, "corners of a marked pocket"),
    slot!("ring", ring, "a ring between two pages"),
    slot!("ring-hole", ring_hole, "where it goes through the page"),
    slot!("stitch", stitch, "between pages that are bound in"),
    slot!("shelf", shelf, "the board of the shelf"),
    slot!("finger-hole", finger_hole, "the hole in a spine"),
    slot!("bar-full", bar_full, "how far a set is: what is there"),
    slot!("bar-empty", bar_empty, "what is missing"),
    slot!("pockets", many pair, "two pockets in small: none filled, upper, lower, both"),
    slot!("pocket-open", pair_open, "in small: no card and none meant"),
    slot!("tick-box", box_open, "a box to tick"),
    slot!("ticked-box", box_ticked, "a box that is ticked"),
    slot!("at-most", at_most, "before a number that may be less"),
    slot!("here", here, "the line or the page one is at"),
    slot!("back", back, "more at the left"),
    slot!("on", on, "more at the right"),
    slot!("up", up, "more above"),
    slot!("down", down, "more below"),
    slot!("dot", dot, "between two words"),
];
