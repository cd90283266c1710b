//! Names in two parts. A theme has 24 first and 25 second parts; since these have no common
//! divisor, walking both at once meets each of the 600 pairs before one comes again.

/// What a set is about, as the words its names are made of.
#[derive(Clone, Copy)]
pub(super) enum Theme {
    Wood,
    Shore,
    Town,
}

const WOOD: ([&str; 24], [&str; 25]) = (
    [
        "Moss", "Bracken", "Hazel", "Bramble", "Lichen", "Clover", "Larch", "Acorn", "Thistle",
        "Rowan", "Puddle", "Fern", "Burdock", "Alder", "Dew", "Sorrel", "Beech", "Loam", "Nettle",
        "Cobweb", "Yarrow", "Hollow", "Sloe", "Bark",
    ],
    [
        "Owl", "Hare", "Wren", "Vole", "Warden", "Beetle", "Moth", "Shrew", "Snail", "Piper",
        "Dormouse", "Toad", "Gatherer", "Finch", "Stoat", "Listener", "Newt", "Jay", "Wanderer",
        "Hedgehog", "Nuthatch", "Sleeper", "Glowworm", "Badger", "Roebuck",
    ],
);

const SHORE: ([&str; 24], [&str; 25]) = (
    [
        "Tide",
        "Pebble",
        "Kelp",
        "Foam",
        "Saltmarsh",
        "Driftwood",
        "Sand",
        "Brine",
        "Ripple",
        "Samphire",
        "Estuary",
        "Shingle",
        "Fog",
        "Mussel",
        "Dune",
        "Harbour",
        "Sedge",
        "Rope",
        "Limpet",
        "Quay",
        "Spray",
        "Amber",
        "Tern",
        "Mudflat",
    ],
    [
        "Heron",
        "Crab",
        "Ferryman",
        "Curlew",
        "Otter",
        "Limner",
        "Eel",
        "Plover",
        "Netmender",
        "Seal",
        "Whelk",
        "Cormorant",
        "Pilot",
        "Starfish",
        "Dunlin",
        "Bellringer",
        "Shrimp",
        "Gull",
        "Beachcomber",
        "Urchin",
        "Stilt",
        "Lodestar",
        "Lugworm",
        "Puffin",
        "Wader",
    ],
);

const TOWN: ([&str; 24], [&str; 25]) = (
    [
        "Lantern",
        "Chimney",
        "Attic",
        "Kettle",
        "Gable",
        "Cellar",
        "Button",
        "Ledger",
        "Teacup",
        "Market",
        "Clockwork",
        "Cobble",
        "Pantry",
        "Ribbon",
        "Parish",
        "Thimble",
        "Candle",
        "Window",
        "Garden",
        "Copper",
        "Stairwell",
        "Umbrella",
        "Postbox",
        "Weathercock",
    ],
    [
        "Mouse",
        "Clerk",
        "Sparrow",
        "Tinker",
        "Cricket",
        "Lamplighter",
        "Spider",
        "Baker",
        "Cat",
        "Sweep",
        "Swift",
        "Almanac",
        "Weaver",
        "Pigeon",
        "Watchman",
        "Beadle",
        "Bat",
        "Cartwright",
        "Starling",
        "Piemaker",
        "Jackdaw",
        "Sexton",
        "Magpie",
        "Cooper",
        "Hatter",
    ],
);

/// The `at`-th name of a theme, up to 600 of them different.
pub(super) fn name(theme: Theme, at: usize) -> String {
    let (first, second) = match theme {
        Theme::Wood => &WOOD,
        Theme::Shore => &SHORE,
        Theme::Town => &TOWN,
    };
    // Steps without a common divisor with 24 and 25, so that neighbours do not look alike.
    format!("{} {}", first[at * 7 % 24], second[at * 4 % 25])
}
