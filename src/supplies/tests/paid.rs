//! Money: `tests/data/money.json` (ISO 4217, IEEE 754-2019).

use super::{cases, text};
use crate::supplies::money::half_even;
use crate::supplies::{Currency, Money};

fn with_digits(digits: u64) -> Currency {
    let code = match digits {
        0 => "JPY",
        2 => "EUR",
        3 => "KWD",
        _ => panic!("no currency of {digits} digits is in the vectors"),
    };
    let currency = Currency::of(code).unwrap();
    assert_eq!(u64::from(currency.digits()), digits, "{code}");
    currency
}

#[test]
fn amounts_are_read_as_the_vectors_say() {
    for case in cases("money.json", "parse") {
        let currency = with_digits(case["digits"].as_u64().unwrap());
        assert_eq!(
            currency.parse(text(&case["text"])),
            case["minor"].as_i64(),
            "{case}"
        );
    }
    let euro = Currency::of("EUR").unwrap();
    for case in cases("money.json", "float_trap") {
        let words = text(&case["text"]);
        assert_eq!(euro.parse(words), case["minor"].as_i64(), "{case}");
    }
}

#[test]
fn amounts_are_written_as_the_vectors_say_and_read_back() {
    for case in cases("money.json", "format") {
        let money = Money {
            minor: case["minor"].as_i64().unwrap(),
            currency: with_digits(case["digits"].as_u64().unwrap()),
        };
        assert_eq!(money.digits(), text(&case["text"]), "{case}");
        assert_eq!(money.currency.parse(&money.digits()), Some(money.minor));
    }
}

#[test]
fn shares_are_rounded_half_to_even() {
    for case in cases("money.json", "divide") {
        let (minor, by) = (
            case["minor"].as_i64().unwrap(),
            case["by"].as_i64().unwrap(),
        );
        let even = i128::from(case["half_even"].as_i64().unwrap());
        assert_eq!(half_even(minor.into(), by.into()), Some(even), "{case}");
    }
    assert_eq!(half_even(5, 0), None);
}

/// `tests/data/quantities.json`, common practice: 50 pages for 25.00 are 0.50 each, 60 sleeves for
/// 3.50 are 35/6 of a hundredth each.
#[test]
fn the_price_of_one_has_two_digits_more_than_the_currency() {
    let euro = Currency::of("eur").unwrap();
    for case in cases("quantities.json", "unit_price") {
        let minor = case["minor"].as_i64().unwrap();
        let money = Money {
            minor,
            currency: euro,
        };
        let each = money.each(case["pack"].as_u64().unwrap());
        match case["each_minor_if_whole"].as_i64() {
            Some(whole) => assert_eq!(each, format!("0.{whole:02}00"), "{case}"),
            None => assert_eq!(each, "0.0583", "{case}"),
        }
    }
    let yen = Money {
        minor: 250,
        currency: Currency::of("JPY").unwrap(),
    };
    assert_eq!((yen.each(3).as_str(), yen.each(0).as_str()), ("83.33", ""));
    assert_eq!(yen.to_string(), "250 JPY");
}

/// The maintenance agency's list one of 1 January 2026: 139 currencies of two digits, 17 of none,
/// 7 of three, 2 of four. Not in it: precious metals and codes for testing, which have no minor unit.
#[test]
fn currencies_are_those_of_the_standard() {
    let letters = b'A'..=b'Z';
    let mut count = [0; 5];
    for a in letters.clone() {
        for b in letters.clone() {
            for c in letters.clone() {
                let code = String::from_utf8(vec![a, b, c]).unwrap();
                if let Some(currency) = Currency::of(&code) {
                    assert_eq!(currency.code(), code);
                    count[usize::from(currency.digits())] += 1;
                }
            }
        }
    }
    assert_eq!(count, [17, 0, 139, 7, 2]);
    for none in ["XAU", "XXX", "ERU", "EU", "EURO", "€", ""] {
        assert_eq!(Currency::of(none), None, "{none}");
    }
}
