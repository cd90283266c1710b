//! `supplies`: what the layouts take, against what is there, and what it costs.

mod answer;
mod compare;

use super::args::{SuppliesArgs, SuppliesCommand};
use super::error::CliError;
use super::measure;
use super::open::Where;
use super::output::Output;
use super::prices;
use super::table::{Align, Table};
use super::words::count;
use crate::supplies::{
    Basket, Care, Choice, Item, Need, Needs, Offer, OrderSum, PriceList, Sleeves, basket, care,
    needs, order_sum,
};

/// An order that was asked about.
struct Ordered {
    item: Item,
    offer: Offer,
    packs: u32,
    sum: OrderSum,
}

pub(super) fn run(args: &SuppliesArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    if let Some(SuppliesCommand::Compare(args)) = &args.command {
        return compare::run(args, at, out);
    }
    let session = at.read(out)?;
    let collection = session.collection();
    let choice = measure::choice(collection, &args.counted)?;
    let list = prices::given(&args.counted.prices, at, out)?;
    let priced = list.as_ref().and_then(PriceList::currency).is_some();
    let list = list.unwrap_or_default();
    let needs = needs(collection, &choice, &list);
    let basket = basket(&needs.needs, &list);
    let ordered = args.order.iter();
    let ordered = ordered
        .map(|words| ordered_item(words, &needs, &list))
        .collect::<Result<Vec<_>, _>>()?;
    if priced && basket.holes().next().is_some() {
        out.falls_short();
    }
    if out.is_json() {
        return out.json(&answer::Answer::new(
            &choice, &needs, &basket, &ordered, &list,
        ));
    }
    tell(&choice, &needs, &basket, priced, out)?;
    for ordered in &ordered {
        tell_order(ordered, &list, out)?;
    }
    Ok(())
}

/// Reads `page 3x3 backed=2` or `=2x50`.
fn ordered_item(words: &str, needs: &Needs, list: &PriceList) -> Result<Ordered, CliError> {
    let wrong = |why: String| CliError::usage(why).hint("write --order \"page 3x3 backed=2\"");
    let (item, number) = words
        .rsplit_once('=')
        .ok_or_else(|| wrong(format!("--order {words} says no number")))?;
    let item = Item::read(item).map_err(|error| wrong(error.to_string()))?;
    let whole = |text: &str| text.trim().parse::<u32>().ok().filter(|n| *n <= 1_000_000);
    let (packs, pack) = match number.split_once('x') {
        Some((packs, pack)) => (whole(packs), Some(whole(pack))),
        None => (whole(number), None),
    };
    let (Some(packs), pack) = (packs, pack) else {
        return Err(wrong(format!("“{number}” is no number of packs")));
    };
    let offers = list.offers(item);
    let fits = |offer: &&Offer| pack.is_none_or(|pack| pack == Some(offer.pack));
    let mut fitting = offers.iter().filter(fits);
    let sold = || {
        let packs: Vec<_> = offers.iter().map(|offer| offer.pack.to_string()).collect();
        packs.join(", ")
    };
    let offer = match (fitting.next(), fitting.next()) {
        (Some(offer), None) => *offer,
        (None, _) if offers.is_empty() => {
            return Err(wrong(format!("the price list has no {}", item.words())));
        }
        (None, _) => {
            return Err(wrong(format!(
                "{} is sold in packs of {}",
                item.words(),
                sold()
            )));
        }
        (Some(offer), Some(other)) if offer.pack == other.pack => {
            // Of the same pack at two prices, the cheaper.
            let same = offers.iter().filter(fits);
            same.copied()
                .min_by_key(|offer| offer.price)
                .unwrap_or(*offer)
        }
        (Some(_), Some(_)) => {
            return Err(wrong(format!(
                "{} is sold in packs of {}: say which, as in {packs}x{}",
                item.words(),
                sold(),
                offers[0].pack
            )));
        }
    };
    let need = needs.needs.iter().find(|need| need.item == item);
    let need = need.map_or(0, Need::to_buy);
    let sum = order_sum(need, offer, packs);
    Ok(Ordered {
        item,
        offer,
        packs,
        sum: sum.ok_or_else(|| wrong(format!("{words} costs too much")))?,
    })
}

fn tell_order(ordered: &Ordered, list: &PriceList, out: &mut Output) -> Result<(), CliError> {
    let packs = count(ordered.packs.into(), "pack", "packs");
    let cost = list.money(ordered.sum.cost);
    let cost = cost.map_or_else(String::new, |cost| format!(", {cost}"));
    let rest = match (ordered.sum.left_over, ordered.sum.lacking) {
        (0, 0) => "nothing is left over".into(),
        (0, lacking) => count(lacking, "is lacking", "are lacking"),
        (over, _) => count(over, "is left over", "are left over"),
    };
    out.line(&format!(
        "{packs} of {} of {}{cost}: {rest}.",
        ordered.offer.pack,
        ordered.item.words()
    ))
}

fn tell(
    choice: &Choice,
    needs: &Needs,
    basket: &Basket,
    priced: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    if basket.lines.is_empty() {
        return out.line("No layout takes anything yet.");
    }
    let mut table = Table::new(&[
        ("item", Align::Left),
        ("needed", Align::Right),
        ("in binders", Align::Right),
        ("on hand", Align::Right),
        ("to buy", Align::Right),
        ("packs", Align::Left),
        ("left over", Align::Right),
        ("cost", Align::Right),
        ("each", Align::Right),
        ("cost of what is used", Align::Right),
    ]);
    let some = |number: u64| {
        if number == 0 {
            String::new()
        } else {
            number.to_string()
        }
    };
    for line in &basket.lines {
        let need = line.need;
        let bought = line.purchase.as_ref().filter(|_| need.to_buy() > 0);
        let (cost, each, used) = match bought.zip(basket.cost(line)) {
            Some((bought, cost)) => {
                let over = bought.left_over;
                let all = need.to_buy() + over;
                let used = cost.part(need.to_buy(), all).filter(|_| over > 0);
                let used = used.map_or_else(String::new, |used| used.digits());
                (cost.digits(), cost.each(all), used)
            }
            None if priced && line.lacks_price() => {
                ("no price".into(), String::new(), String::new())
            }
            None => Default::default(),
        };
        table.row([
            need.item.words(),
            need.wanted.to_string(),
            some(need.there),
            some(need.on_hand),
            need.to_buy().to_string(),
            line.packs(),
            bought.map_or_else(String::new, |bought| some(bought.left_over)),
            cost,
            each,
            used,
        ]);
    }
    table.print(out)?;
    out.apart()?;
    if let Some(total) = basket.total {
        let holes = basket.holes().count() as u64;
        let but = if holes == 0 {
            String::new()
        } else {
            let items = count(holes, "item has", "items have");
            format!("; {items} no price in the list and is not counted")
        };
        let but = if holes > 1 {
            but.replace(" is not counted", " are not counted")
        } else {
            but
        };
        out.prose(&format!("In all {total}{but}."))?;
        out.prose("The price of each is rounded to a hundredth of the smallest coin.")?;
    } else {
        out.prose("No prices: put them into prices.csv, see ringbound supplies --help.")?;
    }
    let anew = if choice.anew {
        ", from nothing: no binder and no page is there yet"
    } else {
        ""
    };
    let theirs = match choice.thickness.sleeves {
        Sleeves::Bare => "",
        _ if choice.anew => "",
        Sleeves::One | Sleeves::Two => " The cards that lie in binders are taken to have theirs.",
    };
    out.prose(&format!(
        "Counted for every pocket that is meant for a card, {}{anew}.{theirs}",
        choice.thickness.sleeves.told()
    ))?;
    if needs.pages_free > 0 {
        let pages = count(needs.pages_free, "page is", "pages are");
        out.prose(&format!(
            "{pages} in a binder with rings and not needed there."
        ))?;
    }
    if needs.unknown_rings > 0 {
        let binders = count(needs.unknown_rings as u64, "binder", "binders");
        out.prose(&format!(
            "The rings of {binders} are not known and not counted: ringbound rings BINDER 40 D"
        ))?;
    }
    out.prose(care(Care::Plastic))
}
