use std::collections::HashMap;

use palette::color_difference::{Ciede2000, Wcag21RelativeContrast};
use palette::{IntoColor, Lab, LinSrgb, Srgb};

use super::*;

type Rgb = [u8; 3];

/// Backgrounds on which words must be read, and further ones on which lines and signs must be seen.
/// What terminals come with is common practice, no source.
const DARK_GROUNDS: [Rgb; 2] = [[0; 3], [0x18; 3]];
const LIGHT_GROUNDS: [Rgb; 2] = [[0xFF; 3], [0xF0; 3]];
const LESS_DARK: [Rgb; 1] = [[0x30; 3]];
const LESS_LIGHT: [Rgb; 1] = [[0xDA; 3]];

/// WCAG 2.2, 1.4.3 (text, level AA) and 1.4.11 (what is no text).
const FOR_TEXT: f64 = 4.5;
const FOR_SIGNS: f64 = 3.0;

/// WCAG 2.2, "relative luminance".
fn luminance(rgb: Rgb) -> f64 {
    let [red, green, blue] = rgb.map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.04045 {
            part / 12.92
        } else {
            ((part + 0.055) / 1.055).powf(2.4)
        }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// WCAG 2.2, "contrast ratio".
fn contrast(a: Rgb, b: Rgb) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

fn float([red, green, blue]: Rgb) -> Srgb<f64> {
    Srgb::new(red, green, blue).into_format()
}

/// Published: black on white is 21:1 (WCAG 2.2, "contrast ratio"); #777777 on white is 4.48:1 and
/// #767676 4.54:1 (WebAIM, "Contrast and color accessibility").
#[test]
fn contrast_is_computed_as_published_and_as_a_library_does() {
    let (black, white) = ([0; 3], [255; 3]);
    assert_eq!(format!("{:.2}", contrast(black, white)), "21.00");
    assert_eq!(format!("{:.2}", contrast([0x77; 3], white)), "4.48");
    assert_eq!(format!("{:.2}", contrast(white, [0x76; 3])), "4.54");
    for index in 16..=u8::MAX {
        let rgb = ink::of_index(index);
        let library = float(rgb).relative_contrast(float(white));
        assert!((contrast(rgb, white) - library).abs() < 0.01, "{index}");
    }
}

fn shades(ink: &Ink) -> [(&'static str, ink::Shade); 5] {
    [
        ("in place", ink.in_place),
        ("gap", ink.gap),
        ("waiting", ink.waiting),
        ("misplaced", ink.misplaced),
        ("keepsake", ink.keepsake),
    ]
}

fn bytes(number: u32) -> Rgb {
    let [_, red, green, blue] = number.to_be_bytes();
    [red, green, blue]
}

/// The colour of a style; `None` is the terminal's own, which is not ours to choose.
fn colour(style: Style) -> Option<Rgb> {
    assert_eq!(style.bg, None, "the background is the terminal's own");
    match style.fg? {
        Color::Rgb(red, green, blue) => Some([red, green, blue]),
        Color::Indexed(index) => {
            assert!(index >= 16, "the first sixteen are anything");
            Some(ink::of_index(index))
        }
        other => panic!("{other:?} is what the terminal makes of it"),
    }
}

/// Reversed roles have the same contrast, the other way round.
#[test]
fn every_role_can_be_read_on_the_backgrounds_that_its_palette_is_for() {
    let grounds = [
        (false, DARK_GROUNDS, LESS_DARK),
        (true, LIGHT_GROUNDS, LESS_LIGHT),
    ];
    for (light, grounds, further) in grounds {
        for colours in [Colours::Indexed, Colours::True] {
            let look = Look {
                colours,
                ascii: false,
            };
            let theme = Theme::of(look, light);
            for (role, word, _) in Role::ALL {
                let Some(rgb) = colour(theme.style(role)) else {
                    continue;
                };
                for ground in grounds {
                    let found = contrast(rgb, ground);
                    assert!(
                        found >= FOR_TEXT,
                        "{word} {colours:?} on {ground:?}: {found:.2}"
                    );
                }
                for ground in further {
                    let found = contrast(rgb, ground);
                    assert!(
                        found >= FOR_SIGNS,
                        "{word} {colours:?} on {ground:?}: {found:.2}"
                    );
                }
            }
        }
    }
}

/// Machado, Oliveira and Fernandes (2009), "A physiologically-based model for simulation of color
/// vision deficiency", severity 1.0: protanopia, deuteranopia, tritanopia, on linear red, green
/// and blue. The first is sight without a deficiency.
const SIGHTS: [(&str, [[f64; 3]; 3]); 4] = [
    ("usual", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "protanopia",
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ],
    ),
    (
        "deuteranopia",
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ],
    ),
    (
        "tritanopia",
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ],
    ),
];

fn seen(rgb: Rgb, sight: &[[f64; 3]; 3]) -> Lab<palette::white_point::D65, f64> {
    let linear: LinSrgb<f64> = float(rgb).into_linear();
    let parts = [linear.red, linear.green, linear.blue];
    let [red, green, blue] = sight.map(|row| {
        let sum: f64 = row.iter().zip(parts).map(|(a, b)| a * b).sum();
        sum.clamp(0.0, 1.0)
    });
    LinSrgb::new(red, green, blue).into_color()
}

/// The least difference between two states (CIEDE2000). 2.3 of CIELAB is just noticeable side by
/// side (Mahy et al., 1994); apart on a screen it takes more: common practice, no source.
const LEAST_DIFFERENCE: f64 = 10.0;

#[test]
fn states_stay_apart_with_each_of_the_common_colour_vision_deficiencies() {
    for (sight, matrix) in &SIGHTS {
        for row in matrix {
            let sum: f64 = row.iter().sum();
            assert!((sum - 1.0).abs() < 1e-5, "{sight}: white stays white");
        }
        for (palette, ink) in [("dark", &DARK), ("light", &LIGHT)] {
            let shades = shades(ink);
            for (at, (one, a)) in shades.iter().enumerate() {
                for (other, b) in &shades[at + 1..] {
                    let indexed = [a.1, b.1].map(ink::of_index);
                    for [a, b] in [[a.0, b.0].map(bytes), indexed] {
                        let apart = seen(a, matrix).difference(seen(b, matrix));
                        assert!(
                            apart >= LEAST_DIFFERENCE,
                            "{palette}, {sight}: {one} and {other} {apart:.1}"
                        );
                    }
                }
            }
        }
    }
}

/// Colour alone tells nothing: roles of one colour are told by sign, line, place or reversal.
#[test]
fn every_state_of_a_pocket_has_a_sign_of_its_own() {
    for glyphs in [&glyphs::UNICODE, &glyphs::ASCII] {
        let mut signs = vec![
            glyphs.in_place,
            glyphs.gap_sign,
            glyphs.waiting,
            glyphs.misplaced,
            glyphs.blank,
            glyphs.under_way,
            glyphs.differs,
            glyphs.keepsake_sign,
        ];
        let many = signs.len();
        signs.sort_unstable();
        signs.dedup();
        assert_eq!(signs.len(), many, "{signs:?}");
    }
    assert_eq!(SLOTS.iter().filter(|slot| slot.is_state).count(), 8);
}

#[test]
fn the_table_of_roles_is_in_the_order_of_the_type() {
    for (at, (role, word, _)) in Role::ALL.into_iter().enumerate() {
        assert_eq!(role as usize, at, "{word}");
    }
}

/// The cube of xterm's 256 colours: its file 256colres.h has 208 as ff8700, 244 as 808080.
#[test]
fn a_colour_of_ones_own_goes_to_the_nearest_that_the_terminal_has() {
    assert_eq!(ink::of_index(208), [0xFF, 0x87, 0]);
    assert_eq!(ink::of_index(244), [0x80; 3]);
    assert_eq!(ink::nearest([0xFF, 0x80, 0x08]), 208);
    assert_eq!(ink::nearest([0x82; 3]), 244);
    for index in 16..=u8::MAX {
        let nearest = ink::nearest(ink::of_index(index));
        assert_eq!(ink::of_index(nearest), ink::of_index(index), "{index}");
    }
}

fn chosen(env: &[(&str, &str)], asked: Option<Palette>, settings: &Settings) -> Theme {
    chosen_on(env, asked, settings, || None)
}

fn chosen_on(
    env: &[(&str, &str)],
    asked: Option<Palette>,
    settings: &Settings,
    is_light: impl FnOnce() -> Option<bool>,
) -> Theme {
    let env: HashMap<_, _> = env.iter().copied().collect();
    Theme::choose(
        |name| env.get(name).map(ToString::to_string),
        asked,
        settings,
        is_light,
    )
}

fn gap(env: &[(&str, &str)], asked: Option<Palette>, palette: Palette) -> Option<Color> {
    let mut settings = Settings::default();
    settings.screen.palette = palette;
    let env = [&[("COLORTERM", "truecolor")], env].concat();
    chosen(&env, asked, &settings).style(Role::Gap).fg
}

#[test]
fn an_option_goes_before_the_environment_and_that_before_the_settings() {
    use Palette::{Auto, Dark, Light, None as No};
    let [dark, light] = [&DARK, &LIGHT].map(|ink| Some(ink::rgb(ink.gap.0)));
    assert_eq!(gap(&[], None, Auto), dark);
    assert_eq!(gap(&[], None, Light), light);
    let env = [("RINGBOUND_COLOURS", "dark")];
    assert_eq!(gap(&env, None, Light), dark);
    assert_eq!(gap(&env, Some(Light), No), light);
    assert_eq!(gap(&[("NO_COLOR", "1")], None, Light), None);
    assert_eq!(gap(&[("NO_COLOR", "1")], Some(Light), No), light);
    assert_eq!(gap(&[], Some(No), Light), None);
    assert_eq!(
        gap(&[("NO_COLOR", "")], None, Dark),
        dark,
        "empty is not set"
    );
}

/// `COLORFGBG` as rxvt(7) describes it: the foreground, then the background, of sixteen colours.
#[test]
fn what_the_terminal_says_of_its_background_is_heeded() {
    let [dark, light] = [&DARK, &LIGHT].map(|ink| Some(ink::rgb(ink.gap.0)));
    let told = |value| gap(&[("COLORFGBG", value)], None, Palette::Auto);
    for value in ["0;15", "0;default;15", "0;7"] {
        assert_eq!(told(value), light, "{value}");
    }
    for value in ["15;0", "15;default;0", "12;8", "default;default", "", ";"] {
        assert_eq!(told(value), dark, "{value}");
    }
    assert_eq!(gap(&[("COLORFGBG", "0;15")], None, Palette::Dark), dark);
}

#[test]
fn a_terminal_is_asked_for_its_background_only_where_nothing_else_tells() {
    let asks = |env: &[(&str, &str)], asked, palette| {
        let mut settings = Settings::default();
        settings.screen.palette = palette;
        let mut times = 0;
        let light = chosen_on(env, asked, &settings, || {
            times += 1;
            Some(true)
        });
        let light = light.style(Role::Gap).fg == Some(Color::Indexed(LIGHT.gap.1));
        (times, light)
    };
    use Palette::{Auto, Dark, Light, None as No};
    assert_eq!(asks(&[], None, Auto), (1, true));
    assert_eq!(asks(&[("COLORFGBG", "nonsense")], None, Auto), (1, true));
    assert_eq!(asks(&[("COLORFGBG", "15;0")], None, Auto), (0, false));
    assert_eq!(asks(&[("NO_COLOR", "1")], None, Auto), (0, false));
    assert_eq!(
        asks(&[("RINGBOUND_COLOURS", "dark")], None, Auto),
        (0, false)
    );
    assert_eq!(asks(&[], Some(Light), Auto), (0, true));
    assert_eq!(asks(&[], None, Dark), (0, false));
    assert_eq!(asks(&[], None, No), (0, false));
}

#[test]
fn colours_and_signs_of_ones_own_are_drawn() {
    let mut settings = Settings::default();
    settings.colours.insert("gap".into(), Colour::Rgb(1, 2, 3));
    settings.colours.insert("warning".into(), Colour::Plain);
    settings.signs.insert("gap".into(), vec!["○".into()]);
    settings.signs.insert("blank".into(), vec!["x".into()]);
    let env = [("COLORTERM", "truecolor"), ("LANG", "C.UTF-8")];
    let theme = chosen(&env, None, &settings);
    assert_eq!(theme.style(Role::Gap).fg, Some(Color::Rgb(1, 2, 3)));
    let warning = theme.style(Role::Warning);
    assert_eq!(warning.fg, None);
    assert!(warning.add_modifier.contains(Modifier::REVERSED));
    assert_eq!((theme.glyphs().gap_sign, theme.glyphs().blank), ("○", "x"));
    assert_eq!(theme.glyphs().waiting, "◂");
    settings.screen.ascii = Some(true);
    let theme = chosen(&env, None, &settings);
    assert_eq!((theme.glyphs().gap_sign, theme.glyphs().blank), ("o", "x"));
    let theme = chosen(&[("NO_COLOR", "1")], None, &settings);
    assert_eq!(theme.style(Role::Gap), Style::new());
}
