//! What is written, read back with general-purpose libraries and measured.

use resvg::tiny_skia::Pixmap;
use ringbound::paper::{
    Document, Drawing, Fonts, Format, LabelLook, Picture, Size, Spine, Turn, labels, pdf, svg,
};

use crate::support::pdf::Pdf;

/// Two characters drawn as blocks, made for these tests.
static BLOCKS: &[u8] = include_bytes!("../data/two_blocks.ttf");

const LEAF: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">
    <path d="M1 9 Q1 1 9 1 Q9 9 1 9 Z"/></svg>"#;

fn spine(title: &str) -> Spine {
    Spine {
        name: "wood".into(),
        title: title.into(),
        symbol: "✦".into(),
        number: "12".into(),
        width: Some(25.0),
        picture: None,
    }
}

fn one(title: &str, paper: Size) -> Drawing {
    labels(&[spine(title)], &LabelLook::on(paper), &Fonts::own()).unwrap()
}

/// Width and height of what goes through these points.
fn extent(path: &[(f64, f64)]) -> (f64, f64) {
    let x = || path.iter().map(|point| point.0);
    let y = || path.iter().map(|point| point.1);
    (
        x().fold(f64::MIN, f64::max) - x().fold(f64::MAX, f64::min),
        y().fold(f64::MIN, f64::max) - y().fold(f64::MAX, f64::min),
    )
}

#[test]
fn a_pdf_has_the_size_of_its_paper() {
    // ISO 216:2007, and ANSI/ASME Y14.1 for Letter.
    let papers = [
        (Size::A4, 210.0, 297.0),
        (Size::LETTER, 215.9, 279.4),
        (Size::new(300.0, 250.0), 300.0, 250.0),
    ];
    for (paper, width, height) in papers {
        let bytes = pdf(&one("The Long Wood", paper), &Fonts::own()).unwrap();
        let pages = Pdf::read(&bytes).pages();
        assert_eq!(pages.len(), 1);
        assert!((pages[0].width - width).abs() < 0.001);
        assert!((pages[0].height - height).abs() < 0.001);
    }
}

#[test]
fn a_label_of_25_mm_is_25_mm_wide_in_the_pdf_and_its_words_lie_inside() {
    for turn in [Turn::Down, Turn::Up, Turn::Across] {
        let look = LabelLook {
            turn,
            ..LabelLook::on(Size::A4)
        };
        let title = "The Long Wood and the Fen behind the Hill";
        let drawing = labels(&[spine(title)], &look, &Fonts::own()).unwrap();
        let label = drawing.sheets[0].parts[0].area;
        let pages = Pdf::read(&pdf(&drawing, &Fonts::own()).unwrap()).pages();
        // The path runs in the middle of a line of 0.1 mm whose outer edge is the label's.
        let found = pages[0].paths.iter().any(|path| {
            let (width, height) = extent(path);
            (width - 24.9).abs() < 0.01 && (height - 189.9).abs() < 0.01
        });
        assert!(found, "{turn:?}: {:?}", pages[0].paths);
        // The words below the check line are the last ones; all others are the label's.
        let inside = |point: &&(f64, f64)| {
            (label.x..label.right()).contains(&point.0)
                && (label.y..label.bottom() - 30.0).contains(&point.1)
        };
        let words = &pages[0].text;
        assert!(words.len() >= 4);
        assert_eq!(words.iter().filter(inside).count(), words.len() - 1);
    }
}

#[test]
fn every_sheet_has_a_line_of_100_mm_to_measure_and_says_print_at_100_percent() {
    let look = LabelLook::on(Size::A4);
    let spines = vec![spine("Moss Hall"); 14];
    let drawing = labels(&spines, &look, &Fonts::own()).unwrap();
    assert!(drawing.sheets.len() > 2);
    let read = Pdf::read(&pdf(&drawing, &Fonts::own()).unwrap());
    for (number, page) in (1..).zip(read.pages()) {
        let line = |path: &&Vec<(f64, f64)>| {
            let (width, height) = extent(path);
            (width - 100.0).abs() < 0.001 && height < 0.001
        };
        assert_eq!(page.paths.iter().filter(line).count(), 1);
        assert!(
            read.words(number)
                .contains("100 mm: print at 100 %, no scaling")
        );
    }
}

#[test]
fn fonts_are_embedded_and_the_words_can_be_read_out_of_the_pdf() {
    let title = "Čáp, Ώρα и Журавль";
    let bytes = pdf(&one(title, Size::A4), &Fonts::own()).unwrap();
    let read = Pdf::read(&bytes);
    let fonts = read.fonts();
    assert_eq!(fonts.len(), 2, "{fonts:?}");
    assert!(fonts.iter().all(|(_, embedded)| *embedded), "{fonts:?}");
    let words = read.words(1);
    for part in ["Čáp", "Ώρα", "Журавль", "12", "✦"] {
        assert!(words.contains(part), "{part} in {words}");
    }
    // Only what is used of a font: those built in have 0.7 MB each.
    assert!(bytes.len() < 60_000, "{}", bytes.len());
}

#[test]
fn a_font_that_is_named_is_embedded_for_what_the_built_in_one_lacks() {
    let mut fonts = Fonts::own();
    let drawing =
        |fonts: &Fonts<'_>| labels(&[spine("森の橋")], &LabelLook::on(Size::A4), fonts).unwrap();
    let told = drawing(&fonts).told(&fonts);
    assert_eq!(told.len(), 1);
    assert!(
        told[0].contains('森') && told[0].contains("--font"),
        "{told:?}"
    );
    fonts.add(BLOCKS).unwrap();
    let drawing = drawing(&fonts);
    // The third character is not among the two.
    assert_eq!(drawing.missing(&fonts), ['の'].into());
    let read = Pdf::read(&pdf(&drawing, &fonts).unwrap());
    let fonts = read.fonts();
    let named = |(name, embedded): &(String, bool)| name.ends_with("+TwoBlocks") && *embedded;
    assert!(fonts.iter().any(named), "{fonts:?}");
    assert!(read.words(1).contains('森'));
}

#[test]
fn the_same_document_is_the_same_bytes() {
    let made = || {
        let mut spine = spine("The Long Wood");
        spine.picture = Some(Picture::read(LEAF.as_bytes()).unwrap().into());
        let fonts = Fonts::own();
        let drawing = labels(&[spine], &LabelLook::on(Size::A4), &fonts).unwrap();
        let document = Document::Drawing(drawing);
        let formats = [Format::Pdf, Format::Svg, Format::Png];
        formats.map(|format| document.write(format, Size::A4, &fonts, None).unwrap())
    };
    let [pdf, svg, png] = made();
    assert_eq!([pdf.clone(), svg, png], made());
    // No time in it: ISO 32000-1, 14.3.3 names these.
    let words = String::from_utf8_lossy(&pdf[0].bytes);
    assert!(!words.contains("CreationDate") && !words.contains("ModDate"));
}

#[test]
fn an_svg_is_well_formed_and_has_its_size_in_millimetres() {
    let fonts = Fonts::own();
    let title = "Salt & \"Fen\" <1> 'the \u{1b}[31m end'";
    for (paper, width, height) in [(Size::A4, "210", "297"), (Size::LETTER, "215.9", "279.4")] {
        let drawing = one(title, paper);
        let words = svg(&drawing.title, &drawing.sheets[0], &fonts);
        let xml = roxmltree::Document::parse(&words).unwrap();
        let root = xml.root_element();
        assert_eq!(root.tag_name().name(), "svg");
        assert_eq!(
            root.tag_name().namespace(),
            Some("http://www.w3.org/2000/svg")
        );
        assert_eq!(root.attribute("width"), Some(format!("{width}mm").as_str()));
        assert_eq!(
            root.attribute("height"),
            Some(format!("{height}mm").as_str())
        );
        let view = format!("0 0 {width} {height}");
        assert_eq!(root.attribute("viewBox"), Some(view.as_str()));
        // Every sign that is used is drawn once, and no id is given twice (XML 1.0, 3.3.1).
        let ids: Vec<&str> = xml
            .descendants()
            .filter_map(|node| node.attribute("id"))
            .collect();
        let mut different = ids.clone();
        different.sort_unstable();
        different.dedup();
        assert_eq!(different.len(), ids.len());
        let link = ("http://www.w3.org/1999/xlink", "href");
        let links: Vec<&str> = xml
            .descendants()
            .filter_map(|node| node.attribute(link))
            .collect();
        assert!(!links.is_empty());
        assert!(links.iter().all(|link| ids.contains(&&link[1..])));
        let told: Vec<&str> = (xml.descendants())
            .filter_map(|node| node.attribute("aria-label"))
            .collect();
        assert!(told.concat().contains("Salt & \"Fen\" <1>"));
        assert!(
            told.iter()
                .all(|words| words.chars().all(|c| !c.is_control()))
        );
    }
}

#[test]
fn a_label_of_25_mm_is_as_many_dots_wide_in_a_rendering() {
    let fonts = Fonts::own();
    let document = Document::Drawing(one("The Long Wood", Size::A4));
    let png = document.write(Format::Png, Size::A4, &fonts, None).unwrap();
    let pixels = Pixmap::decode_png(&png[0].bytes).unwrap();
    // At 150 dots to the inch: A4 is 1240.2 x 1753.9, a label of 25 mm 147.6.
    assert_eq!((pixels.width(), pixels.height()), (1_240, 1_754));
    let dark = |x: u32| pixels.pixel(x, 900).is_some_and(|dot| dot.red() < 200);
    let columns: Vec<u32> = (0..pixels.width()).filter(|x| dark(*x)).collect();
    let width = columns[columns.len() - 1] - columns[0] + 1;
    assert!((147..=149).contains(&width), "{width}");
}

#[test]
fn a_picture_stands_in_pdf_and_svg_and_is_not_bent() {
    let fonts = Fonts::own();
    let mut spine = spine("Moss Hall");
    spine.picture = Some(Picture::read(LEAF.as_bytes()).unwrap().into());
    let drawing = labels(&[spine], &LabelLook::on(Size::A4), &fonts).unwrap();
    assert_eq!(Pdf::read(&pdf(&drawing, &fonts).unwrap()).pictures(), 1);
    let words = svg(&drawing.title, &drawing.sheets[0], &fonts);
    let xml = roxmltree::Document::parse(&words).unwrap();
    let image = xml
        .descendants()
        .find(|node| node.has_tag_name("image"))
        .unwrap();
    let length = |name| image.attribute(name).unwrap().parse::<f64>().unwrap();
    assert!((length("width") - length("height")).abs() < 0.001);
    let label = drawing.sheets[0].parts[0].area;
    assert!(length("x") > label.x && length("x") + length("width") < label.right());
}
