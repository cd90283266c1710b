//! Money: whole minor units of a currency, never a binary fraction.

use std::fmt;

/// The currencies of ISO 4217, list one as published on 1 January 2026, by how many digits their
/// minor unit has.
const DIGITS: [(u8, &str); 4] = [
    (
        0,
        "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    ),
    (
        2,
        "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD \
         CAD CDF CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP \
         GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK \
         LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO \
         NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS \
         SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST \
         XAD XCD XCG YER ZAR ZMW ZWG",
    ),
    (3, "BHD IQD JOD KWD LYD OMR TND"),
    (4, "CLF UYW"),
];

/// A currency of ISO 4217.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Currency {
    code: [u8; 3],
    digits: u8,
}

impl Currency {
    /// By its three letters, large or small; `None` where the standard's list has none such.
    #[must_use]
    pub fn of(code: &str) -> Option<Self> {
        let code: [u8; 3] = code.to_ascii_uppercase().into_bytes().try_into().ok()?;
        let listed = |codes: &str| codes.split(' ').any(|known| known.as_bytes() == code);
        let (digits, _) = DIGITS.iter().find(|(_, codes)| listed(codes))?;
        Some(Self {
            code,
            digits: *digits,
        })
    }

    #[must_use]
    pub fn code(&self) -> &str {
        // Only letters of the list come in.
        str::from_utf8(&self.code).unwrap_or_default()
    }

    /// Digits behind the point.
    #[must_use]
    pub fn digits(&self) -> u8 {
        self.digits
    }

    /// Minor units of an amount: digits with at most as many behind a point as the currency has.
    /// No grouping, no decimal comma, no spaces. `None` for anything else and beyond 64 bits.
    #[must_use]
    pub fn parse(&self, text: &str) -> Option<i64> {
        let (minus, text) = match text.as_bytes().first()? {
            b'-' => (true, &text[1..]),
            b'+' => (false, &text[1..]),
            _ => (false, text),
        };
        let digits = usize::from(self.digits);
        let (whole, part) = match text.split_once('.') {
            Some((_, part)) if part.is_empty() || part.len() > digits => return None,
            Some(both) => both,
            None => (text, ""),
        };
        if whole.is_empty() || !(whole.bytes().chain(part.bytes())).all(|b| b.is_ascii_digit()) {
            return None;
        }
        let mut minor: i64 = 0;
        let padding = std::iter::repeat_n(b'0', digits - part.len());
        for digit in whole.bytes().chain(part.bytes()).chain(padding) {
            let digit = i64::from(digit - b'0');
            minor = minor.checked_mul(10)?;
            // Towards the sign, so that the least number is read too.
            minor = minor.checked_add(if minus { -digit } else { digit })?;
        }
        Some(minor)
    }
}

impl fmt::Debug for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

/// An amount in minor units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Money {
    pub minor: i64,
    pub currency: Currency,
}

impl Money {
    /// The share of one of `count`, as digits, with two more than the currency has, the last
    /// rounded half to even. Empty for none.
    #[must_use]
    pub fn each(&self, count: u64) -> String {
        let finer = i128::from(self.minor) * 100;
        half_even(finer, count.into()).map_or_else(String::new, |each| {
            decimal(each, usize::from(self.currency.digits) + 2)
        })
    }

    /// What `used` of `of` pieces are worth of it, rounded half to even. `None` for none.
    #[must_use]
    pub fn part(&self, used: u64, of: u64) -> Option<Self> {
        let minor = half_even(i128::from(self.minor) * i128::from(used), of.into())?;
        Some(Self {
            minor: i64::try_from(minor).ok()?,
            ..*self
        })
    }

    /// The digits without the currency: `25.00`.
    #[must_use]
    pub fn digits(&self) -> String {
        decimal(self.minor.into(), self.currency.digits.into())
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.digits(), self.currency.code())
    }
}

fn decimal(value: i128, digits: usize) -> String {
    let sign = if value < 0 { "-" } else { "" };
    let text = format!("{:0width$}", value.unsigned_abs(), width = digits + 1);
    let (whole, part) = text.split_at(text.len() - digits);
    if part.is_empty() {
        format!("{sign}{whole}")
    } else {
        format!("{sign}{whole}.{part}")
    }
}

/// `value / by` as a whole number, ties to the even one (IEEE 754-2019, 4.3.1, roundTiesToEven).
/// `None` where `by` is 0.
#[must_use]
pub(super) fn half_even(value: i128, by: i128) -> Option<i128> {
    if by == 0 {
        return None;
    }
    let (floor, rest) = (value.div_euclid(by), value.rem_euclid(by));
    let by = by.abs();
    let up = match (rest * 2).cmp(&by) {
        std::cmp::Ordering::Less => false,
        std::cmp::Ordering::Equal => floor.rem_euclid(2) == 1,
        std::cmp::Ordering::Greater => true,
    };
    Some(floor + i128::from(up))
}
