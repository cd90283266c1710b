//! Drafts begun, copied, named, thrown away and adopted.

use ringbound::hand::{
    Cannot, Ground, Manner, adopt, begin_draft, compare_growth, copy_draft, draft_of_way,
    drop_draft, drop_template, left_without, put_down, rename_draft, save_template,
};
use ringbound::model::{BinderId, BinderKind, Change, Collection, Rules, Step};
use ringbound::session::Session;

use crate::support::picture::Picture;
use crate::support::world::state;

const BINDER: BinderId = BinderId(1);

fn draft(at: usize) -> Ground {
    Ground {
        binder: BINDER,
        draft: Some(at),
    }
}

/// The collection after the step, which can be undone, and the step's label.
fn done(collection: &Collection, step: Result<Step, Cannot>) -> (Collection, String) {
    let step = step.unwrap();
    let label = step.label.clone();
    let mut session = Session::in_memory(collection.clone());
    session.commit(step).unwrap();
    let after = session.collection().clone();
    assert_eq!(after.check(), vec![]);
    session.undo().unwrap();
    assert_eq!(state(session.collection()), state(collection));
    (after, label)
}

fn names(collection: &Collection) -> Vec<&str> {
    let drafts = collection.binder(BINDER).unwrap().drafts();
    drafts.iter().map(|draft| &*draft.name).collect()
}

fn drawn(collection: &Collection, ground: Ground) -> String {
    let collection = collection.clone();
    Picture { collection, ground }.draw()
}

#[test]
fn a_draft_begins_as_the_layout_or_with_the_same_pages_empty() {
    let binder = Picture::rings("[1 (2)]{k}[9!4 -]<(5)>").collection;
    let (one, label) = done(&binder, begin_draft(&binder, BINDER, " autumn ", false));
    assert_eq!(label, "draft begun: “autumn”");
    assert_eq!(names(&one), ["autumn"]);
    assert_eq!(drawn(&one, draft(0)), "[1 2]{k}[4 -][5]");
    let (two, _) = done(&one, begin_draft(&one, BINDER, "winter", true));
    assert_eq!(names(&two), ["autumn", "winter"]);
    assert_eq!(drawn(&two, draft(1)), "[. .]{.}[. .][.]");
    // Nothing of it is in force.
    assert_eq!(drawn(&two, Ground::real(BINDER)), "[1 (2)]{k}[9!4 -]<(5)>");
}

#[test]
fn a_copy_goes_its_own_way() {
    let binder = Picture::draft("[1 2]").collection;
    let (two, label) = done(&binder, copy_draft(&binder, draft(0), "winter"));
    assert_eq!(label, "draft copied: “autumn” as “winter”");
    let (a, b) = (draft(1).place(0, 0), draft(1).place(0, 1));
    let put = put_down(&two, draft(1), &[a], b, Manner::Swap).unwrap();
    let (two, label) = done(&two, Ok(put.step));
    assert_eq!(
        label,
        "carried FEN 1 z Owl to page 1, front, row 1, pocket 2, 2 y Owl the other way, in draft “winter”"
    );
    assert_eq!(drawn(&two, draft(0)), "[1 2]");
    assert_eq!(drawn(&two, draft(1)), "[2 1]");
}

#[test]
fn a_draft_is_named_anew_and_thrown_away() {
    let binder = Picture::draft("[1 2]").collection;
    let (named, label) = done(&binder, rename_draft(&binder, draft(0), "winter"));
    assert_eq!(
        (names(&named), &*label),
        (vec!["winter"], "draft renamed: “autumn” is “winter” now")
    );
    let (two, _) = done(&named, begin_draft(&named, BINDER, "spring", false));
    let (one, label) = done(&two, drop_draft(&two, draft(0)));
    assert_eq!(
        (names(&one), &*label),
        (vec!["spring"], "draft thrown away: “winter”")
    );
}

#[test]
fn a_name_is_needed_and_is_given_once() {
    let one = Picture::draft("[1 2]").collection;
    let long = "x".repeat(1001);
    for (name, why) in [
        ("", Cannot::DraftNeedsName),
        (" \t", Cannot::DraftNeedsName),
        ("autumn", Cannot::DraftNameTaken),
        (" autumn ", Cannot::DraftNameTaken),
        (&long, Cannot::NameTooLong),
    ] {
        assert_eq!(begin_draft(&one, BINDER, name, false), Err(why.clone()));
        assert_eq!(copy_draft(&one, draft(0), name), Err(why.clone()));
        assert_eq!(rename_draft(&one, draft(0), name), Err(why));
    }
    assert_eq!(drop_draft(&one, draft(1)), Err(Cannot::DraftGone));
    assert_eq!(adopt(&one, draft(1)), Err(Cannot::DraftGone));
    assert_eq!(adopt(&one, Ground::real(BINDER)), Err(Cannot::IsReal));
    assert_eq!(
        begin_draft(&one, BinderId(9), "x", false),
        Err(Cannot::BinderGone)
    );
}

/// The contents stay as they are; comparing them with the new layout gives the work.
#[test]
fn an_adopted_draft_is_the_layout_and_the_cards_stay_where_they_are() {
    let binder = Picture::rings("[1 2][3 .]").collection;
    let (one, _) = done(&binder, begin_draft(&binder, BINDER, "autumn", false));
    let (from, to) = (draft(0).place(0, 0), draft(0).place(1, 1));
    let put = put_down(&one, draft(0), &[from], to, Manner::Swap).unwrap();
    let (one, _) = done(&one, Ok(put.step));
    assert_eq!(drawn(&one, Ground::real(BINDER)), "[1 2][3 .]");
    let (adopted, label) = done(&one, adopt(&one, draft(0)));
    assert_eq!(label, "draft adopted: “autumn”");
    assert_eq!(names(&adopted), Vec::<&str>::new());
    assert_eq!(drawn(&adopted, Ground::real(BINDER)), "[1! 2][3 (1)]");
}

#[test]
fn a_fixed_binder_takes_no_draft_of_other_pages() {
    let mut fixed = Picture::drafted(BinderKind::Fixed, "[1 2]").collection;
    assert!(adopt(&fixed, draft(0)).is_ok());
    // Pages come into such a draft only while the binder had rings.
    let page = ringbound::model::LayoutPage::empty(ringbound::model::PageFormat::new(1, 1, 1));
    let add = Change::InDraft {
        draft: 0,
        change: Box::new(Change::AddLayoutPage {
            binder: BINDER,
            at: 0,
            page: Box::new(page),
        }),
    };
    add.apply(&mut fixed).unwrap();
    assert_eq!(adopt(&fixed, draft(0)), Err(Cannot::FixedOtherPages));
}

/// By hand: `1` and the gap `2` are meant in the binder, `9` lies in it; the draft that begins as
/// the layout has the first two, an empty one has none.
#[test]
fn before_a_draft_is_adopted_one_can_ask_what_it_leaves_without_a_pocket() {
    let binder = Picture::rings("[1 (2)][9!4 -]").collection;
    let (one, _) = done(&binder, begin_draft(&binder, BINDER, "autumn", false));
    let (two, _) = done(&one, begin_draft(&one, BINDER, "winter", true));
    assert_eq!(left_without(&two, draft(0)), 1, "9 has no pocket now");
    assert_eq!(left_without(&two, draft(1)), 4);
    assert_eq!(left_without(&two, Ground::real(BINDER)), 0);
}

#[test]
fn a_draft_that_keeps_places_is_not_told_as_made_by_no_sections() {
    let binder = Picture::rings("[1 2][3 .]");
    let rules = Rules::from(["All: page 1x2".into()]);
    let grown = compare_growth(&binder.collection, Ground::real(BinderId(1)), &rules).unwrap();
    let label = |way: usize| {
        let made = draft_of_way(&binder.collection, BinderId(1), &grown.ways[way]);
        made.unwrap().step.label
    };
    assert_eq!(label(0), "draft made: “keep places, new ones at the end”");
    assert_eq!(label(1), "draft made by 1 section: “all in order”");
}

#[test]
fn a_long_name_of_a_template_is_cut_in_what_is_told_of_the_step() {
    let mut collection = Picture::rings("[1]").collection;
    let rules = Rules::from(["All: page 1x2".into()]);
    let name = "n".repeat(900);
    let kept = save_template(&collection, &name, &rules).unwrap();
    let short = format!("“{}…”", "n".repeat(31));
    assert_eq!(kept.label, format!("1 section kept as template {short}"));
    Change::apply_all(&kept.changes, &mut collection).unwrap();
    let gone = drop_template(&collection, &name).unwrap();
    assert_eq!(gone.label, format!("template {short} thrown away"));
}
