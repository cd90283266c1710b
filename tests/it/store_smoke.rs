use ringbound::model::*;
use ringbound::session::*;

#[test]
fn smoke() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("c");
    let clock = || Box::new(|| "2026-01-01T00:00:00Z".to_string()) as Clock;
    let (mut s, n) = Session::open(&path, Open::ForWriting, clock()).unwrap();
    assert_eq!(n, []);
    let set = SetId(0);
    let card = |n: &str| Card {
        number: n.into(),
        name: "Moss Owl".into(),
        rarity: Some(0),
        size: None,
        finishes: 3,
    };
    let b = BinderId(1);
    let f = PageFormat::new(2, 2, 2);
    let mut lp = LayoutPage::empty(f);
    for i in 0..4 {
        lp.set_meaning(
            i,
            Meaning::Printing(PrintingId::new(set, i as u32 % 3, (i / 3) as u8)),
        );
    }
    s.commit(Step::new(
        "all",
        vec![
            Change::AddSet {
                set,
                head: Box::new(SetHead {
                    code: "MVL".into(),
                    title: "Moss".into(),
                    ..SetHead::default()
                }),
            },
            Change::AddFinish {
                set,
                finish: Box::new(Finish {
                    name: "regular".into(),
                    mark: "".into(),
                }),
            },
            Change::AddFinish {
                set,
                finish: Box::new(Finish {
                    name: "reverse".into(),
                    mark: "r".into(),
                }),
            },
            Change::AddRarity {
                set,
                name: "rare".into(),
            },
            Change::AddCards {
                set,
                first: 0,
                cards: vec![card("1"), card("2"), card("TG 3")],
            },
            Change::AddBinder {
                binder: b,
                at: 0,
                spec: Box::new(BinderSpec {
                    name: "mvl".into(),
                    title: "".into(),
                    set: Some(set),
                    kind: BinderKind::Rings {
                        size: 25,
                        shape: RingShape::D,
                    },
                    front_matter: vec![],
                }),
            },
            Change::AddPage {
                binder: b,
                at: 0,
                page: PageId(1),
                format: f,
            },
            Change::AddLayoutPage {
                binder: b,
                at: 0,
                page: Box::new(lp),
            },
            Change::Acquire {
                printing: PrintingId::new(set, 0, 0),
                count: 3,
            },
            Change::Seat {
                place: Place {
                    binder: b,
                    page: 0,
                    pocket: 0,
                },
                page: PageId(1),
                printing: PrintingId::new(set, 0, 0),
            },
            Change::Seat {
                place: Place {
                    binder: b,
                    page: 0,
                    pocket: 6,
                },
                page: PageId(1),
                printing: PrintingId::new(set, 0, 0),
            },
            Change::Mean {
                place: Place {
                    binder: b,
                    page: 0,
                    pocket: 7,
                },
                old: Meaning::Nothing,
                new: Meaning::Keepsake("pack".into()),
            },
        ],
    ))
    .unwrap();
    println!("{}", std::fs::read_to_string(path.join("journal")).unwrap());
    let bytes = ringbound::store::write_snapshot(s.collection(), Default::default());
    println!("{}", String::from_utf8_lossy(&bytes));
    let back = ringbound::store::read_snapshot(&bytes).unwrap();
    assert!(!back.is_altered);
    assert_eq!(
        ringbound::store::write_snapshot(&back.collection, Default::default()),
        bytes
    );
    s.close().unwrap();
    let (mut s, n) = Session::open(&path, Open::ForWriting, clock()).unwrap();
    assert_eq!(n, []);
    assert_eq!(
        ringbound::store::write_snapshot(s.collection(), Default::default()),
        bytes
    );
    assert_eq!(s.undo().unwrap().unwrap().label, "all");
    assert_eq!(s.collection().sets().len(), 0);
    drop(s);
    let (mut s, _) = Session::open(&path, Open::ForWriting, clock()).unwrap();
    s.redo().unwrap().unwrap();
    assert_eq!(
        ringbound::store::write_snapshot(s.collection(), Default::default()),
        bytes
    );
}
