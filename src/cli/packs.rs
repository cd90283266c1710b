//! `packs`: what random packs may be expected to bring.

use serde::Serialize;

use super::args::PacksArgs;
use super::error::CliError;
use super::named;
use super::open::Where;
use super::output::Output;
use super::table::{Align, Table};
use super::words::count;
use crate::model::{Set, SetId};
use crate::report::{self, Class, MOST_IN_CLASS, MOST_RARE};
use crate::text::hint;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    set: &'a str,
    finish: &'a str,
    pack_size: u32,
    missing: usize,
    total: usize,
    classes: Vec<ClassAnswer<'a>>,
    /// Cards that no pack has; they are not waited for.
    never_in_packs: usize,
    expected_packs: f64,
    /// Done by then in half, and in nine of ten, of all cases; absent for packs of one card with
    /// odds, where only the average is worked out.
    #[serde(skip_serializing_if = "Option::is_none")]
    packs_half: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    packs_nine_of_ten: Option<u32>,
    with_singles: Vec<Singles>,
}

#[derive(Serialize)]
struct ClassAnswer<'a> {
    rarity: &'a str,
    missing: usize,
    total: usize,
    per_pack: f64,
}

#[derive(Serialize)]
struct Singles {
    /// The last cards, got one by one.
    singles: usize,
    expected_packs: f64,
}

pub(super) fn run(args: &PacksArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.read(out)?;
    let collection = session.collection();
    let found =
        named::only(collection, Some(&args.set))?.and_then(|id| Some((id, collection.set(id)?)));
    let Some((id, set)) = found else {
        return Err(CliError::usage("there is no such set"));
    };
    let finish = finish(set, args.finish.as_deref())?;
    let named = classes(id, set, finish, args)?;
    let classes: Vec<Class> = named.iter().map(|(_, class)| *class).collect();
    let missing = classes.iter().map(|class| class.missing).sum();
    let never = classes.iter().filter(|class| class.per_pack == 0.0);
    let never: usize = never.map(|class| class.missing).sum();
    // Of one card a pack, what comes excludes everything else.
    let single = args.pack_size == 1 && classes.len() > 1;
    let expected = |left: usize| {
        let packs = if single {
            report::singles_until(&classes, never + left)
        } else {
            report::packs_until(&classes, never + left)
        };
        // To a millionth: what lies below is rounding.
        let packs = packs.map(|packs| (packs * 1e6).round() / 1e6);
        packs.ok_or_else(|| CliError::usage("too many different cards are missing to work it out"))
    };
    let coming: Vec<Class> = (classes.iter().copied())
        .filter(|class| class.per_pack > 0.0)
        .collect();
    let by = |chance| {
        let packs = report::packs_for_chance(&coming, chance);
        packs.filter(|_| !single)
    };
    let singles = [1, 2, 3, 5, 10, 20, 50].into_iter();
    let singles = singles.filter(|singles| *singles < missing - never);
    let answer = Answer {
        format: "ringbound-packs",
        version: 1,
        set: set.code(),
        finish: set
            .finishes()
            .get(usize::from(finish))
            .map_or("", |f| &f.name),
        pack_size: args.pack_size,
        missing,
        total: classes.iter().map(|class| class.cards).sum(),
        classes: (named.iter())
            .map(|(rarity, class)| ClassAnswer {
                rarity,
                missing: class.missing,
                total: class.cards,
                per_pack: class.per_pack,
            })
            .collect(),
        never_in_packs: never,
        expected_packs: expected(0)?,
        packs_half: by(0.5),
        packs_nine_of_ten: by(0.9),
        with_singles: singles
            .map(|singles| {
                Ok(Singles {
                    singles,
                    expected_packs: expected(singles)?,
                })
            })
            .collect::<Result<_, CliError>>()?,
    };
    if out.is_json() {
        return out.json(&answer);
    }
    tell(set, &answer, args.odds.is_some(), out)
}

fn finish(set: &Set, named: Option<&str>) -> Result<u8, CliError> {
    let Some(name) = named else {
        return Ok(0);
    };
    set.finish_by_name(name).ok_or_else(|| {
        let known = set.finishes().iter().map(|finish| finish.name.as_ref());
        let near = hint(name, known);
        CliError::usage(format!(
            "there is no finish “{name}” in {}{near}",
            set.code()
        ))
    })
}

/// The set's cards in this finish, by rarity where odds tell rarities apart.
fn classes<'s>(
    id: SetId,
    set: &'s Set,
    finish: u8,
    args: &PacksArgs,
) -> Result<Vec<(&'s str, Class)>, CliError> {
    let odds = args
        .odds
        .as_deref()
        .map(|odds| odds_of(set, odds))
        .transpose()?;
    let mut classes: Vec<(&str, Class)> = Vec::new();
    for printing in set.printings(id).filter(|of| of.finish() == finish) {
        let card = set.card(printing.card());
        let rarity = card.map_or("", |card| set.rarity_name(card));
        let rarity = if odds.is_some() { rarity } else { "" };
        let at = classes.iter().position(|(name, _)| *name == rarity);
        let at = at.unwrap_or_else(|| {
            let none = Class {
                cards: 0,
                missing: 0,
                per_pack: f64::from(args.pack_size),
            };
            classes.push((rarity, none));
            classes.len() - 1
        });
        classes[at].1.cards += 1;
        classes[at].1.missing += usize::from(set.tally(printing).copies() == 0);
    }
    if let Some(odds) = odds {
        share(&mut classes, &odds, args.pack_size)?;
    }
    for (rarity, class) in &classes {
        let named = match (*rarity, class.cards) {
            ("", cards) => count(cards as u64, "card", "cards"),
            (rarity, cards) => count(
                cards as u64,
                &format!("{rarity} card"),
                &format!("{rarity} cards"),
            ),
        };
        if class.cards > MOST_IN_CLASS {
            return Err(CliError::usage(format!(
                "{named}; this is worked out for at most {MOST_IN_CLASS}"
            )));
        }
        let coming = class.missing > 0 && class.per_pack > 0.0;
        let are = if class.cards == 1 { "is" } else { "are" };
        if coming && class.cards as f64 / class.per_pack > MOST_RARE {
            return Err(CliError::usage(format!(
                "{named} {are} too rare: each in fewer than one of {MOST_RARE} packs"
            ))
            .hint("0 leaves a rarity out; look for its cards elsewhere"));
        }
        if class.per_pack > class.cards as f64 {
            return Err(CliError::usage(format!(
                "a pack cannot hold {} different ones of {named}",
                class.per_pack,
            ))
            .hint("give the number of cards in a pack that are of this set and finish"));
        }
    }
    Ok(classes)
}

/// Gives each class its part of a pack.
fn share(
    classes: &mut [(&str, Class)],
    odds: &[(&str, f64)],
    pack_size: u32,
) -> Result<(), CliError> {
    let sum: f64 = odds.iter().map(|(_, odds)| odds).sum();
    if sum <= 0.0 {
        return Err(CliError::usage("the odds say that a pack is empty"));
    }
    let size = f64::from(pack_size);
    for (rarity, class) in classes {
        let Some((_, odds)) = odds.iter().find(|(name, _)| name == rarity) else {
            let cards = count(class.cards as u64, "card", "cards");
            return Err(CliError::usage(if rarity.is_empty() {
                format!("the checklist names no rarity for {cards}, so odds by rarity do not fit the set")
            } else {
                format!("the odds say nothing of “{rarity}” ({cards})")
            })
            .hint("name every rarity of the set; a rarity that is in no pack is 0"));
        };
        // Where they add up they are taken as they stand, without rounding.
        class.per_pack = if (sum - size).abs() < 1e-9 {
            *odds
        } else {
            odds * size / sum
        };
    }
    Ok(())
}

fn odds_of<'s>(set: &'s Set, text: &str) -> Result<Vec<(&'s str, f64)>, CliError> {
    let mut odds: Vec<(&str, f64)> = Vec::new();
    for part in text
        .split(',')
        .map(str::trim)
        .filter(|part| !part.is_empty())
    {
        let split = part.rsplit_once('=');
        let read = split.and_then(|(name, number)| {
            let plain = |b: u8| b.is_ascii_digit() || b == b'.';
            let number = number.trim();
            let value = number
                .parse::<f64>()
                .ok()
                .filter(|_| number.bytes().all(plain))?;
            Some((name.trim(), value)).filter(|_| (0.0..=1_000_000.0).contains(&value))
        });
        let Some((name, value)) = read else {
            return Err(CliError::usage(format!("“{part}” names no odds"))
                .hint("write for instance --odds \"common=7,scarce=2,rare=1\""));
        };
        let same = |known: &&str| known.to_lowercase() == name.to_lowercase();
        let known = set.rarities().iter().map(AsRef::as_ref);
        let Some(rarity) = known.clone().find(same) else {
            let near = hint(name, known);
            return Err(CliError::usage(format!(
                "there is no rarity “{name}” in {}{near}",
                set.code()
            )));
        };
        if odds.iter().any(|(other, _)| *other == rarity) {
            return Err(CliError::usage(format!("the odds name “{rarity}” twice")));
        }
        odds.push((rarity, value));
    }
    Ok(odds)
}

fn tell(set: &Set, answer: &Answer<'_>, by_rarity: bool, out: &mut Output) -> Result<(), CliError> {
    let (code, missing, total) = (answer.set, answer.missing, answer.total);
    let run = if set.finishes().len() > 1 {
        format!("{code}, {}", answer.finish)
    } else {
        code.to_owned()
    };
    let total = count(total as u64, "card", "cards");
    if missing == 0 {
        return out.prose(&format!("{run}: none of {total} is missing."));
    }
    let are = if missing == 1 { "is" } else { "are" };
    out.prose(&format!("{run}: {missing} of {total} {are} missing."))?;
    if by_rarity {
        let mut table = Table::new(&[
            ("rarity", Align::Left),
            ("missing", Align::Right),
            ("of", Align::Right),
            ("a pack", Align::Right),
        ]);
        for class in &answer.classes {
            let cells = [
                class.missing.to_string(),
                class.total.to_string(),
                short(class.per_pack),
            ];
            table.row(std::iter::once(class.rarity.to_owned()).chain(cells));
        }
        table.print(out)?;
    }
    if answer.never_in_packs > 0 {
        let cards = count(
            answer.never_in_packs as u64,
            "missing card is",
            "missing cards are",
        );
        out.prose(&format!("{cards} in no pack, and not counted on."))?;
    }
    let packs = short(answer.expected_packs);
    let size = count(answer.pack_size.into(), "card", "cards");
    out.prose(&format!(
        "On average the rest comes with {packs} more random {} of {size}.",
        if packs == "1" { "pack" } else { "packs" }
    ))?;
    if let (Some(half), Some(most)) = (answer.packs_half, answer.packs_nine_of_ten) {
        out.prose(&format!(
            "In half of all cases by {}, in nine of ten by {most}.",
            count(half.into(), "pack", "packs")
        ))?;
    }
    if !answer.with_singles.is_empty() {
        out.apart()?;
        out.prose("If the last cards are bought or swapped one by one:")?;
        let mut table = Table::new(&[("single cards", Align::Right), ("packs", Align::Right)]);
        table.row(["0".to_owned(), tenth(answer.expected_packs)]);
        for with in &answer.with_singles {
            table.row([with.singles.to_string(), tenth(with.expected_packs)]);
        }
        table.print(out)?;
    }
    out.apart()?;
    let alike = if by_rarity {
        "each card of a rarity"
    } else {
        "each card"
    };
    out.prose(&format!(
        "This is an average over random packs of different cards, {alike} as likely as any other. \
         Real packs may be put together otherwise. It is not advice to buy any."
    ))
}

/// With one decimal, or none where it is whole.
/// In a column, where points stand below each other.
fn tenth(number: f64) -> String {
    format!("{number:.1}")
}

fn short(number: f64) -> String {
    let text = format!("{number:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if number >= 10.0 {
        format!("{number:.1}").trim_end_matches(".0").to_owned()
    } else {
        text.to_owned()
    }
}
