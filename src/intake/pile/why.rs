//! Why a line of a pile is not taken.

use std::fmt;

/// Why a line is not taken, with what would be right. Texts are as they were written; they go
/// through [`crate::text::safe`] before they are shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// There is nothing on the line.
    Nothing,
    /// No set is chosen and the line names none. `near` are codes.
    NoSet {
        written: String,
        near: Vec<Box<str>>,
    },
    /// The set has no such number. `near` are the nearest that it has, the nearest first.
    NoNumber {
        set: Box<str>,
        written: String,
        near: Vec<Box<str>>,
    },
    /// It could be any of these numbers.
    Several {
        set: Box<str>,
        written: String,
        numbers: Vec<Box<str>>,
    },
    /// The card does not come in this finish, but in these.
    NoFinish {
        set: Box<str>,
        number: Box<str>,
        written: String,
        finishes: Vec<Box<str>>,
    },
    /// Not a count of copies.
    Count(String),
}

impl std::error::Error for Why {}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing => f.write_str("nothing is written here"),
            Self::NoSet { written, near } if near.is_empty() => {
                write!(f, "of which set is “{written}”? choose one first")
            }
            Self::NoSet { written, near } => {
                write!(f, "of which set is “{written}”? there is {}", list(near))
            }
            Self::NoNumber { set, written, near } => {
                write!(f, "there is no “{written}” in {set}")?;
                match &near[..] {
                    [] => Ok(()),
                    near => write!(f, "; near it {} {}", are(near), list(near)),
                }
            }
            Self::Several {
                set,
                written,
                numbers,
            } => write!(
                f,
                "“{written}” may be {} in {set}; write it in full",
                list(numbers)
            ),
            Self::NoFinish {
                set,
                number,
                written,
                finishes,
            } => write!(
                f,
                "{set} {number} does not come in “{written}”; it comes in {}",
                list(finishes)
            ),
            Self::Count(written) => write!(
                f,
                "“{written}” is no count; write a whole number from 1 to {}",
                crate::model::limits::COPIES
            ),
        }
    }
}

fn are(list: &[Box<str>]) -> &'static str {
    if list.len() == 1 { "is" } else { "are" }
}

/// `“a”, “b” and “c”`.
fn list(words: &[Box<str>]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("“{word}”")).collect();
    crate::text::all_of(&quoted, ", ")
}
