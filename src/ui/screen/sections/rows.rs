//! The lines on which one section is edited: each with its words and what may be chosen.

use crate::layout::{Begin, Order, Pick, Room, Section, Size, What, default_format};
use crate::model::{Collection, PageFormat, SetId};
use crate::text::{self, Choice};

/// One line of the form.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) label: Label,
    pub(super) value: String,
    /// What left and right choose from; other words can be typed where `is_typed`.
    pub(super) choices: Vec<String>,
    pub(super) hint: &'static str,
}

/// What a line is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Label {
    Name,
    Holds,
    Keepsakes,
    Finish,
    Rarity,
    Numbers,
    Picked,
    Which,
    Order,
    Finishes,
    Page,
    Sides,
    TopRow,
    Begins,
    Room,
    Set,
}

impl Label {
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Name => "Name",
            Self::Holds => "Holds",
            Self::Keepsakes => "Which ones",
            Self::Finish => "Finish",
            Self::Rarity => "Rarity",
            Self::Numbers => "Numbers",
            Self::Picked => "By a list",
            Self::Which => "Rest or size",
            Self::Order => "Order by",
            Self::Finishes => "Finishes",
            Self::Page => "Page",
            Self::Sides => "Sides",
            Self::TopRow => "Top row",
            Self::Begins => "Begins",
            Self::Room => "Room behind",
            Self::Set => "From the set",
        }
    }
}

pub(super) const ALL: &str = "all";
pub(super) const MAIN: &str = "main";
pub(super) const OTHERS: &str = "others";
pub(super) const NONE: &str = "none";
pub(super) const OWN: &str = "the binder's own";
const CARDS: &str = "cards";
pub(super) const KEEPSAKES: &str = "keepsakes";
const APART: &str = "in runs apart";
pub(super) const TOGETHER: &str = "side by side";
pub(super) const SIDES: [&str; 3] = [
    "both sides",
    "fronts only, backs left empty",
    "pages that have one side",
];
pub(super) const TOP: [&str; 2] = ["used", "left empty"];
pub(super) const WHICH: [(&str, bool, Size); 6] = [
    (ALL, false, Size::Any),
    ("the rest", true, Size::Any),
    ("of usual size", false, Size::Usual),
    ("the rest, of usual size", true, Size::Usual),
    ("oversize", false, Size::Oversize),
    ("the rest, oversize", true, Size::Oversize),
];

/// [`Desk::with_keys`] names the keys.
///
/// [`Desk::with_keys`]: crate::ui::desk::Desk::with_keys
const CHOOSE: &str = "{left} and {right} choose";

/// The lines of a section.
pub(super) fn rows(collection: &Collection, own: Option<SetId>, section: &Section) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut row = |label, value: String, choices: Vec<String>, hint| {
        rows.push(Row {
            label,
            value,
            choices,
            hint,
        });
    };
    let fixed = |words: &[&str]| words.iter().map(|words| (*words).to_owned()).collect();
    row(
        Label::Name,
        section.name.to_string(),
        Vec::new(),
        "what you do by hand stays with the section of this name",
    );
    let holds = match section.what {
        What::Cards(_) => CARDS,
        What::Keepsakes(_) => KEEPSAKES,
    };
    row(
        Label::Holds,
        holds.into(),
        fixed(&[CARDS, KEEPSAKES]),
        CHOOSE,
    );
    match &section.what {
        What::Keepsakes(_) => row(
            Label::Keepsakes,
            clause(section.what.clone(), "keepsakes "),
            Vec::new(),
            "4 x pack art, a ticket",
        ),
        What::Cards(pick) => of_cards(collection, own, pick, &mut row),
    }
    let page = PageFormat {
        sides: 2,
        ..section.page
    };
    let page = Section::new("n", page, What::Cards(Pick::default())).to_string();
    row(
        Label::Page,
        page.trim_start_matches("n: page ").to_owned(),
        fixed(&["3x3", "3x4", "2x2", "3x1", "1x1"]),
        "rows x columns, and if need be: top, shared, pocket 64x89",
    );
    let sides = match (section.page.sides, section.fronts_only) {
        (1, _) => 2,
        (_, true) => 1,
        _ => 0,
    };
    row(Label::Sides, SIDES[sides].into(), fixed(&SIDES), CHOOSE);
    let top = TOP[usize::from(section.top_empty)];
    row(
        Label::TopRow,
        top.into(),
        fixed(&TOP),
        "left empty where something tall stands out of the pocket below",
    );
    let begins = Begin::words();
    row(
        Label::Begins,
        section.begin.word().into(),
        fixed(&begins),
        CHOOSE,
    );
    row(
        Label::Room,
        room_words(section.room),
        fixed(&[NONE, "4 pockets", "9 pockets", "1 page"]),
        "pockets or pages left free for cards to come",
    );
    rows
}

fn of_cards(
    collection: &Collection,
    own: Option<SetId>,
    pick: &Pick,
    row: &mut impl FnMut(Label, String, Vec<String>, &'static str),
) {
    let only = |pick: Pick, prefix: &str| clause(What::Cards(pick), prefix);
    let code = |code: &str| collection.set_by_code(code);
    let id = pick.set.as_deref().map_or(own, code);
    let set = id.and_then(|id| collection.set(id));
    // In the rules each stands for a finish of whatever set they are for; here it is told of which.
    let first = set.and_then(|set| set.finishes().first());
    let told = |word: &str| match (word, first) {
        (MAIN, Some(first)) => format!("{MAIN} ({})", first.name),
        (OTHERS, Some(first)) => format!("{OTHERS} (all but {})", first.name),
        (word, _) => word.to_owned(),
    };
    let mut finishes = vec![ALL.to_owned(), told(MAIN), told(OTHERS)];
    let mut rarities = vec![ALL.to_owned()];
    if let Some(set) = set {
        let item = |name: &str, prefix| {
            let finishes = vec![name.into()];
            only(
                Pick {
                    finishes,
                    ..Pick::default()
                },
                prefix,
            )
        };
        let names = set.finishes().iter().map(|finish| &*finish.name);
        finishes.extend(names.map(|name| item(name, "finish ")));
        let names = || set.rarities().iter().map(|name| item(name, "finish "));
        rarities.extend(names());
        rarities.extend(names().map(|name| format!("not {name}")));
    }
    let or = |words: String, none: &str| match words.is_empty() {
        true => none.to_owned(),
        false => words,
    };
    let words = only(
        Pick {
            finishes: pick.finishes.clone(),
            ..Pick::default()
        },
        "finish ",
    );
    row(
        Label::Finish,
        told(&or(words, ALL)),
        finishes,
        "choose, or type names separated by commas",
    );
    let words = only(
        Pick {
            rarities: pick.rarities.clone(),
            but: pick.but,
            ..Pick::default()
        },
        "rarity ",
    );
    row(
        Label::Rarity,
        or(words, ALL),
        rarities,
        "choose, or type: rare, scarce; or: not rare",
    );
    let words = only(
        Pick {
            numbers: pick.numbers.clone(),
            ..Pick::default()
        },
        "numbers ",
    );
    row(
        Label::Numbers,
        or(words, ALL),
        Vec::new(),
        "1 to 64, 70, P1 to P6",
    );
    let words = only(
        Pick {
            list: pick.list.clone(),
            ..Pick::default()
        },
        "cards ",
    );
    row(
        Label::Picked,
        or(words, NONE),
        Vec::new(),
        "only these numbers: 12, 7, 12a; by list keeps their order",
    );
    let which = WHICH
        .iter()
        .find(|(_, rest, size)| (*rest, *size) == (pick.rest, pick.size));
    row(
        Label::Which,
        which.map_or(ALL, |(words, ..)| words).into(),
        WHICH
            .iter()
            .map(|(words, ..)| (*words).to_owned())
            .collect(),
        "the rest: what no section before it has",
    );
    let orders = Order::words().into_iter().map(ToOwned::to_owned);
    row(
        Label::Order,
        pick.by.word().into(),
        orders.collect(),
        CHOOSE,
    );
    let finishes = if pick.together { TOGETHER } else { APART };
    row(
        Label::Finishes,
        finishes.into(),
        vec![APART.into(), TOGETHER.into()],
        CHOOSE,
    );
    let mut codes = vec![OWN.to_owned()];
    codes.extend(collection.sets().map(|(_, set)| set.code().to_owned()));
    let own = pick.set.as_deref().unwrap_or(OWN);
    row(
        Label::Set,
        own.into(),
        codes,
        "another set beside the binder's own",
    );
}

/// What a section of only this is written as, behind the first word.
fn clause(what: What, prefix: &str) -> String {
    let line = Section::new("n", default_format(), what).to_string();
    let line = line.trim_end_matches("page 3x3").trim_end_matches("; ");
    let line = line.strip_prefix("n: ").unwrap_or_default();
    line.strip_prefix(prefix).unwrap_or_default().to_owned()
}

fn room_words(room: Room) -> String {
    match room {
        Room::None => NONE.into(),
        Room::Pockets(many) => text::count(many.into(), "pocket", "pockets"),
        Room::Pages(many) => text::count(many.into(), "page", "pages"),
    }
}
