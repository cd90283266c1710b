//! What can be set of a screen, told by the screen: its verbs and keys, its roles, its signs.

/// Everything that a file can name besides plain values.
#[derive(Debug)]
pub struct Known {
    pub places: Vec<Place>,
    pub roles: Vec<Role>,
    pub signs: Vec<Sign>,
    /// A key as it is written on the screen, from a word for it.
    pub key: fn(&str) -> Option<String>,
}

/// A part of the screen with keys of its own.
#[derive(Debug)]
pub struct Place {
    pub word: String,
    /// Words are typed here, so that a letter is no key.
    pub takes_text: bool,
    pub verbs: Vec<Verb>,
}

/// What can be asked for in a place.
#[derive(Debug)]
pub struct Verb {
    pub word: String,
    /// The built-in ones, as [`Known::key`] writes them.
    pub keys: Vec<String>,
    /// What it does.
    pub says: &'static str,
    /// It leads out of the place or tells what can be done in it: some key must.
    pub is_needed: bool,
}

/// What a piece of the screen is.
#[derive(Debug)]
pub struct Role {
    pub word: &'static str,
    pub says: &'static str,
}

/// A sign, or several that belong together, each in one column.
#[derive(Debug)]
pub struct Sign {
    pub word: &'static str,
    pub says: &'static str,
    pub usual: &'static [&'static str],
    /// It tells what a pocket is, so that no other such sign may be the same.
    pub is_state: bool,
}
